package exif

import (
	"errors"
	"fmt"
	"io"
	"strings"
	"time"

	"forkwear/media/format"
)

// ErrNone: the file carries no EXIF data, or none that can be read.
var ErrNone = errors.New("the file carries no camera data (EXIF)")

// Where an Info's Offset came from.
const (
	// OffsetOfMoment: the offset tag that belongs to the time tag used.
	OffsetOfMoment = "exif"
	// OffsetOfChange: the offset of the last change, used because that change
	// bears the same wall time as the shot.
	OffsetOfChange = "exif, last change at the same time"
)

// Info is what the camera wrote. Empty text and 0 mean "not stated".
type Info struct {
	Make, Model, BodySerial string

	Orientation int // 1-8; see decode for their meaning

	// WallTime is 2006-01-02T15:04:05: the moment of the shot
	// (DateTimeOriginal), or, where only that is there, of the digitising
	// (DateTimeDigitized). The time of the last change is never taken for it.
	WallTime     string
	Offset       string // +02:00, of the same moment
	OffsetSource string // OffsetOfMoment, OffsetOfChange or empty
	SubSec       string // the digits of the fraction of the second, as written
	ChangeTime   string // DateTime: when the file was last changed, as WallTime

	// HasPosition: latitude and longitude are there and not both 0. The
	// position itself is not read: nothing here needs it.
	HasPosition bool
	GPSTime     time.Time // UTC by the satellites; the zero time when not stated

	FocalLength35 int // focal length in mm for 35 mm film

	Thumbnail []byte // the camera's own small JPEG, as stored, not turned

	// Width and Height of the picture as stored, read from the container of a
	// HEIC or AVIF file only; 0 otherwise.
	Width, Height int
}

// Read finds and reads the camera data of the photo of the given size in
// bytes. It reads at most a few MB, never panics and always ends. Without
// readable data it gives ErrNone, and an Info that may still hold the picture
// size of a HEIC or AVIF file.
func Read(r io.ReaderAt, size int64) (info Info, err error) {
	head := make([]byte, min(max(size, 0), format.SniffLen))
	if _, err := r.ReadAt(head, 0); err != nil && err != io.EOF {
		return info, fmt.Errorf("read the camera data: %w", err)
	}
	var blocks []block
	switch f := format.Sniff(head); f {
	case format.JPEG:
		blocks = jpegBlocks(r, size)
	case format.PNG:
		blocks = pngBlocks(r, size)
	case format.WebP:
		blocks = webpBlocks(r, size)
	case format.TIFF:
		blocks = []block{{r, size}}
	case format.HEIC, format.AVIF:
		h := heifWalk(r, size)
		info.Width, info.Height = h.width, h.height
		blocks = h.blocks
	}
	for _, b := range blocks {
		if clean, ok := copyWanted(b); ok {
			info.Thumbnail = clean.thumbnail
			if decodeClean(clean.tiff, &info) {
				return info, nil
			}
		}
	}
	return info, ErrNone
}

// tidy makes text of a tag presentable: up to the first NUL, without control
// characters, valid UTF-8, no blanks around.
func tidy(raw []byte) string {
	s, _, _ := strings.Cut(string(raw), "\x00")
	s = strings.ToValidUTF8(s, "?")
	s = strings.Map(func(r rune) rune {
		if r < ' ' || r == 0x7f {
			return -1
		}
		return r
	}, s)
	return strings.TrimSpace(s)
}

// wallTime reads EXIF's 2006:01:02 15:04:05 (Exif 2.32, 4.6.5, DateTime) into
// 2006-01-02T15:04:05. Some programs write dashes or a T; blanks, zeros and
// days that no calendar has give "".
func wallTime(text string) string {
	if len(text) < 19 {
		return ""
	}
	b := []byte(text[:19])
	b[4], b[7], b[10] = sep(b[4], ":-/."), sep(b[7], ":-/."), sep(b[10], " T")
	t, err := time.Parse("2006:01:02 15:04:05", string(b))
	if err != nil || t.Year() < 1 {
		return ""
	}
	return t.Format("2006-01-02T15:04:05")
}

// sep gives the first of the allowed separators for any of them.
func sep(c byte, allowed string) byte {
	if strings.IndexByte(allowed, c) >= 0 {
		return allowed[0]
	}
	return c
}

// offset reads +02:00 (Exif 2.31, OffsetTime tags); "Z" and +0200 occur too.
// Beyond 14 hours (the largest in use) it is taken for damaged.
func offset(text string) string {
	if text == "Z" {
		return "+00:00"
	}
	for _, layout := range []string{"-07:00", "-0700"} {
		t, err := time.Parse(layout, text)
		if err != nil {
			continue
		}
		if _, sec := t.Zone(); sec >= -14*3600 && sec <= 14*3600 {
			return t.Format("-07:00")
		}
	}
	return ""
}

// digits keeps a text of digits only.
func digits(text string) string {
	if len(text) > 9 || strings.Trim(text, "0123456789") != "" {
		return ""
	}
	return text
}
