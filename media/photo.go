package media

import (
	"context"
	"fmt"
	"time"

	"forkwear/media/exif"
	"forkwear/media/scale"
)

// Where a photo's offset from UTC came from.
const (
	OffsetFromCamera = "exif"      // written by the camera
	OffsetFromShop   = "shop zone" // taken from the workshop's time zone
)

// Photo is what a photo file says about itself. Empty text and 0 mean "the
// file does not say".
type Photo struct {
	SHA256 string // of the file's bytes, 64 hexadecimal digits: the photo's name
	Format string // jpeg, png, webp, tiff, heic, avif
	Bytes  int64  // size of the file

	Width, Height int // pixels as stored, before turning upright
	Orientation   int // EXIF orientation 1-8, 0 when not stated

	WallTime     string // 2006-01-02T15:04:05 by the camera's clock
	Offset       string // +02:00
	OffsetSource string // OffsetFromCamera, OffsetFromShop or empty
	SubSec       string // digits of the fraction of the second, as written

	Make, Model, BodySerial string
	HasPosition             bool   // the file tells where it was taken
	FocalLength35           int    // mm on 35 mm film, 0 when not stated
	GPSTime                 string // UTC by the satellites, 2006-01-02T15:04:05Z

	PixelsRead bool     // false: the pixels could not be read here (AVIF, HEIC without a converter); Sharpness means nothing then
	Sharpness  float64  // variance of the Laplacian over the brightness, grey levels squared
	Usable     bool     // good enough to judge a part by
	Remarks    []string // sentences for the person

	Fingerprint string         // perceptual hash, where the Importer makes one
	CardCode    string         // of a bench card in the picture, where the Importer looks for one
	Card        [4]scale.Point // the corners of that card or of a plain one, pixels of the upright picture
	HasCard     bool           // Card is set
}

// UprightSize gives width and height after turning.
func (p Photo) UprightSize() (width, height int) {
	if p.Orientation >= 5 {
		return p.Height, p.Width
	}
	return p.Width, p.Height
}

// Taken joins wall time and offset to an instant; ok is false when either is
// missing. The fraction of the second is left out.
func (p Photo) Taken() (t time.Time, ok bool) {
	t, err := time.Parse("2006-01-02T15:04:05Z07:00", p.WallTime+p.Offset)
	return t, err == nil && p.WallTime != "" && p.Offset != ""
}

// Read tells what the photo file at path says about itself. With a zone, a
// wall time without an offset gets the offset that zone had then, marked
// OffsetFromShop. Memory and time are bounded for any file: at most 100 MB and
// 120 megapixels, or an error that says so. A HEIC or AVIF file gives its
// dates and size with PixelsRead false; Importer.Read can do more.
func Read(ctx context.Context, path string, zone *time.Location) (Photo, error) {
	return Importer{Zone: zone}.Read(ctx, path)
}

func (p *Photo) fill(info exif.Info, zone *time.Location) {
	p.Make, p.Model, p.BodySerial = info.Make, info.Model, info.BodySerial
	p.Orientation, p.HasPosition, p.FocalLength35 = info.Orientation, info.HasPosition, info.FocalLength35
	if !info.GPSTime.IsZero() {
		p.GPSTime = info.GPSTime.UTC().Format(time.RFC3339)
	}
	p.WallTime, p.SubSec, p.Offset = info.WallTime, info.SubSec, info.Offset
	switch {
	case p.WallTime == "" && info.ChangeTime != "":
		p.Remarks = append(p.Remarks, "The file does not say when it was taken, only when it was last changed: "+info.ChangeTime+".")
	case p.WallTime == "":
		p.Remarks = append(p.Remarks, "The file does not say when it was taken.")
	case p.Offset != "":
		p.OffsetSource = OffsetFromCamera
	case zone != nil:
		p.offsetFrom(zone)
	}
}

// offsetFrom gives a wall time the offset of the shop's zone on that day. In
// the hour that a zone skips or repeats it says so.
func (p *Photo) offsetFrom(zone *time.Location) {
	wall, err := time.Parse("2006-01-02T15:04:05", p.WallTime)
	if err != nil {
		return
	}
	t := time.Date(wall.Year(), wall.Month(), wall.Day(), wall.Hour(), wall.Minute(), wall.Second(), 0, zone)
	p.Offset, p.OffsetSource = t.Format("-07:00"), OffsetFromShop
	if t.Format("2006-01-02T15:04:05") != p.WallTime {
		p.Remarks = append(p.Remarks, "The clocks were put forward in that hour, so the camera's clock was not set to the shop's zone.")
		return
	}
	for _, near := range []time.Time{t.AddDate(0, 0, -1), t.AddDate(0, 0, 1)} { // with the offsets before and after
		_, seconds := near.Zone()
		other := wall.Add(-time.Duration(seconds) * time.Second).In(zone)
		if off := other.Sub(t).Abs(); off != 0 && other.Format("2006-01-02T15:04:05") == p.WallTime {
			p.Remarks = append(p.Remarks, fmt.Sprintf("The clocks were put back in that hour, so the time may be %.0f minutes off.", off.Minutes()))
			return
		}
	}
}
