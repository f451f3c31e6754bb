package media

import (
	"bytes"
	"context"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"image"

	"golang.org/x/sync/semaphore"

	"forkwear/media/decode"
	"forkwear/media/exif"
	"forkwear/media/format"
	"forkwear/media/heic"
	"forkwear/media/quality"
	"forkwear/media/scale"
	"forkwear/media/vault"
)

// reading is what came out of one file: the facts, the pictures in the sizes
// asked for, and a working copy where one had to be made.
type reading struct {
	photo    Photo
	previews []decode.Preview
	working  []byte // JPEG of a HEIC file; nil for other formats
}

// atOnce bounds the pixels that all readings under way hold together, however
// many cores take photos in: a picture stays in memory until it is judged and
// its previews are made.
var atOnce = semaphore.NewWeighted(decode.MaxPixels)

// Read tells what the photo file at path says about itself, with the pixels of
// HEIC where the Importer has a decoder; the vault is not touched. See the
// function Read.
func (im Importer) Read(ctx context.Context, path string) (Photo, error) {
	data, err := vault.Load(ctx, path)
	if err != nil {
		return Photo{}, err
	}
	r, err := im.read(ctx, data, sumOf(data), nil)
	if err != nil {
		return Photo{}, fmt.Errorf("read the photo %s: %w", path, err)
	}
	return r.photo, nil
}

func sumOf(data []byte) string {
	sum := sha256.Sum256(data)
	return hex.EncodeToString(sum[:])
}

// read takes a file's bytes apart: camera data, pixels, quality and previews of
// the sizes from one decoding.
func (im Importer) read(ctx context.Context, data []byte, sum string, sizes []int) (reading, error) {
	r := reading{photo: Photo{SHA256: sum, Bytes: int64(len(data))}}
	p := &r.photo
	f := format.Sniff(data[:min(len(data), format.SniffLen)])
	if f == format.Unknown {
		return r, fmt.Errorf("%w: its content is not JPEG, PNG, WebP, TIFF or HEIC", vault.ErrNotPhoto)
	}
	if f == format.WebP && !format.Complete(bytes.NewReader(data), int64(len(data))) {
		// the picture comes first and may be whole, but the date behind it is lost
		return r, fmt.Errorf("%w: this WebP file ends too early; copy it again from the camera", decode.ErrDamaged)
	}
	p.Format = string(f)
	info, _ := exif.Read(bytes.NewReader(data), int64(len(data))) // no EXIF is no fault of a photo
	p.fill(info, im.Zone)
	orientation := info.Orientation
	if f == format.HEIC || f == format.AVIF {
		var why string
		var err error
		if r.working, why, err = im.workingCopy(ctx, sum, data); err != nil {
			return r, err
		}
		if r.working == nil {
			return r, p.withoutPixels(info, why)
		}
		data, orientation = r.working, 1 // the reader of HEIC has turned the pixels already
	}
	_, w, h, err := decode.Config(data)
	if err != nil {
		return r, err
	}
	if err := atOnce.Acquire(ctx, int64(w)*int64(h)); err != nil {
		return r, err
	}
	defer atOnce.Release(int64(w) * int64(h))
	pic, err := decode.Decode(ctx, data, orientation)
	if err != nil {
		return r, err
	}
	p.PixelsRead = true
	p.Width, p.Height = pic.StoredSize()
	if r.working != nil && p.Orientation >= 5 {
		p.Width, p.Height = p.Height, p.Width
	}
	report := quality.AssessFor(pic.Image, im.Subject)
	p.Sharpness, p.Usable = report.Sharpness, report.Usable
	p.Remarks = append(p.Remarks, report.Remarks...)
	if r.previews, err = pic.Previews(ctx, sizes...); err == nil {
		im.look(ctx, p, r.previews)
	}
	return r, err
}

// workingCopy converts HEIC, or gives the copy made earlier. Without one it
// says why; only a file that was cut off is an error, because it can be copied
// again. Anything else the person may still want as evidence.
func (im Importer) workingCopy(ctx context.Context, sum string, data []byte) (jpeg []byte, why string, err error) {
	if im.Vault != nil {
		if jpeg, ok := im.Vault.WorkingCopy(sum); ok {
			return jpeg, "", nil
		}
	}
	if im.HEIC == nil || format.Sniff(data) == format.AVIF {
		return nil, "", nil
	}
	jpeg, err = im.HEIC.JPEG(ctx, data)
	switch {
	case err == nil:
		return jpeg, "", nil
	case ctx.Err() != nil:
		return nil, "", ctx.Err()
	case errors.Is(err, heic.ErrDamaged) && !format.Complete(bytes.NewReader(data), int64(len(data))):
		return nil, "", fmt.Errorf("%w: this HEIC file ends too early; copy it again from the phone", decode.ErrDamaged)
	}
	return nil, err.Error(), nil
}

// withoutPixels makes the facts of a file whose picture cannot be read.
func (p *Photo) withoutPixels(info exif.Info, why string) error {
	name := format.Format(p.Format).Name()
	p.Width, p.Height = info.Width, info.Height
	if p.Width == 0 || p.Height == 0 {
		return fmt.Errorf("this %s file is damaged: it does not say how large its picture is", name)
	}
	if why != "" {
		p.Remarks = append(p.Remarks, "The picture is "+name+" and could not be shown or measured ("+why+"); it is kept as it is.")
		return nil
	}
	p.Remarks = append(p.Remarks, "The picture is "+name+
		", which this version cannot show or measure; it is kept as it is. Set the phone to save JPEG (\"most compatible\"), or convert the photo to JPEG.")
	return nil
}

// look takes the fingerprint and looks for a card, on the previews.
func (im Importer) look(ctx context.Context, p *Photo, previews []decode.Preview) {
	var small, large image.Image
	for _, pv := range previews {
		switch pv.Size {
		case PreviewSmall:
			small = pv.Image
		case PreviewLarge:
			large = pv.Image
		}
	}
	if im.Fingerprint != nil && small != nil {
		if f, err := im.Fingerprint(small); err == nil {
			p.Fingerprint = f
		}
	}
	if im.FindCard == nil || large == nil {
		return
	}
	code, corners, placed := im.FindCard(ctx, large)
	p.CardCode, p.HasCard = code, placed
	if !placed {
		return
	}
	w, h := p.UprightSize()
	b := large.Bounds()
	for i, c := range corners {
		p.Card[i] = scale.Point{X: c.X * float64(w) / float64(b.Dx()), Y: c.Y * float64(h) / float64(b.Dy())}
	}
}
