package words

import (
	"strconv"
	"strings"
	"time"

	"forkwear/inspect"
	"forkwear/inspect/shop"
)

// Taken writes when a photo was taken: "12 May 2026, 14:02", by the corrected
// clock of its camera where that is known, else as PhotoDate.
func Taken(d *shop.Desk, p inspect.Photo, clocks []inspect.CameraClock) string {
	t, ok := d.TakenHere(p, clocks)
	return taken(p, t, ok)
}

// TakenOf is Taken with what a visit knows of its cameras; a nil case knows
// nothing.
func TakenOf(c *shop.Case, p inspect.Photo) string {
	if c == nil {
		return PhotoDate(p)
	}
	t, ok := c.TakenAt(p)
	return taken(p, t, ok)
}

func taken(p inspect.Photo, t time.Time, ok bool) string {
	if !ok || !p.HasCameraDate() {
		return PhotoDate(p)
	}
	return DateTime(t)
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
