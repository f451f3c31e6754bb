package main

import (
	"bytes"
	"encoding/binary"
	"image"
	"image/color"
	"image/png"
	"os"
	"strings"
	"testing"
)

// Outside check: testdata/root24.xwd was made by X.Org's xwd, root24.png is
// ImageMagick's reading of it (testdata/SOURCE.md has the commands).
func TestDecodeXWDAgainstImageMagick(t *testing.T) {
	raw, err := os.ReadFile("testdata/root24.xwd")
	if err != nil {
		t.Fatal(err)
	}
	got, err := decodeXWD(raw)
	if err != nil {
		t.Fatal(err)
	}
	f, err := os.Open("testdata/root24.png")
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	want, err := png.Decode(f)
	if err != nil {
		t.Fatal(err)
	}
	if got.Bounds() != image.Rect(0, 0, 40, 30) || got.Bounds() != want.Bounds() {
		t.Fatalf("bounds %v, want %v", got.Bounds(), want.Bounds())
	}
	for y := range 30 {
		for x := range 40 {
			if g, w := got.RGBAAt(x, y), color.RGBAModel.Convert(want.At(x, y)); g != w {
				t.Fatalf("pixel %d,%d is %v, want %v", x, y, g, w)
			}
		}
	}
	// `convert xwd:root24.xwd -format '%[pixel:p{39,29}]' info:` gives srgb(0,64,192).
	if g := got.RGBAAt(39, 29); g != (color.RGBA{0, 64, 192, 255}) {
		t.Errorf("last pixel %v", g)
	}
}

// xwdOf writes a picture of one row by hand, following X11/XWDFile.h.
func xwdOf(change func(*xwdHeader), pixels ...byte) []byte {
	h := xwdHeader{HeaderSize: xwdHeaderSize + 5, FileVersion: 7, PixmapFormat: 2, PixmapDepth: 24, PixmapWidth: 2, PixmapHeight: 1,
		BitsPerPixel: 32, BytesPerLine: 8, RedMask: 0xff0000, GreenMask: 0xff00, BlueMask: 0xff}
	change(&h)
	var b bytes.Buffer
	_ = binary.Write(&b, binary.BigEndian, h)
	b.WriteString("root\x00") // the window's name
	b.Write(pixels)
	return b.Bytes()
}

// Expected colours follow from the masks and the byte order by X11/XWDFile.h.
func TestDecodeXWDLayouts(t *testing.T) {
	orange, blue := color.RGBA{255, 128, 0, 255}, color.RGBA{1, 2, 3, 255}
	tests := []struct {
		name   string
		change func(*xwdHeader)
		pixels []byte
	}{
		{"32 bits, little end first", func(*xwdHeader) {}, []byte{0, 128, 255, 9, 3, 2, 1, 9}},
		{"32 bits, big end first", func(h *xwdHeader) { h.ByteOrder = 1 }, []byte{9, 255, 128, 0, 9, 1, 2, 3}},
		{"24 bits, little end first", func(h *xwdHeader) { h.BitsPerPixel, h.BytesPerLine = 24, 8 }, []byte{0, 128, 255, 3, 2, 1, 7, 7}},
		{"24 bits, big end first", func(h *xwdHeader) { h.BitsPerPixel, h.BytesPerLine, h.ByteOrder = 24, 6, 1 }, []byte{255, 128, 0, 1, 2, 3}},
		{"red and blue swapped", func(h *xwdHeader) { h.RedMask, h.BlueMask = h.BlueMask, h.RedMask }, []byte{255, 128, 0, 9, 1, 2, 3, 9}},
		{"a colour table to skip", func(h *xwdHeader) { h.NColors = 1 }, append(make([]byte, 12), 0, 128, 255, 9, 3, 2, 1, 9)},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			img, err := decodeXWD(xwdOf(tt.change, tt.pixels...))
			if err != nil {
				t.Fatal(err)
			}
			if img.RGBAAt(0, 0) != orange || img.RGBAAt(1, 0) != blue {
				t.Errorf("pixels %v %v", img.RGBAAt(0, 0), img.RGBAAt(1, 0))
			}
		})
	}
}

func TestDecodeXWDTenBitColour(t *testing.T) {
	// 30-bit display: 0x3ff stretches to 255, 0x200 to 512*255/1023 = 127.6 -> 128, 0 to 0.
	img, err := decodeXWD(xwdOf(func(h *xwdHeader) {
		h.PixmapWidth, h.BytesPerLine, h.RedMask, h.GreenMask, h.BlueMask = 1, 4, 0x3ff00000, 0xffc00, 0x3ff
	}, binary.LittleEndian.AppendUint32(nil, 0x3ff<<20|0x200<<10)...))
	if err != nil || img.RGBAAt(0, 0) != (color.RGBA{255, 128, 0, 255}) {
		t.Errorf("%v %v", img, err)
	}
}

func TestDecodeXWDRefuses(t *testing.T) {
	row := make([]byte, 8)
	tests := []struct {
		name string
		data []byte
		want string
	}{
		{"nothing", nil, "too short"},
		{"another file", bytes.Repeat([]byte("GIF89a"), 40), "version"},
		{"cut off", xwdOf(func(*xwdHeader) {}, row[:7]...), "cut off"},
		{"more colours than bytes", xwdOf(func(h *xwdHeader) { h.NColors = 1 << 31 }, row...), "cut off"},
		{"more lines than bytes", xwdOf(func(h *xwdHeader) { h.PixmapHeight = 9999 }, row...), "cut off"},
		{"8 bits a pixel", xwdOf(func(h *xwdHeader) { h.BitsPerPixel = 8 }, row...), "24 bits deep"},
		{"planes", xwdOf(func(h *xwdHeader) { h.PixmapFormat = 1 }, row...), "format 1"},
		{"no width", xwdOf(func(h *xwdHeader) { h.PixmapWidth = 0 }, row...), "not possible"},
		{"huge", xwdOf(func(h *xwdHeader) { h.PixmapWidth = 1 << 30 }, row...), "not possible"},
		{"short lines", xwdOf(func(h *xwdHeader) { h.BytesPerLine = 7 }, row...), "shorter"},
		{"no masks", xwdOf(func(h *xwdHeader) { h.GreenMask = 0 }, row...), "true colour"},
		{"header in the header", xwdOf(func(h *xwdHeader) { h.HeaderSize = 4 }, row...), "cut off"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			if _, err := decodeXWD(tt.data); err == nil || !strings.Contains(err.Error(), tt.want) {
				t.Errorf("error %v, want one about %q", err, tt.want)
			}
		})
	}
}

func FuzzDecodeXWD(f *testing.F) {
	raw, err := os.ReadFile("testdata/root24.xwd")
	if err != nil {
		f.Fatal(err)
	}
	f.Add(raw)
	f.Add(xwdOf(func(h *xwdHeader) { h.BitsPerPixel, h.BytesPerLine = 24, 6 }, 1, 2, 3, 4, 5, 6))
	f.Fuzz(func(t *testing.T, data []byte) {
		img, err := decodeXWD(data)
		if err == nil && (img.Rect.Empty() || len(data) < img.Rect.Dx()*img.Rect.Dy()*3) {
			t.Errorf("%v made of %d bytes", img.Rect, len(data))
		}
	})
}
