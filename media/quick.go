package media

import (
	"bufio"
	"context"
	"fmt"
	"image"
	"image/draw"
	"image/jpeg"
	"io"
	"math"
	"os"

	"forkwear/media/decode"
	"forkwear/media/exif"
	"forkwear/media/format"
)

// Glance is what a photo file tells within milliseconds, before it is taken in.
type Glance struct {
	Format   string
	WallTime string      // by the camera's clock, empty when not stated
	Picture  *image.RGBA // the camera's own small picture, upright; nil when there is none
}

// Quick looks at a photo file without reading it all: for showing many files at
// once while they are being taken in. Picture is a placeholder: a program that
// edited the photo may have left the old one in it. A file without a small
// picture is no error; one that is no photo is.
func Quick(ctx context.Context, path string) (Glance, error) {
	st, err := os.Stat(path)
	if err != nil {
		return Glance{}, fmt.Errorf("look at %s: %w", path, err)
	}
	if !st.Mode().IsRegular() { // opening a pipe would wait for somebody to write into it
		return Glance{}, fmt.Errorf("look at %s: %w: it is a folder or a device", path, decode.ErrNotPhoto)
	}
	f, err := os.Open(path)
	if err != nil {
		return Glance{}, fmt.Errorf("look at %s: %w", path, err)
	}
	defer f.Close()
	head := make([]byte, format.SniffLen)
	n, _ := f.ReadAt(head, 0)
	kind := format.Sniff(head[:n])
	if kind == format.Unknown {
		return Glance{}, fmt.Errorf("look at %s: %w: its content is not JPEG, PNG, WebP, TIFF or HEIC", path, decode.ErrNotPhoto)
	}
	info, _ := exif.Read(f, st.Size())
	g := Glance{Format: string(kind), WallTime: info.WallTime}
	if len(info.Thumbnail) == 0 {
		return g, nil
	}
	pic, err := decode.Decode(ctx, info.Thumbnail, info.Orientation)
	if err != nil {
		return g, ctx.Err() // a broken thumbnail is none
	}
	w, h := info.Width, info.Height
	if kind == format.JPEG {
		if c, err := jpeg.DecodeConfig(bufio.NewReader(io.NewSectionReader(f, 0, st.Size()))); err == nil {
			w, h = c.Width, c.Height
		}
	}
	pic.Image = withoutBars(pic.Image, w, h)
	g.Picture = pic.Upright()
	return g, nil
}

// withoutBars cuts the black bars off that cameras put around a small picture
// whose sides do not go like those of the w x h photo.
func withoutBars(img image.Image, w, h int) image.Image {
	b := img.Bounds()
	if w <= 0 || h <= 0 || b.Empty() {
		return img
	}
	want := b
	if width := int(math.Round(float64(b.Dy()) * float64(w) / float64(h))); width < b.Dx() {
		want.Min.X += (b.Dx() - width) / 2
		want.Max.X = want.Min.X + max(1, width)
	} else if height := int(math.Round(float64(b.Dx()) * float64(h) / float64(w))); height < b.Dy() {
		want.Min.Y += (b.Dy() - height) / 2
		want.Max.Y = want.Min.Y + max(1, height)
	}
	if b.Dx()-want.Dx() < 3 && b.Dy()-want.Dy() < 3 { // rounding
		return img
	}
	out := image.NewRGBA(image.Rect(0, 0, want.Dx(), want.Dy()))
	draw.Draw(out, out.Rect, img, want.Min, draw.Src)
	return out
}
