package media

import (
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"image"

	"forkwear/media/decode"
	"forkwear/media/exif"
	"forkwear/media/format"
	"forkwear/media/vault"
)

// factsVersion changes with the meaning of the kept facts, so that older ones
// are not used.
const factsVersion = 1

// facts are what reading a photo found out, kept beside its previews: an import
// that was stopped goes on where it was.
type facts struct {
	Version int
	Zone    string
	Subject string
	Looked  [2]bool // fingerprint, card
	Photo   Photo
}

func (im Importer) factsOf(p Photo) facts {
	f := facts{Version: factsVersion, Subject: string(im.Subject.Kind) + im.Subject.Part.String(), Photo: p,
		Looked: [2]bool{im.Fingerprint != nil, im.FindCard != nil}}
	if im.Zone != nil {
		f.Zone = im.Zone.String()
	}
	return f
}

// knownFacts gives the facts of an earlier reading with the same aims, if the
// previews are there too.
func (im Importer) knownFacts(sum string) (Photo, bool) {
	data, ok := im.Vault.Facts(sum)
	if !ok {
		return Photo{}, false
	}
	var f facts
	if json.Unmarshal(data, &f) != nil || f.Photo.SHA256 != sum {
		return Photo{}, false
	}
	want := im.factsOf(Photo{})
	if f.Version != want.Version || f.Zone != want.Zone || f.Subject != want.Subject || f.Looked != want.Looked {
		return Photo{}, false
	}
	if !f.Photo.PixelsRead || len(im.missingPreviews(sum)) > 0 {
		return Photo{}, false
	}
	return f.Photo, true
}

func (im Importer) missingPreviews(sum string) []int {
	var missing []int
	for _, px := range []int{PreviewSmall, PreviewLarge} {
		if !im.Vault.HasPreview(sum, px) {
			missing = append(missing, px)
		}
	}
	return missing
}

// sizes gives the previews to make: those that are missing, and those that are
// to be looked at.
func (im Importer) sizes(sum string) []int {
	if im.Fingerprint != nil || im.FindCard != nil {
		return []int{PreviewSmall, PreviewLarge}
	}
	return im.missingPreviews(sum)
}

// keepPictures puts previews, working copy and facts into the cache. What
// cannot be kept is made again when it is asked for.
func (im Importer) keepPictures(ctx context.Context, sum string, r reading) {
	if r.working != nil {
		_ = im.Vault.PutWorkingCopy(ctx, sum, r.working)
	}
	for _, pv := range r.previews {
		if jpeg, err := pv.JPEG(); err == nil {
			_ = im.Vault.PutPreview(ctx, sum, pv.Size, jpeg)
		}
	}
	if !r.photo.PixelsRead {
		return
	}
	if data, err := json.Marshal(im.factsOf(r.photo)); err == nil {
		_ = im.Vault.PutFacts(ctx, sum, data)
	}
}

// Preview gives the JPEG preview of a kept photo, px along its longer side;
// it comes from the cache or is made from the original and put there.
func (im Importer) Preview(ctx context.Context, sum string, px int) ([]byte, error) {
	if jpeg, ok := im.Vault.Preview(sum, px); ok {
		return jpeg, nil
	}
	pic, err := im.picture(ctx, sum)
	if err != nil {
		return nil, fmt.Errorf("make a preview of photo %.12s: %w", sum, err)
	}
	previews, err := pic.Previews(ctx, px)
	if err != nil {
		return nil, fmt.Errorf("make a preview of photo %.12s: %w", sum, err)
	}
	jpeg, err := previews[0].JPEG()
	if err != nil {
		return nil, fmt.Errorf("make a preview of photo %.12s: %w", sum, err)
	}
	_ = im.Vault.PutPreview(ctx, sum, px, jpeg) // a full disk must not hide the photo
	return jpeg, nil
}

// Full gives a kept photo upright in full size, for measuring on it.
func (im Importer) Full(ctx context.Context, sum string) (*image.RGBA, error) {
	pic, err := im.picture(ctx, sum)
	if err != nil {
		return nil, fmt.Errorf("show photo %.12s: %w", sum, err)
	}
	return pic.Upright(), nil
}

// picture decodes a kept photo, of HEIC its working copy.
func (im Importer) picture(ctx context.Context, sum string) (*decode.Picture, error) {
	data, err := im.Vault.Read(ctx, sum)
	if err != nil {
		return nil, err
	}
	if f := format.Sniff(data); f == format.HEIC || f == format.AVIF {
		jpeg, why, err := im.workingCopy(ctx, sum, data)
		switch {
		case err != nil:
			return nil, err
		case jpeg == nil && why != "":
			return nil, fmt.Errorf("%w: %s", decode.ErrNoDecoder, why)
		case jpeg == nil:
			return nil, decode.ErrNoDecoder
		}
		_ = im.Vault.PutWorkingCopy(ctx, sum, jpeg)
		return decode.Decode(ctx, jpeg, 1)
	}
	return decode.Decode(ctx, data, orientationOf(data))
}

func orientationOf(data []byte) int {
	info, _ := exif.Read(bytes.NewReader(data), int64(len(data))) // none: as stored
	return info.Orientation
}

// Preview gives a preview as Importer.Preview does, of HEIC only where its
// working copy has been made already.
func Preview(ctx context.Context, v *vault.Vault, sum string, px int) ([]byte, error) {
	return Importer{Vault: v}.Preview(ctx, sum, px)
}
