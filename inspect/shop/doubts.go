package shop

import (
	"strings"
	"time"

	"forkwear/inspect"
)

// DoubtKind is why a photo may not be what it seems.
type DoubtKind string

// The kinds of doubt.
const (
	DoubtFuture     DoubtKind = "future"
	DoubtBeforeLast DoubtKind = "before the last visit"
	DoubtOutside    DoubtKind = "outside the visit"
	DoubtNoDate     DoubtKind = "no camera date"
	DoubtSatellites DoubtKind = "satellite time"
	DoubtUnusable   DoubtKind = "not usable"
	DoubtAlike      DoubtKind = "looks like another"
)

// Doubt is one reason to look at a photo twice, in a sentence.
type Doubt struct {
	Kind  DoubtKind
	Words string
}

const (
	clockSlack  = 5 * time.Minute // two clocks that nobody set to each other differ by so much
	counterHour = time.Hour       // photos at the counter, before the visit is saved and after it is closed
)

// Doubts are what speaks against a photo of a case: its date, what the
// satellites say, its quality, and another photo that it looks like. c may be
// nil for a photo without a visit. now is the time of looking; the photo may be
// dated by 5 minutes after it, since clocks differ, and by an hour around the
// visit, for photos taken at the counter.
func (d *Desk) Doubts(p inspect.Photo, c *Case, clocks []inspect.CameraClock, now time.Time) []Doubt {
	var out []Doubt
	tongue := d.Catalog.Tongue
	add := func(k DoubtKind, words string) { out = append(out, Doubt{k, words}) }
	at := d.instants(p, correction(p, clocks))
	switch {
	case p.WallTime == "":
		add(DoubtNoDate, tongue.Say("No camera date: nobody can tell when this was taken."))
	case !p.HasCameraDate():
		add(DoubtNoDate, tongue.Say("No camera date: shown by the time of the file."))
	case len(at) > 0:
		if dated, ok := d.misdated(at, c, now); ok {
			out = append(out, dated)
		}
		if off, ok := offSatellites(p, at); ok {
			add(DoubtSatellites, tongue.Sayf("The satellites said %s UTC, %s off the camera's time: take a photo of the shop's clock and set the camera's clock by it.",
				clockTime(satellites(p)), roughly(tongue, off)))
		}
	}
	if !p.Usable {
		add(DoubtUnusable, strings.Join(append([]string{tongue.Say("Not good enough to show anything: take it again.")}, p.Remarks...), " "))
	}
	if c != nil {
		if like, ok := d.copyOf(p, c); ok {
			add(DoubtAlike, tongue.Sayf("Looks like the photo of %s: it may be the same picture.", d.dayOf(like, clocks)))
		}
	}
	return out
}

// misdated finds the strongest reason why the date can't be right. Of two
// instants that the photo may mean both must be wrong.
func (d *Desk) misdated(at []time.Time, c *Case, now time.Time) (Doubt, bool) {
	first, last, tongue := at[0], at[len(at)-1], d.Catalog.Tongue
	if first.After(now.Add(clockSlack)) {
		return Doubt{DoubtFuture, tongue.Sayf("Dated %s, which has not come yet: the camera's clock is ahead.", dayTime(first))}, true
	}
	if c == nil {
		return Doubt{}, false
	}
	v := c.Visit
	switch {
	case len(c.Earlier) > 0 && last.Before(c.Earlier[0].Row.Visit.DroppedOff):
		return Doubt{DoubtBeforeLast, tongue.Sayf("Dated %s, before the fork's last visit on %s: an old picture, or the camera's clock is behind.",
			dayTime(last), d.day(c.Earlier[0].Row.Visit.DroppedOff))}, true
	case last.Before(v.DroppedOff.Add(-counterHour)):
		return Doubt{DoubtOutside, tongue.Sayf("Dated %s, before the fork came in on %s: another picture, or the camera's clock is behind.",
			dayTime(last), d.day(v.DroppedOff))}, true
	case v.Closed() && first.After(v.Collected.Add(counterHour)):
		return Doubt{DoubtOutside, tongue.Sayf("Dated %s, after the fork was collected on %s: another picture, or the camera's clock is ahead.",
			dayTime(first), d.day(v.Collected))}, true
	}
	return Doubt{}, false
}

func satellites(p inspect.Photo) time.Time {
	t, err := time.Parse(wallLayout+"Z", p.GPSTime)
	if err != nil {
		return time.Time{}
	}
	return t
}

// offSatellites is by how much the photo's time and the satellites' differ,
// where that is more than two clocks do.
func offSatellites(p inspect.Photo, at []time.Time) (time.Duration, bool) {
	gps := satellites(p)
	if gps.IsZero() {
		return 0, false
	}
	least := at[0].Sub(gps).Abs()
	for _, t := range at {
		least = min(least, t.Sub(gps).Abs())
	}
	return least, least > clockSlack
}

// copyOf finds a photo of an earlier visit that looks like this one, or one of
// this visit that looks like it and was not taken at another second: two shots
// in a row look alike and are two photos.
func (d *Desk) copyOf(p inspect.Photo, c *Case) (inspect.Photo, bool) {
	for _, e := range c.Earlier {
		for _, o := range e.Photos {
			if d.looksAlike(p, o) {
				return o, true
			}
		}
	}
	for _, o := range c.Photos {
		if d.looksAlike(p, o) && o.AddedAt.Before(p.AddedAt) && !shotApart(p, o) {
			return o, true
		}
	}
	return inspect.Photo{}, false
}

func shotApart(a, b inspect.Photo) bool {
	return a.HasCameraDate() && b.HasCameraDate() && (a.WallTime != b.WallTime || a.SubSec != b.SubSec)
}

func (d *Desk) dayOf(p inspect.Photo, clocks []inspect.CameraClock) string {
	if t, ok := d.TakenAt(p, clocks); ok {
		return t.Format("2 January 2006")
	}
	if wall, ok := wallOf(p); ok {
		return wall.Format("2 January 2006")
	}
	return d.day(p.AddedAt)
}

// day writes a day of the shop.
func (d *Desk) day(t time.Time) string {
	if d.Zone != nil {
		t = t.In(d.Zone)
	}
	return t.Format("2 January 2006")
}

func dayTime(t time.Time) string   { return t.Format("2 January 2006, 15:04") }
func clockTime(t time.Time) string { return t.Format("15:04") }

// roughly writes a span as a person would say it.
func roughly(tongue inspect.Tongue, x time.Duration) string {
	switch {
	case x < 2*time.Hour:
		return tongue.Sayf("%.0f minutes", x.Minutes())
	case x < 48*time.Hour:
		return tongue.Sayf("%.0f hours", x.Hours())
	}
	return tongue.Sayf("%.0f days", x.Hours()/24)
}
