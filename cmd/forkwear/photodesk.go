package main

import (
	"bytes"
	"context"
	"image"
	"image/draw"
	_ "image/jpeg" // previews are JPEG
	"os"
	"path/filepath"
	"time"

	"forkwear/inspect"
	"forkwear/media"
	"forkwear/media/vault"
	"forkwear/ui/place"
)

// photoDesk is what the window needs of the vault.
type photoDesk struct {
	vault *vault.Vault
	zone  *time.Location
}

var _ place.Photos = photoDesk{}

// Import implements place.Photos.
func (p photoDesk) Import(ctx context.Context, paths []string, progress func(done, total int, name string)) []place.Imported {
	im := media.Importer{Vault: p.vault, Zone: p.zone}
	var out []place.Imported
	for _, r := range im.Import(ctx, paths, progress) {
		out = append(out, place.Imported{Path: r.Path, Photo: record(r.Path, r.Photo), Known: r.Existed, Err: r.Err})
	}
	return out
}

// record turns what a file says about itself into a record without a place.
// A photo without a camera date is filed by its file's time, and says so.
func record(path string, m media.Photo) inspect.Photo {
	w, h := m.UprightSize()
	p := inspect.Photo{SHA256: m.SHA256, Format: m.Format, Bytes: m.Bytes, Width: w, Height: h, Orientation: m.Orientation,
		WallTime: m.WallTime, Offset: m.Offset, OffsetSource: m.OffsetSource, SubSec: m.SubSec, Make: m.Make, Model: m.Model,
		BodySerial: m.BodySerial, HasPosition: m.HasPosition, Sharpness: m.Sharpness, Usable: m.Usable, Remarks: m.Remarks,
		FileName: filepath.Base(path)}
	switch {
	case p.WallTime != "":
		p.DateSource = "exif"
	default:
		if info, err := os.Stat(path); err == nil {
			p.WallTime, p.DateSource = info.ModTime().Format("2006-01-02T15:04:05"), "file time"
		}
	}
	return p
}

// Preview implements place.Photos.
func (p photoDesk) Preview(ctx context.Context, sha256 string, px int) (image.Image, error) {
	size := media.PreviewSmall
	if px > media.PreviewSmall {
		size = media.PreviewLarge
	}
	jpeg, err := media.Preview(ctx, p.vault, sha256, size)
	if err != nil {
		return nil, err
	}
	src, _, err := image.Decode(bytes.NewReader(jpeg))
	if err != nil {
		return nil, err
	}
	dst := image.NewRGBA(image.Rect(0, 0, src.Bounds().Dx(), src.Bounds().Dy()))
	draw.Draw(dst, dst.Bounds(), src, src.Bounds().Min, draw.Src)
	return dst, nil
}
