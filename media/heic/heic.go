package heic

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"image"
	"image/draw"
	"image/jpeg"
	"strings"

	"github.com/gen2brain/heic"

	"forkwear/media/exif"
	"forkwear/media/format"
)

// The limits of what is converted.
const (
	MaxPixels = 120_000_000 // 120 megapixels
	MaxBytes  = 100 << 20   // 100 MB of file
	Quality   = 92          // JPEG quality of the working copy
)

// The errors that a caller can act upon; those returned wrap one of them.
var (
	// ErrDamaged: the file begins like HEIC and cannot be read.
	ErrDamaged = errors.New("the picture is damaged")
	// ErrTooLarge: more pixels, bytes or memory than allowed.
	ErrTooLarge = errors.New("the picture is too large")
	// ErrTooSlow: not done within the time allowed.
	ErrTooSlow = errors.New("the picture takes too long to read")
	// ErrNoChild: the second process cannot be started, so HEIC cannot be shown.
	ErrNoChild = errors.New("the HEIC converter cannot be started")
	// ErrNotHEIC: the bytes are of another format. AVIF too: the reader knows
	// its container and not its codec.
	ErrNotHEIC = errors.New("the file is not HEIC")
)

// Decoder makes a working copy of a HEIC file: an upright JPEG of the whole
// picture, without camera data.
type Decoder interface {
	JPEG(ctx context.Context, data []byte) ([]byte, error)
}

// Direct decodes inside the process it is used in, without limits of time and
// memory.
type Direct struct{}

// JPEG implements Decoder. It does not stop when ctx is cancelled on its way.
func (Direct) JPEG(ctx context.Context, data []byte) ([]byte, error) {
	if err := ctx.Err(); err != nil {
		return nil, err
	}
	return convert(data)
}

// Native tells whether a libheif of the system is used in place of the built-in
// reader.
func Native() bool { return heic.Dynamic() == nil }

// check refuses what need not be tried.
func check(data []byte) error {
	if f := format.Sniff(data[:min(len(data), format.SniffLen)]); f != format.HEIC {
		return fmt.Errorf("%w: its content is %s", ErrNotHEIC, f.Name())
	}
	if len(data) > MaxBytes {
		return fmt.Errorf("%w: %d MB, and at most 100 MB can be read; save it smaller", ErrTooLarge, len(data)>>20)
	}
	info, _ := exif.Read(bytes.NewReader(data), int64(len(data))) // only for the size
	switch {
	case info.Width <= 0 || info.Height <= 0:
		return damaged(errors.New("it does not say how large its picture is"))
	case int64(info.Width)*int64(info.Height) > MaxPixels:
		return fmt.Errorf("%w: %d x %d pixels, and at most 120 megapixels can be read; save it smaller", ErrTooLarge, info.Width, info.Height)
	}
	return nil
}

func convert(data []byte) ([]byte, error) {
	if err := check(data); err != nil {
		return nil, err
	}
	img, err := decode(asHEIC(data))
	if err != nil {
		return nil, damaged(err)
	}
	if b := img.Bounds(); b.Empty() || int64(b.Dx())*int64(b.Dy()) > MaxPixels {
		return nil, damaged(errors.New("its size is stated twice and differently"))
	}
	var out bytes.Buffer
	if err := jpeg.Encode(&out, opaque(img), &jpeg.Options{Quality: Quality}); err != nil {
		return nil, fmt.Errorf("encode the working copy: %w", err)
	}
	return out.Bytes(), nil
}

// decode calls the reader; a panic in it is an error like others.
func decode(data []byte) (img image.Image, err error) {
	defer func() {
		if p := recover(); p != nil {
			img, err = nil, fmt.Errorf("the reader stopped: %v", p)
		}
	}()
	return heic.Decode(bytes.NewReader(data))
}

// asHEIC puts the codec's brand in front. Some phones name a general brand
// first (mif1, msf1) and HEIC's only in the list behind it, and the reader
// looks at the first alone. The picture's own bytes stay as they are.
func asHEIC(data []byte) []byte {
	if len(data) < 12 || string(data[8:12]) != "mif1" && string(data[8:12]) != "msf1" {
		return data
	}
	out := bytes.Clone(data)
	copy(out[8:], "heic")
	return out
}

// opaque shows white through transparent places: a JPEG has none.
func opaque(img image.Image) image.Image {
	switch img.(type) {
	case *image.YCbCr, *image.Gray:
		return img
	}
	b := img.Bounds()
	out := image.NewRGBA(image.Rect(0, 0, b.Dx(), b.Dy()))
	draw.Draw(out, out.Rect, image.White, image.Point{}, draw.Src)
	draw.Draw(out, out.Rect, img, b.Min, draw.Over)
	return out
}

// damaged keeps the first line of the reader's words: a trace of its inside may
// follow, which says nothing to anybody.
func damaged(err error) error {
	first, _, _ := strings.Cut(err.Error(), "\n")
	return fmt.Errorf("%w: this HEIC file cannot be read (%.200s); copy it again from the phone", ErrDamaged, first)
}
