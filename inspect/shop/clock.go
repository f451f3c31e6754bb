package shop

import (
	"context"
	"slices"
	"time"

	"forkwear/inspect"
)

// wallLayout is how a photo writes the camera's own time.
const wallLayout = "2006-01-02T15:04:05"

// shopZone is the source of an offset that the camera did not write (inspect.Photo).
const shopZone = "shop zone"

// TakenAt is the instant at which a photo was taken, after the correction of
// its camera's clock: for showing and sorting, never written anywhere. ok is
// false without a time, and without an offset where the desk has no zone.
//
// A photo that says its offset to UTC gives an instant, to which the correction
// is added. Any other photo is read from the camera's wall clock: the correction
// moves the wall clock, then the shop's zone is read on the corrected day, so
// that a camera set to a wrong year keeps in step through the shop's summer
// time. In the hour that a zone repeats the first of the two is given. A date
// that came from the file is not the camera's and is not corrected.
func (d *Desk) TakenAt(p inspect.Photo, clocks []inspect.CameraClock) (t time.Time, ok bool) {
	at := d.instants(p, correction(p, clocks))
	if len(at) == 0 {
		return time.Time{}, false
	}
	return at[0], true
}

// TakenHere is TakenAt told by the shop's own clock, where its zone is known.
func (d *Desk) TakenHere(p inspect.Photo, clocks []inspect.CameraClock) (t time.Time, ok bool) {
	t, ok = d.TakenAt(p, clocks)
	if ok && d.Zone != nil {
		t = t.In(d.Zone)
	}
	return t, ok
}

// correction is what is to be added to the clock of the photo's camera.
func correction(p inspect.Photo, clocks []inspect.CameraClock) time.Duration {
	camera := p.Camera()
	if camera == "" || !p.HasCameraDate() {
		return 0
	}
	var newest inspect.CameraClock
	for _, c := range clocks {
		if c.Camera == camera && !c.At.Before(newest.At) {
			newest = c
		}
	}
	return newest.Add
}

// instants are the instants that a photo may mean: one, or two in the hour that
// a zone repeats, or none where nobody can tell.
func (d *Desk) instants(p inspect.Photo, add time.Duration) []time.Time {
	wall, ok := wallOf(p)
	if !ok {
		return nil
	}
	if zone, ok := ownZone(p); ok {
		return []time.Time{onWall(wall, zone).Add(add)}
	}
	if zone := d.zoneFor(p); zone != nil {
		return readings(wall.Add(add), zone)
	}
	return nil
}

// wallOf is the camera's wall clock, as if it stood in UTC.
func wallOf(p inspect.Photo) (time.Time, bool) {
	wall, err := time.Parse(wallLayout, p.WallTime)
	if err != nil {
		return wall, false
	}
	if p.SubSec != "" { // decimals of the second, "57" is 0.57 s
		if parts, err := time.Parse("05.999999999", "00."+p.SubSec); err == nil {
			wall = wall.Add(time.Duration(parts.Nanosecond()))
		}
	}
	return wall, true
}

// ownZone is the offset that the photo itself states.
func ownZone(p inspect.Photo) (*time.Location, bool) {
	if p.OffsetSource == shopZone {
		return nil, false
	}
	return fixed(p.Offset)
}

func fixed(offset string) (*time.Location, bool) {
	t, err := time.Parse("Z07:00", offset)
	if err != nil {
		return nil, false
	}
	_, seconds := t.Zone()
	return time.FixedZone("", seconds), true
}

// zoneFor is the zone in which a photo without an offset of its own is read: the
// desk's, else the one it had when it was imported.
func (d *Desk) zoneFor(p inspect.Photo) *time.Location {
	if d.Zone != nil {
		return d.Zone
	}
	zone, _ := fixed(p.Offset)
	return zone
}

func onWall(wall time.Time, zone *time.Location) time.Time {
	return time.Date(wall.Year(), wall.Month(), wall.Day(), wall.Hour(), wall.Minute(), wall.Second(), wall.Nanosecond(), zone)
}

// asWall is what a clock on the wall shows in a zone, as if it stood in UTC.
func asWall(t time.Time, zone *time.Location) time.Time { return onWall(t.In(zone), time.UTC) }

