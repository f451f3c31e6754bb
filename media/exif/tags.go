package exif

import (
	"bytes"
	"fmt"
	"math"
	"strings"
	"time"

	goexif "github.com/rwcarlsen/goexif/exif"
	"github.com/rwcarlsen/goexif/tiff"
)

// Names for the tags that are younger than goexif.
const (
	offsetTime          goexif.FieldName = "OffsetTime"
	offsetTimeOriginal  goexif.FieldName = "OffsetTimeOriginal"
	offsetTimeDigitized goexif.FieldName = "OffsetTimeDigitized"
	bodySerialNumber    goexif.FieldName = "BodySerialNumber"
	dngSerialNumber     goexif.FieldName = "CameraSerialNumber"
)

func init() { goexif.RegisterParsers(youngTags{}) }

// youngTags makes goexif keep the tags above.
type youngTags struct{}

func (youngTags) Parse(x *goexif.Exif) error {
	if len(x.Tiff.Dirs) == 0 {
		return nil
	}
	x.LoadTags(x.Tiff.Dirs[0], map[uint16]goexif.FieldName{tagDNGSerial: dngSerialNumber}, false)
	pointer, err := x.Get(goexif.ExifIFDPointer)
	if err != nil {
		return nil
	}
	off, err := pointer.Int64(0)
	if err != nil || off < 0 || off >= int64(len(x.Raw)) {
		return nil
	}
	r := bytes.NewReader(x.Raw)
	if _, err := r.Seek(off, 0); err != nil {
		return fmt.Errorf("read the Exif directory: %w", err)
	}
	dir, _, err := tiff.DecodeDir(r, x.Tiff.Order)
	if err != nil {
		return fmt.Errorf("read the Exif directory: %w", err)
	}
	x.LoadTags(dir, map[uint16]goexif.FieldName{
		tagOffset: offsetTime, tagOffsetOriginal: offsetTimeOriginal,
		tagOffsetDigitized: offsetTimeDigitized, tagBodySerial: bodySerialNumber,
	}, false)
	return nil
}

// decodeClean reads the clean TIFF with goexif and fills info; false when that
// failed. goexif panics on some values; those are caught here, and nothing but
// what writeTIFF made ever comes here, so it can neither loop nor grow.
func decodeClean(clean []byte, info *Info) (ok bool) {
	keep := *info
	defer func() {
		if recover() != nil {
			*info, ok = keep, false
		}
	}()
	x, err := goexif.Decode(bytes.NewReader(clean))
	if x == nil || err != nil && goexif.IsCriticalError(err) {
		return false
	}
	t := fields{x}
	info.Make, info.Model = t.text(goexif.Make), t.text(goexif.Model)
	if info.BodySerial = t.text(bodySerialNumber); info.BodySerial == "" {
		info.BodySerial = t.text(dngSerialNumber)
	}
	if o := t.number(goexif.Orientation); o >= 1 && o <= 8 {
		info.Orientation = o
	}
	if f := t.number(goexif.FocalLengthIn35mmFilm); f > 0 {
		info.FocalLength35 = f
	}
	t.times(info)
	t.position(info)
	return true
}

// fields reads tags in the forms that are needed here.
type fields struct{ x *goexif.Exif }

func (t fields) text(name goexif.FieldName) string {
	tag, err := t.x.Get(name)
	if err != nil || tag.Type != tiff.DTAscii && tag.Type != tiff.DTUndefined && tag.Type != tiff.DTByte {
		return ""
	}
	return tidy(tag.Val)
}

func (t fields) number(name goexif.FieldName) int {
	tag, err := t.x.Get(name)
	if err != nil {
		return 0
	}
	v, err := tag.Int(0)
	if err != nil {
		return 0
	}
	return v
}

// three reads up to three rationals (degrees, minutes, seconds or a clock).
func (t fields) three(name goexif.FieldName) (v [3]float64, ok bool) {
	tag, err := t.x.Get(name)
	if err != nil || tag.Type != tiff.DTRational && tag.Type != tiff.DTSRational {
		return v, false
	}
	for i := range min(3, int(tag.Count)) {
		num, den, err := tag.Rat2(i)
		switch {
		case err != nil:
			return v, false
		case den == 0 && num == 0: // "not stated" for the small units
			continue
		case den == 0:
			return v, false
		}
		v[i] = float64(num) / float64(den)
	}
	return v, true
}

func (t fields) times(info *Info) {
	info.ChangeTime = wallTime(t.text(goexif.DateTime))
	for _, tags := range []struct{ time, offset, sub goexif.FieldName }{
		{goexif.DateTimeOriginal, offsetTimeOriginal, goexif.SubSecTimeOriginal},
		{goexif.DateTimeDigitized, offsetTimeDigitized, goexif.SubSecTimeDigitized},
	} {
		if info.WallTime = wallTime(t.text(tags.time)); info.WallTime == "" {
			continue
		}
		info.SubSec = digits(t.text(tags.sub))
		info.Offset = offset(t.text(tags.offset))
		if info.Offset != "" {
			info.OffsetSource = OffsetOfMoment
		} else if info.ChangeTime == info.WallTime {
			if info.Offset = offset(t.text(offsetTime)); info.Offset != "" {
				info.OffsetSource = OffsetOfChange
			}
		}
		break
	}
	clock, ok := t.three(goexif.GPSTimeStamp)
	day, err := time.Parse("2006:01:02", t.text(goexif.GPSDateStamp))
	if ok && err == nil && day.Year() > 1 && clock[0] >= 0 && clock[0] < 24 && clock[1] >= 0 && clock[1] < 60 && clock[2] >= 0 && clock[2] < 61 {
		seconds := math.Floor(clock[0]*3600 + clock[1]*60 + clock[2])
		info.GPSTime = day.Add(time.Duration(seconds) * time.Second)
	}
}

// position finds out whether there is one. Many phones write an empty GPS
// directory, or 0,0, when they do not know where they are.
func (t fields) position(info *Info) {
	lat, okLat := t.degrees(goexif.GPSLatitude)
	long, okLong := t.degrees(goexif.GPSLongitude)
	info.HasPosition = okLat && okLong && (lat != 0 || long != 0) && lat <= 90 && long <= 180
}

// degrees joins degrees, minutes and seconds, without the hemisphere. Some
// phones write them as text; that counts as a position when any digit of it is
// not 0.
func (t fields) degrees(name goexif.FieldName) (float64, bool) {
	if v, ok := t.three(name); ok {
		return math.Abs(v[0]) + math.Abs(v[1])/60 + math.Abs(v[2])/3600, true
	}
	s := t.text(name)
	if strings.ContainsAny(s, "123456789") {
		return 1, true
	}
	return 0, strings.Contains(s, "0")
}
