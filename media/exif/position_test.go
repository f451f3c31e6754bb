package exif

import (
	"bytes"
	"encoding/binary"
	"testing"
	"time"
)

// build makes a TIFF file by the package's own writer.
func build(main, exif, gps []tag) []byte {
	return writeTIFF(binary.BigEndian, []byte("MM\x00*"), main, exif, gps)
}

func rationals(id uint16, pairs ...uint32) tag {
	t := tag{id: id, kind: 5, count: uint32(len(pairs) / 2)}
	for _, v := range pairs {
		t.value = binary.BigEndian.AppendUint32(t.value, v)
	}
	return t
}

func ascii(id uint16, s string) tag {
	return tag{id, 2, uint32(len(s) + 1), append([]byte(s), 0)}
}

func TestPosition(t *testing.T) { // by construction
	lat, long := rationals(2, 50, 1, 26, 1, 0, 1), rationals(4, 8, 1, 0, 1, 0, 1)
	zeroLat, zeroLong := rationals(2, 0, 1, 0, 1, 0, 1), rationals(4, 0, 1, 0, 1, 0, 1)
	for _, c := range []struct {
		name string
		gps  []tag
		want bool
	}{
		{"both", []tag{lat, long}, true},
		{"on the equator", []tag{zeroLat, long}, true},
		{"0,0 is none", []tag{zeroLat, zeroLong}, false},
		{"latitude alone", []tag{lat}, false},
		{"no denominator", []tag{rationals(2, 50, 0, 26, 1, 0, 1), long}, false},
		{"0/0 is none", []tag{rationals(2, 0, 0, 0, 0, 0, 0), rationals(4, 0, 0, 0, 0, 0, 0)}, false},
		{"beyond the pole", []tag{rationals(2, 91, 1, 0, 1, 0, 1), long}, false},
		{"as text", []tag{ascii(2, "50,26,0"), ascii(4, "8,0,0")}, true},
	} {
		b := build([]tag{ascii(0x10F, "M")}, nil, c.gps)
		info, err := Read(bytes.NewReader(b), int64(len(b)))
		if err != nil || info.HasPosition != c.want {
			t.Errorf("%s: position %v, want %v (%v)", c.name, info.HasPosition, c.want, err)
		}
	}
}

func TestTimesAndTheirOffsets(t *testing.T) { // by construction
	shot, change := ascii(0x9003, "2024:05:01 10:00:00"), ascii(0x132, "2024:06:01 12:00:00")
	for _, c := range []struct {
		name                 string
		main, exif           []tag
		wall, offset, source string
	}{
		{"own offset", nil, []tag{shot, ascii(0x9011, "+02:00")}, "2024-05-01T10:00:00", "+02:00", OffsetOfMoment},
		{"offset of another time", []tag{change}, []tag{shot, ascii(0x9010, "+03:00")}, "2024-05-01T10:00:00", "", ""},
		{"offset of the same time", []tag{ascii(0x132, "2024:05:01 10:00:00")}, []tag{shot, ascii(0x9010, "+03:00")}, "2024-05-01T10:00:00", "+03:00", OffsetOfChange},
		{"digitised only", nil, []tag{ascii(0x9004, "2024:05:02 10:00:00"), ascii(0x9012, "-01:00"), ascii(0x9011, "+02:00")}, "2024-05-02T10:00:00", "-01:00", OffsetOfMoment},
		{"a change is no shot", []tag{change}, []tag{ascii(0x9011, "+02:00")}, "", "", ""},
	} {
		b := build(c.main, c.exif, nil)
		info, _ := Read(bytes.NewReader(b), int64(len(b)))
		if info.WallTime != c.wall || info.Offset != c.offset || info.OffsetSource != c.source {
			t.Errorf("%s: %q %q %q", c.name, info.WallTime, info.Offset, info.OffsetSource)
		}
	}
}

func TestGPSTime(t *testing.T) { // by construction
	b := build(nil, []tag{ascii(0x9003, "2024:05:01 10:00:00")}, []tag{ascii(0x1D, "2024:05:01"), rationals(7, 8, 1, 0, 1, 3050, 100)})
	info, _ := Read(bytes.NewReader(b), int64(len(b)))
	if want := time.Date(2024, 5, 1, 8, 0, 30, 0, time.UTC); !info.GPSTime.Equal(want) {
		t.Errorf("GPS time %v, want %v", info.GPSTime, want)
	}
}