// readings are the instants at which a clock in zone shows wall, earliest first:
// two where the clocks are put back. Where they are put forward nobody's clock
// shows it, and the zone's own reckoning is taken.
func readings(wall time.Time, zone *time.Location) []time.Time {
	guess := onWall(wall, zone)
	var out []time.Time
	for _, near := range []time.Time{guess.Add(-24 * time.Hour), guess, guess.Add(24 * time.Hour)} {
		_, offset := near.Zone()
		t := wall.Add(-time.Duration(offset) * time.Second).In(zone)
		if asWall(t, zone).Equal(wall) && !slices.ContainsFunc(out, t.Equal) {
			out = append(out, t)
		}
	}
	if len(out) == 0 {
		return []time.Time{guess}
	}
	slices.SortFunc(out, time.Time.Compare)
	return out
}

// SetClock keeps how far the clock of a camera is off: the true time less what
// the camera says, 20 years at most.
func (d *Desk) SetClock(ctx context.Context, camera string, add time.Duration) error {
	return d.Lib.AddClock(ctx, inspect.CameraClock{ID: d.NewID(), Camera: camera, Add: add, Source: "typed", By: d.Who(), At: d.Clock()})
}

// LearnClock learns a camera's clock from a photo of the shop's clock: shown is
// what that clock showed. It refuses a photo without a camera date or without a
// camera's name, and a clock more than 20 years off.
func (d *Desk) LearnClock(ctx context.Context, p inspect.Photo, shown time.Time) (inspect.CameraClock, error) {
	wall, ok := wallOf(p)
	if !ok || !p.HasCameraDate() {
		return inspect.CameraClock{}, inspect.Refuse(inspect.Invalid, "%s has no camera date, so that it can't tell the camera's clock: take a photo of the shop's clock with the camera itself and copy the file as it is", named(p))
	}
	if shown.IsZero() {
		return inspect.CameraClock{}, inspect.Refuse(inspect.Invalid, "type the date and time that the shop's clock shows in %s", named(p))
	}
	c := inspect.CameraClock{ID: d.NewID(), Camera: p.Camera(), Source: "clock photo", PhotoID: p.ID, By: d.Who(), At: d.Clock()}
	if zone, ok := ownZone(p); ok {
		c.Add = shown.Sub(onWall(wall, zone))
	} else if zone := d.zoneFor(p); zone != nil {
		c.Add = asWall(shown, zone).Sub(wall)
	} else {
		return c, inspect.Refuse(inspect.Invalid, "%s does not say its time zone: choose the shop's time zone in the settings first", named(p))
	}
	if err := c.Validate(); err != nil {
		return c, err
	}
	return c, d.Lib.AddClock(ctx, c)
}

func named(p inspect.Photo) string {
	if p.FileName == "" {
		return "the photo"
	}
	return "the photo " + p.FileName
}

// Camera is one camera body that photos of the library are from.
type Camera struct {
	Name   string
	Photos int
	Clock  *inspect.CameraClock // nil: taken as right
	Last   time.Time            // when its newest photo was added
}

// Cameras are all cameras of the library by name, also those that have a clock
// and no photo yet.
func (d *Desk) Cameras(ctx context.Context) ([]Camera, error) {
	photos, err := d.Lib.Photos(ctx, inspect.PhotoFilter{})
	if err != nil {
		return nil, err
	}
	clocks, err := d.Lib.Clocks(ctx)
	if err != nil {
		return nil, err
	}
	byName := map[string]*Camera{}
	of := func(name string) *Camera {
		if byName[name] == nil {
			byName[name] = &Camera{Name: name}
		}
		return byName[name]
	}
	for _, p := range photos {
		if name := p.Camera(); name != "" {
			c := of(name)
			c.Photos++
			if p.AddedAt.After(c.Last) {
				c.Last = p.AddedAt
			}
		}
	}
	for i := range clocks {
		of(clocks[i].Camera).Clock = &clocks[i]
	}
	var out []Camera
	for _, c := range byName {
		out = append(out, *c)
	}
	slices.SortFunc(out, func(a, b Camera) int {
		if a.Name < b.Name {
			return -1
		}
		return 1
	})
	return out, nil
}
