package decode

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"image"
	"image/draw"
	"image/jpeg"
	"image/png"
	"io"
	"time"

	"golang.org/x/image/tiff"
	"golang.org/x/image/webp"
	"golang.org/x/sync/semaphore"

	"forkwear/media/baseline"
	"forkwear/media/format"
)

// The limits of what is decoded.
const (
	MaxPixels = 120_000_000 // 120 megapixels
	MaxBytes  = 100 << 20   // 100 MB of file

	// MaxTime for one picture. A file of the largest size needs a few seconds;
	// one made up of thousands of layers that each cover the whole picture
	// could need hours.
	MaxTime = 60 * time.Second
)

// The errors that a caller can act upon; those returned wrap one of them.
var (
	// ErrTooLarge: more than MaxPixels or MaxBytes.
	ErrTooLarge = errors.New("the picture is too large")
	// ErrTooSlow: more than MaxTime.
	ErrTooSlow = errors.New("the picture takes too long to read")
	// ErrNoDecoder: a HEIC or AVIF file, which this version cannot turn into pixels.
	ErrNoDecoder = errors.New("this version cannot show HEIC or AVIF pictures")
	// ErrNotPhoto: the bytes are those of no known picture format.
	ErrNotPhoto = errors.New("the file is not a photo")
	// ErrKind: a sound file in a variety of its format that is not read here, such
	// as an animation or a camera's raw data inside a TIFF.
	ErrKind = errors.New("the picture is of a kind that cannot be read here")
	// ErrDamaged: the file begins like a picture and is broken further on.
	ErrDamaged = errors.New("the picture is damaged")
)

// room is shared by all decodings: MaxPixels at the same time, so that one
// picture of the largest size runs alone and small ones run side by side.
var room = semaphore.NewWeighted(MaxPixels)

// Picture is a decoded photo, not yet turned.
type Picture struct {
	Image       image.Image // as stored; of a JPEG *image.YCbCr or *image.Gray mostly
	Format      format.Format
	Orientation int // 1-8
}

// StoredSize gives width and height before turning.
func (p *Picture) StoredSize() (width, height int) {
	b := p.Image.Bounds()
	return b.Dx(), b.Dy()
}

// Config gives format and stored size in pixels without decoding. It checks
// the limits of Decode.
func Config(data []byte) (f format.Format, width, height int, err error) {
	f = format.Sniff(data[:min(len(data), format.SniffLen)])
	if len(data) > MaxBytes {
		return f, 0, 0, fmt.Errorf("%w: %d MB, and at most 100 MB can be read; save it smaller", ErrTooLarge, len(data)>>20)
	}
	var c image.Config
	switch r := bytes.NewReader(data); f {
	case format.JPEG:
		c, err = jpeg.DecodeConfig(r)
	case format.PNG:
		c, err = png.DecodeConfig(r)
	case format.WebP:
		c, err = webp.DecodeConfig(r)
	case format.TIFF:
		c, err = tiffConfig(r)
	case format.HEIC, format.AVIF:
		return f, 0, 0, fmt.Errorf("%w: set the phone to save JPEG (\"most compatible\"), or convert the photo to JPEG", ErrNoDecoder)
	default:
		return f, 0, 0, fmt.Errorf("%w: its content is not JPEG, PNG, WebP, TIFF or HEIC", ErrNotPhoto)
	}
	switch {
	case err != nil:
		return f, 0, 0, failed(f, data, err)
	case c.Width <= 0 || c.Height <= 0:
		return f, 0, 0, damaged(f, errors.New("it has no pixels"))
	case int64(c.Width)*int64(c.Height) > MaxPixels:
		return f, c.Width, c.Height, fmt.Errorf("%w: %d x %d pixels, and at most 120 megapixels can be read; save it smaller", ErrTooLarge, c.Width, c.Height)
	}
	return f, c.Width, c.Height, nil
}

// Decode reads a photo's pixels. orientation is EXIF's; anything outside 1-8
// counts as 1. It waits until there is room beside the decodings under way,
// and stops soon after ctx is cancelled.
func Decode(ctx context.Context, data []byte, orientation int) (*Picture, error) {
	return decodeWithin(ctx, data, orientation, MaxTime)
}

