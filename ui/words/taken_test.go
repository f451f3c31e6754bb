package words

import (
	"testing"
	"time"

	"forkwear/inspect"
	"forkwear/inspect/shop"
)

func TestTaken(t *testing.T) {
	d := &shop.Desk{Zone: time.FixedZone("", 2*3600)}
	photo := inspect.Photo{WallTime: "2026-05-12T13:02:00", DateSource: "exif", Make: "A", Model: "B"}
	clocks := []inspect.CameraClock{{Camera: "A B", Add: time.Hour}}
	for _, c := range []struct {
		name   string
		photo  inspect.Photo
		clocks []inspect.CameraClock
		want   string
	}{
		{"as it says", photo, nil, "12 May 2026, 13:02"},
		{"an hour behind", photo, clocks, "12 May 2026, 14:02"}, // 13:02 + 1 h
		{"in UTC, shown on the shop's clock", inspect.Photo{WallTime: "2026-05-12T12:02:00", DateSource: "exif", Offset: "+00:00", OffsetSource: "exif"}, nil, "12 May 2026, 14:02"},
		{"no date", inspect.Photo{}, clocks, "no camera date"},
		{"the file's", inspect.Photo{WallTime: "2026-05-12T13:02:00", DateSource: "file time", Make: "A", Model: "B"}, clocks, "12 May 2026, 13:02 (file time, no camera date)"},
	} {
		if got := Taken(d, c.photo, c.clocks); got != c.want {
			t.Errorf("%s: %q, want %q", c.name, got, c.want)
		}
	}
}
