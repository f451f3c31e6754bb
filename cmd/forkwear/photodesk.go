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
	"forkwear/media/alike"
	"forkwear/media/benchcard"
	"forkwear/media/quality"
	"forkwear/media/scale"
	"forkwear/media/vault"
	"forkwear/ui/place"
)

// photoDesk is what the window needs of the vault.
type photoDesk struct {
	vault *vault.Vault
	zone  *time.Location
}

var _ place.Photos = photoDesk{}

// importer is how this program takes photos in: with the shop's zone, HEIC
// converted in a second process, and a look for bench cards.
func (p photoDesk) importer() media.Importer {
	return media.Importer{Vault: p.vault, Zone: p.zone, HEIC: heicChild(), Fingerprint: alike.Fingerprint, FindCard: findCard}
}

// findCard looks for a bench card in a large preview. Of several the first
// counts: nobody can tell which job the photo is of.
func findCard(ctx context.Context, img image.Image) (code string, corners [4]scale.Point, placed bool) {
	found, err := benchcard.Find(ctx, img)
	if err != nil || len(found) == 0 {
		return "", corners, false
	}
	return found[0].Code, found[0].Corners, found[0].Placed()
}

// Import implements place.Photos.
func (p photoDesk) Import(ctx context.Context, paths []string, progress func(done, total int, name string)) []place.Imported {
	return p.ImportAs(ctx, paths, quality.Subject{}, progress)
}

// ImportAs is Import where it is known what the photos should show: a serial
// number is judged more strictly than a view of the whole fork.
func (p photoDesk) ImportAs(ctx context.Context, paths []string, what quality.Subject, progress func(done, total int, name string)) []place.Imported {
	im := p.importer()
	im.Subject = what
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
		FocalLength35: m.FocalLength35, GPSTime: m.GPSTime, Fingerprint: m.Fingerprint, CardCode: m.CardCode,
		FileName: filepath.Base(path)}
	if m.HasCard {
		for _, c := range m.Card {
			p.Card = append(p.Card, inspect.Spot{X: c.X, Y: c.Y})
		}
	}
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
	jpeg, err := p.importer().Preview(ctx, sha256, size)
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

// Full gives the upright picture in full size, for measuring on it.
func (p photoDesk) Full(ctx context.Context, sha256 string) (*image.RGBA, error) {
	return p.importer().Full(ctx, sha256)
}

// Quick gives the camera's own small picture of a file within milliseconds, nil
// where there is none.
func (p photoDesk) Quick(ctx context.Context, path string) (image.Image, error) {
	g, err := media.Quick(ctx, path)
	if err != nil || g.Picture == nil {
		return nil, err
	}
	return g.Picture, nil
}
