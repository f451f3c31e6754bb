package media

import (
	"bytes"
	"encoding/binary"
	"fmt"
	"image"
	"image/jpeg"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"testing"
)

// scene renders a shiny tube with scratches before a textured bench, with the
// noise of a small sensor: about as many bytes as a phone's photo.
func scene(w, h int, seed uint64) *image.YCbCr {
	r := rand.New(rand.NewPCG(seed, 7))
	img := image.NewYCbCr(image.Rect(0, 0, w, h), image.YCbCrSubsampleRatio420)
	noise := make([]float64, 1<<16)
	for i := range noise {
		noise[i] = r.NormFloat64() * 3
	}
	radius := float64(h) / 6
	for y := range h {
		across := (float64(y) - float64(h)/2) / radius
		for x := range w {
			v := 90 + 25*math.Sin(float64(x)/9)*math.Sin(float64(y)/7) + 20*math.Sin(float64(x+2*y)/61) // bench
			if math.Abs(across) < 1 {
				light := math.Sqrt(1 - across*across)
				v = 50 + 130*light + 60*math.Exp(-40*(across+0.3)*(across+0.3))
				if (x*7+y*3)%397 < 2 { // fine scratches
					v += 35
				}
			}
			v += noise[(x*31+y*17+int(r.Uint32()&1023))&0xffff]
			img.Y[y*img.YStride+x] = byte(max(0, min(255, v)))
		}
	}
	for y := range (h + 1) / 2 {
		for x := range (w + 1) / 2 {
			img.Cb[y*img.CStride+x] = byte(124 + 6*math.Sin(float64(x)/80))
			img.Cr[y*img.CStride+x] = byte(132 + 5*math.Sin(float64(y)/50))
		}
	}
	return img
}

// withEXIF puts a camera's EXIF segment, with a thumbnail, before a JPEG.
func withEXIF(picture, thumbnail []byte, subsec string) []byte {
	le := binary.LittleEndian
	var tiff bytes.Buffer
	tiff.WriteString("II*\x00\x08\x00\x00\x00")
	type tag struct {
		id, kind uint16
		n        uint32
		data     []byte
	}
	text := func(id uint16, s string) tag { return tag{id, 2, uint32(len(s) + 1), append([]byte(s), 0)} }
	long := func(id uint16, v uint32) tag { return tag{id, 4, 1, le.AppendUint32(nil, v)} }
	write := func(tags []tag, next uint32) {
		at := uint32(tiff.Len())
		extra := at + 2 + 12*uint32(len(tags)) + 4
		var values bytes.Buffer
		_ = binary.Write(&tiff, le, uint16(len(tags)))
		for _, t := range tags {
			_ = binary.Write(&tiff, le, []uint16{t.id, t.kind})
			_ = binary.Write(&tiff, le, t.n)
			if len(t.data) <= 4 {
				tiff.Write(append(t.data, 0, 0, 0, 0)[:4])
				continue
			}
			_ = binary.Write(&tiff, le, extra+uint32(values.Len()))
			values.Write(t.data)
		}
		_ = binary.Write(&tiff, le, next)
		tiff.Write(values.Bytes())
	}
	main := []tag{text(0x010F, "Bench"), text(0x0110, "Twelve"), {0x0112, 3, 1, []byte{1, 0}}, long(0x8769, 0)}
	size := func(tags []tag) (n uint32) {
		n = 2 + 12*uint32(len(tags)) + 4
		for _, t := range tags {
			if len(t.data) > 4 {
				n += uint32(len(t.data))
			}
		}
		return n
	}
	sub := []tag{text(0x9003, "2026:11:02 09:30:00"), text(0x9011, "+01:00"), text(0x9291, subsec), {0xA405, 3, 1, []byte{26, 0}}}
	main[3] = long(0x8769, 8+size(main))
	ifd1 := 8 + size(main) + size(sub)
	write(main, ifd1)
	write(sub, 0)
	thumb := []tag{long(0x0201, 0), long(0x0202, uint32(len(thumbnail)))}
	thumb[0] = long(0x0201, ifd1+size(thumb))
	write(thumb, 0)
	tiff.Write(thumbnail)
	body := append([]byte("Exif\x00\x00"), tiff.Bytes()...)
	out := append([]byte{0xFF, 0xD8, 0xFF, 0xE1, byte((len(body) + 2) >> 8), byte(len(body) + 2)}, body...)
	return append(out, picture[2:]...)
}

// encoded renders a scene as a camera would keep it.
func encoded(t testing.TB, w, h int, seed uint64) (picture, thumbnail []byte) {
	t.Helper()
	var full, small bytes.Buffer
	img := scene(w, h, seed)
	tiny := image.NewGray(image.Rect(0, 0, 160, 120))
	for i := range tiny.Pix {
		tiny.Pix[i] = img.Y[(i/160*h/120)*img.YStride+i%160*w/160]
	}
	if err := jpeg.Encode(&full, img, &jpeg.Options{Quality: 90}); err != nil {
		t.Fatal(err)
	}
	if err := jpeg.Encode(&small, tiny, &jpeg.Options{Quality: 75}); err != nil {
		t.Fatal(err)
	}
	return full.Bytes(), small.Bytes()
}

// shots writes n photos of w x h pixels, each of its own bytes, into a folder.
func shots(t testing.TB, n, w, h int) string {
	t.Helper()
	dir := t.TempDir()
	var pictures, thumbs [][]byte
	for i := range min(n, 4) {
		p, s := encoded(t, w, h, uint64(i))
		pictures, thumbs = append(pictures, p), append(thumbs, s)
	}
	for i := range n {
		data := withEXIF(pictures[i%len(pictures)], thumbs[i%len(thumbs)], fmt.Sprintf("%03d", i))
		if err := os.WriteFile(filepath.Join(dir, fmt.Sprintf("IMG_%04d.jpg", i)), data, 0o600); err != nil {
			t.Fatal(err)
		}
	}
	return dir
}