func decodeWithin(ctx context.Context, data []byte, orientation int, limit time.Duration) (*Picture, error) {
	f, w, h, err := Config(data)
	if err != nil {
		return nil, err
	}
	if err := room.Acquire(ctx, int64(w)*int64(h)); err != nil {
		return nil, err
	}
	defer room.Release(int64(w) * int64(h))
	timed, stop := context.WithTimeout(ctx, limit)
	defer stop()
	img, err := decodeAs(timed, f, data)
	if ctx.Err() != nil {
		return nil, ctx.Err()
	}
	if timed.Err() != nil && err != nil {
		return nil, fmt.Errorf("%w: this %s file was given up after %v; save it anew with another program", ErrTooSlow, f.Name(), limit)
	}
	if err != nil {
		return nil, failed(f, data, err)
	}
	if b := img.Bounds(); b.Dx() != w || b.Dy() != h {
		return nil, damaged(f, errors.New("its size is stated twice and differently"))
	}
	if p, ok := img.(*image.Paletted); ok {
		if img, err = withoutPalette(p); err != nil {
			return nil, damaged(f, err)
		}
	}
	if orientation < 1 || orientation > 8 {
		orientation = 1
	}
	return &Picture{img, f, orientation}, nil
}

// decodeAs calls the format's decoder; a panic in it is an error like others.
func decodeAs(ctx context.Context, f format.Format, data []byte) (img image.Image, err error) {
	defer func() {
		if p := recover(); p != nil {
			img, err = nil, fmt.Errorf("the decoder stopped: %v", p)
		}
	}()
	r := &cancelReader{ctx, bytes.NewReader(data)}
	switch f {
	case format.JPEG:
		if img, err := baseline.Decode(ctx, data); !errors.Is(err, baseline.ErrOther) {
			return img, err
		}
		return jpeg.Decode(r)
	case format.PNG:
		return png.Decode(r)
	case format.WebP:
		return webp.Decode(r)
	default:
		return tiff.Decode(r)
	}
}

func tiffConfig(r io.Reader) (c image.Config, err error) {
	defer func() {
		if p := recover(); p != nil {
			err = fmt.Errorf("the decoder stopped: %v", p)
		}
	}()
	return tiff.DecodeConfig(r)
}

// failed tells a variety that is not read here from a broken file: the first is
// to be saved anew, the second to be copied again.
func failed(f format.Format, data []byte, err error) error {
	reason := ""
	var inTIFF tiff.UnsupportedError
	var inPNG png.UnsupportedError
	var inJPEG jpeg.UnsupportedError
	switch {
	case errors.As(err, &inTIFF):
		reason = string(inTIFF)
	case errors.As(err, &inPNG):
		reason = string(inPNG)
	case errors.As(err, &inJPEG) && inJPEG != "unknown marker": // that one is damage
		reason = string(inJPEG)
	case f == format.WebP && animated(data):
		reason = "an animation"
	default:
		return damaged(f, err)
	}
	return fmt.Errorf("%w: this %s file holds %s; save it as JPEG with another program", ErrKind, f.Name(), reason)
}

// animated looks at the flag for it in a WebP's VP8X chunk (WebP container
// specification, extended file format).
func animated(data []byte) bool {
	return len(data) > 20 && string(data[12:16]) == "VP8X" && data[20]&0x02 != 0
}

func damaged(f format.Format, err error) error {
	reason := err.Error()
	if errors.Is(err, io.EOF) || errors.Is(err, io.ErrUnexpectedEOF) {
		reason = "it ends too early"
	}
	return fmt.Errorf("%w: this %s file cannot be read (%s); copy it again from the camera", ErrDamaged, f.Name(), reason)
}

// withoutPalette makes full colours of a paletted picture. An index beyond the
// palette would make the resizing library panic in a goroutine of its own,
// where nothing can catch it, so indices are checked first.
func withoutPalette(p *image.Paletted) (image.Image, error) {
	b := p.Bounds()
	for y := b.Min.Y; y < b.Max.Y; y++ {
		row := p.Pix[p.PixOffset(b.Min.X, y):][:b.Dx()]
		for _, i := range row {
			if int(i) >= len(p.Palette) {
				return nil, fmt.Errorf("a pixel has colour %d of %d", i, len(p.Palette))
			}
		}
	}
	out := image.NewNRGBA(b)
	draw.Draw(out, b, p, b.Min, draw.Src)
	return out, nil
}

// cancelReader ends a decoding whose context is done. It also reads at
// offsets, so that the TIFF decoder does not copy the file.
type cancelReader struct {
	ctx context.Context
	r   *bytes.Reader
}

func (c *cancelReader) Read(p []byte) (int, error) {
	if err := c.ctx.Err(); err != nil {
		return 0, err
	}
	return c.r.Read(p)
}

func (c *cancelReader) ReadAt(p []byte, off int64) (int, error) {
	if err := c.ctx.Err(); err != nil {
		return 0, err
	}
	return c.r.ReadAt(p, off)
}
