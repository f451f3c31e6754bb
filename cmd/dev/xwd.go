package main

import (
	"encoding/binary"
	"errors"
	"fmt"
	"image"
	"math/bits"
)

// xwdHeader is the fixed part of an XWD file, version 7, in the order of
// X11/XWDFile.h; every field is four bytes, big end first.
type xwdHeader struct {
	HeaderSize, FileVersion, PixmapFormat, PixmapDepth  uint32
	PixmapWidth, PixmapHeight, XOffset                  uint32
	ByteOrder, BitmapUnit, BitmapBitOrder, BitmapPad    uint32
	BitsPerPixel, BytesPerLine, VisualClass             uint32
	RedMask, GreenMask, BlueMask                        uint32
	BitsPerRGB, ColormapEntries, NColors                uint32
	WindowWidth, WindowHeight, WindowX, WindowY, Border uint32
}

const (
	xwdHeaderSize = 25 * 4
	xwdColorSize  = 12 // one entry of the colour table: pixel, r, g, b, flags
	xwdZPixmap    = 2
	xwdMaxSide    = 16384
)

// decodeXWD reads a picture that xwd made of a true-colour window: version 7,
// ZPixmap, 24 or 32 bits a pixel. Each colour is cut out by its mask and
// stretched to 8 bits; there is no transparency.
//
// Source: X11/XWDFile.h and xwd(1) of X.Org. It refuses everything else, and
// every header that promises more bytes than there are, without panicking.
func decodeXWD(data []byte) (*image.RGBA, error) {
	h, pixels, err := xwdParts(data)
	if err != nil {
		return nil, err
	}
	var order binary.ByteOrder = binary.LittleEndian
	if h.ByteOrder == 1 {
		order = binary.BigEndian
	}
	width, height := int(h.PixmapWidth), int(h.PixmapHeight)
	img := image.NewRGBA(image.Rect(0, 0, width, height))
	step := int(h.BitsPerPixel / 8)
	r, g, b := newMask(h.RedMask), newMask(h.GreenMask), newMask(h.BlueMask)
	for y := range height {
		line := pixels[y*int(h.BytesPerLine):]
		out := img.Pix[y*img.Stride:]
		for x := range width {
			p := pixel(line[x*step:], step, order)
			out[4*x], out[4*x+1], out[4*x+2], out[4*x+3] = r.cut(p), g.cut(p), b.cut(p), 255
		}
	}
	return img, nil
}

// xwdParts checks the header and gives it with the pixel bytes.
func xwdParts(data []byte) (h xwdHeader, pixels []byte, err error) {
	if len(data) < xwdHeaderSize {
		return h, nil, errors.New("not an XWD picture: too short")
	}
	if _, err := binary.Decode(data, binary.BigEndian, &h); err != nil {
		return h, nil, err
	}
	switch {
	case h.FileVersion != 7:
		return h, nil, fmt.Errorf("not an XWD picture of version 7 but %d", h.FileVersion)
	case h.PixmapFormat != xwdZPixmap || (h.BitsPerPixel != 24 && h.BitsPerPixel != 32):
		return h, nil, fmt.Errorf("XWD format %d with %d bits a pixel is not read here; the display must be 24 bits deep",
			h.PixmapFormat, h.BitsPerPixel)
	case h.PixmapWidth == 0 || h.PixmapHeight == 0 || h.PixmapWidth > xwdMaxSide || h.PixmapHeight > xwdMaxSide:
		return h, nil, fmt.Errorf("an XWD picture of %d by %d pixels is not possible", h.PixmapWidth, h.PixmapHeight)
	case h.RedMask == 0 || h.GreenMask == 0 || h.BlueMask == 0:
		return h, nil, errors.New("the XWD picture is not true colour: a colour mask is empty")
	case h.BytesPerLine < h.PixmapWidth*h.BitsPerPixel/8:
		return h, nil, errors.New("the XWD picture's lines are shorter than its width")
	}
	start := uint64(h.HeaderSize) + uint64(h.NColors)*xwdColorSize
	end := start + uint64(h.BytesPerLine)*uint64(h.PixmapHeight)
	if h.HeaderSize < xwdHeaderSize || end > uint64(len(data)) {
		return h, nil, fmt.Errorf("the XWD picture is cut off: %d bytes of %d", len(data), end)
	}
	return h, data[start:end], nil
}

// pixel reads 3 or 4 bytes as one number.
func pixel(b []byte, step int, order binary.ByteOrder) uint32 {
	if step == 4 {
		return order.Uint32(b)
	}
	if order == binary.BigEndian {
		return uint32(b[0])<<16 | uint32(b[1])<<8 | uint32(b[2])
	}
	return uint32(b[2])<<16 | uint32(b[1])<<8 | uint32(b[0])
}

// mask cuts one colour out of a pixel.
type mask struct {
	bits  uint32
	shift int
	top   uint64
}

func newMask(m uint32) mask {
	shift := bits.TrailingZeros32(m)
	return mask{m, shift, uint64(m >> shift)}
}

// cut gives the colour as round(255 value / top).
func (m mask) cut(p uint32) uint8 {
	v := uint64((p & m.bits) >> m.shift)
	return uint8((v*255 + m.top/2) / m.top)
}
