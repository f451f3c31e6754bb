package scratch

import (
	"bytes"
	"errors"
	"fmt"
	"image"
	"image/png"
)

// EncodePNG is the mask as a grey PNG of the size of its rectangle: 0 sound,
// 255 damaged, the levels between them are kept.
func (m *Mask) EncodePNG() ([]byte, error) {
	var b bytes.Buffer
	err := png.Encode(&b, &image.Gray{Pix: m.level, Stride: m.rect.Dx(), Rect: image.Rect(0, 0, m.rect.Dx(), m.rect.Dy())})
	return b.Bytes(), err
}

// maxPNG bounds the bytes of a kept mask: 4 megapixels that do not compress.
const maxPNG = MaxPixels + MaxPixels/8 + 1<<16

// DecodePNG reads a mask kept by EncodePNG back over the rectangle r. It
// refuses what is no PNG, what has another size than r, and what is too large,
// before it takes memory for the pixels. A PNG in colour is read by its
// brightness.
func DecodePNG(data []byte, r image.Rectangle) (*Mask, error) {
	if len(data) > maxPNG {
		return nil, fmt.Errorf("the kept mask has %d bytes, which is too many for a mask: mark the damage again", len(data))
	}
	c, err := png.DecodeConfig(bytes.NewReader(data))
	if err != nil {
		return nil, fmt.Errorf("the kept mask cannot be read, mark the damage again: %w", err)
	}
	m, err := New(r)
	if err != nil {
		return nil, err
	}
	if c.Width != r.Dx() || c.Height != r.Dy() {
		return nil, fmt.Errorf("the kept mask has %d x %d pixels, but its window %d x %d: mark the damage again", c.Width, c.Height, r.Dx(), r.Dy())
	}
	img, err := png.Decode(bytes.NewReader(data))
	if err != nil {
		return nil, fmt.Errorf("the kept mask cannot be read, mark the damage again: %w", err)
	}
	if img.Bounds() != image.Rect(0, 0, c.Width, c.Height) {
		return nil, errors.New("the kept mask cannot be read, its size is not the one it states: mark the damage again")
	}
	if p, ok := img.(*image.Paletted); ok && !sound(p) {
		return nil, errors.New("the kept mask cannot be read, it has colours outside its own palette: mark the damage again")
	}
	p := greyPlane(img, img.Bounds())
	for i, v := range p.v {
		m.level[i] = uint8(v + 0.5)
	}
	return m, nil
}

// sound tells whether all pixels have a colour of the palette.
func sound(p *image.Paletted) bool {
	for _, i := range p.Pix {
		if int(i) >= len(p.Palette) {
			return false
		}
	}
	return true
}
