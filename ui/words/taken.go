package words

import (
	"strconv"
	"strings"
	"time"

	"forkwear/inspect"
	"forkwear/inspect/shop"
)

// TakenAt is when a photo was taken, on the shop's clock and after the
// correction of the camera's; ok is false where nobody can tell.
func TakenAt(d *shop.Desk, p inspect.Photo, clocks []inspect.CameraClock) (t time.Time, ok bool) {
	t, ok = d.TakenAt(p, clocks)
	if ok && d.Zone != nil {
		t = t.In(d.Zone)
	}
	return t, ok
}

// TakenOf writes when a photo was taken as Taken does, with what a visit knows
// of its cameras.
func TakenOf(c *shop.Case, p inspect.Photo) string {
	if hasOwnDate(p) && c != nil {
		if t, ok := c.TakenAt(p); ok {
			return DateTime(t)
		}
	}
	return PhotoDate(p)
}

func hasOwnDate(p inspect.Photo) bool { return p.WallTime != "" && p.DateSource != "file time" }

// Taken writes when a photo was taken: "12 May 2026, 14:02", by the corrected
// clock of its camera where that is known, else as PhotoDate.
func Taken(d *shop.Desk, p inspect.Photo, clocks []inspect.CameraClock) string {
	if !hasOwnDate(p) {
		return PhotoDate(p)
	}
	if t, ok := TakenAt(d, p, clocks); ok {
		return DateTime(t)
	}
	return PhotoDate(p)
}

// Offset writes by how much a clock is corrected: "+1 h", "−3 min 20 s".
func Offset(d time.Duration) string {
	sign := "+"
	if d < 0 {
		sign, d = "−", -d
	}
	var parts []string
	for _, p := range []struct {
		unit time.Duration
		name string
	}{{24 * time.Hour, "d"}, {time.Hour, "h"}, {time.Minute, "min"}, {time.Second, "s"}} {
		if n := d / p.unit; n > 0 {
			parts = append(parts, strconv.Itoa(int(n))+Thin+p.name)
			d -= n * p.unit
		}
	}
	if parts == nil {
		parts = []string{"0" + Thin + "s"}
	}
	return sign + strings.Join(parts, " ")
}
