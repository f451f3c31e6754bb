package shop

import (
	"context"
	"testing"
	"time"
	_ "time/tzdata" // the zones are the same on every machine

	"pgregory.net/rapid"

	"forkwear/inspect"
)

func zone(t testing.TB, name string) *time.Location {
	t.Helper()
	z, err := time.LoadLocation(name)
	if err != nil {
		t.Fatal(err)
	}
	return z
}

func shot(wall string) inspect.Photo {
	return inspect.Photo{WallTime: wall, DateSource: "exif", Make: "M", Model: "C", BodySerial: "9", Usable: true, FileName: "a.jpg", SHA256: wall}
}

func utc(t testing.TB, text string) time.Time {
	t.Helper()
	at, err := time.Parse(time.RFC3339Nano, text)
	if err != nil {
		t.Fatal(err)
	}
	return at
}

// Central Europe puts its clocks forward and back at 01:00 UTC on the last
// Sundays of March and October (Directive 2000/84/EC): 29 March and 25 October
// in 2026. EXIF offsets are +HH:MM (EXIF 2.31, tag 0x9011).
func TestTakenAt(t *testing.T) {
	berlin := zone(t, "Europe/Berlin")
	const year = 365 * 24 * time.Hour
	own := func(p inspect.Photo, offset string) inspect.Photo {
		p.Offset, p.OffsetSource = offset, "exif"
		return p
	}
	imported := func(p inspect.Photo, offset string) inspect.Photo {
		p.Offset, p.OffsetSource = offset, "shop zone"
		return p
	}
	parts := shot("2026-05-12T14:02:11")
	parts.SubSec = "57"
	file := shot("2026-05-12T14:02:11")
	file.DateSource = "file time"
	nobody := shot("2026-05-12T14:02:11")
	nobody.Make, nobody.Model, nobody.BodySerial = "", "", ""
	for _, test := range []struct {
		name  string
		photo inspect.Photo
		zone  *time.Location
		add   time.Duration
		want  string // "" no instant
	}{
		{"shop zone, summer", shot("2026-05-12T14:02:11"), berlin, 0, "2026-05-12T12:02:11Z"},
		{"shop zone, winter", shot("2026-01-12T14:02:11"), berlin, 0, "2026-01-12T13:02:11Z"},
		{"no zone at all", shot("2026-05-12T14:02:11"), nil, 0, ""},
		{"zone of the import, desk without", imported(shot("2026-05-12T14:02:11"), "+02:00"), nil, 0, "2026-05-12T12:02:11Z"},
		{"zone of the import, shop has moved", imported(shot("2026-05-12T14:02:11"), "-05:00"), berlin, 0, "2026-05-12T12:02:11Z"},
		{"phone with an offset", own(shot("2026-05-12T14:02:11"), "-07:00"), berlin, 0, "2026-05-12T21:02:11Z"},
		{"phone with an offset, no zone", own(shot("2026-05-12T14:02:11"), "+05:45"), nil, 0, "2026-05-12T08:17:11Z"},
		{"phone in UTC", own(shot("2026-05-12T14:02:11"), "Z"), berlin, 0, "2026-05-12T14:02:11Z"},
		{"an offset that is none", own(shot("2026-05-12T14:02:11"), "+25:99"), berlin, 0, "2026-05-12T12:02:11Z"},
		{"parts of a second", parts, berlin, 0, "2026-05-12T12:02:11.57Z"},
		{"corrected", shot("2026-05-12T14:02:11"), berlin, -62 * time.Second, "2026-05-12T12:01:09Z"},
		{"corrected, own offset", own(shot("2026-05-12T14:02:11"), "+02:00"), nil, time.Hour, "2026-05-12T13:02:11Z"},
		{"a year behind", shot("2025-05-12T14:02:11"), berlin, year, "2026-05-12T12:02:11Z"},
		// 29 March 2025 and 30 March 2025: the wrong year's clock change lies
		// between them, the right one's (29 March 2026) does not
		{"a year and five days behind, before a change that was not", shot("2025-03-29T12:00:00"), berlin, year + 5*24*time.Hour, "2026-04-03T10:00:00Z"},
		{"the same, a day later", shot("2025-03-30T12:00:00"), berlin, year + 5*24*time.Hour, "2026-04-04T10:00:00Z"},
		{"first second of summer time", shot("2026-03-29T03:00:00"), berlin, 0, "2026-03-29T01:00:00Z"},
		{"last second of winter time", shot("2026-03-29T01:59:59"), berlin, 0, "2026-03-29T00:59:59Z"},
		{"in the hour that comes twice, the first", shot("2026-10-25T02:30:00"), berlin, 0, "2026-10-25T00:30:00Z"},
		{"half an hour that comes twice", shot("2026-04-05T01:45:00"), zone(t, "Australia/Lord_Howe"), 0, "2026-04-04T14:45:00Z"}, // +11 then +10:30, tz database, from memory
		{"file time is not corrected", file, berlin, time.Hour, "2026-05-12T12:02:11Z"},
		{"no camera, no correction", nobody, berlin, time.Hour, "2026-05-12T12:02:11Z"},
		{"no date", shot(""), berlin, 0, ""},
		{"a date that is none", shot("2026:05:12 14:02:11"), berlin, 0, ""},
		{"zeros", shot("0000-00-00T00:00:00"), berlin, 0, ""},
	} {
		d := &Desk{Zone: test.zone}
		clocks := []inspect.CameraClock{{Camera: "M C 9", Add: test.add, At: utc(t, "2026-01-02T00:00:00Z")},
			{Camera: "M C 9", Add: 7777 * time.Hour, At: utc(t, "2026-01-01T00:00:00Z")}, {Camera: "other", Add: 5 * time.Hour, At: utc(t, "2026-02-01T00:00:00Z")}}
		got, ok := d.TakenAt(test.photo, clocks)
		switch {
		case ok != (test.want != ""):
			t.Errorf("%s: ok is %v (%v)", test.name, ok, got)
		case ok && !got.Equal(utc(t, test.want)):
			t.Errorf("%s: %v, want %s", test.name, got.UTC().Format(time.RFC3339Nano), test.want)
		}
	}
	// both readings of the hour that comes twice, and one of the hour that never comes
	d := &Desk{Zone: berlin}
	if at := d.instants(shot("2026-10-25T02:30:00"), 0); len(at) != 2 || at[1].Sub(at[0]) != time.Hour {
		t.Errorf("the hour that comes twice: %v", at)
	}
	if at := d.instants(shot("2026-03-29T02:30:00"), 0); len(at) != 1 {
		t.Errorf("the hour that never comes: %v", at)
	}
}

// What a camera learns from a photo of the shop's clock makes that photo say
// what the clock showed, in any zone, for a camera off by up to 20 years, with
// an offset of its own or without.
func TestLearnClockIsTrueForItsPhoto(t *testing.T) {
	zones := []*time.Location{zone(t, "Europe/Berlin"), zone(t, "America/St_Johns"), zone(t, "Australia/Lord_Howe"), zone(t, "Asia/Kathmandu"), time.UTC}
	rapid.Check(t, func(rt *rapid.T) {
		b := newBench(t)
		b.desk.Zone = rapid.SampledFrom(zones).Draw(rt, "zone")
		shown := time.Unix(rapid.Int64Range(1.6e9, 1.9e9).Draw(rt, "shown"), 0).In(b.desk.Zone)
		wall := shown.Add(time.Duration(rapid.Int64Range(-19*365*86400, 19*365*86400).Draw(rt, "off")) * time.Second)
		p := shot(wall.Format(wallLayout))
		if rapid.Bool().Draw(rt, "own offset") {
			p.Offset, p.OffsetSource = rapid.SampledFrom([]string{"+00:00", "+02:00", "-07:00", "+05:45"}).Draw(rt, "offset"), "exif"
		} else if len(readings(asWall(shown, b.desk.Zone), b.desk.Zone)) > 1 {
			return // an hour that comes twice has no one answer
		}
		c, err := b.desk.LearnClock(context.Background(), p, shown)
		if err != nil {
			rt.Fatal(err)
		}
		if got, ok := b.desk.TakenAt(p, []inspect.CameraClock{c}); !ok || !got.Equal(shown) {
			rt.Fatalf("the clock showed %v, the photo says %v", shown, got)
		}
		// and a later photo of the same camera is later by as much
		later := rapid.Int64Range(0, 3600).Draw(rt, "later")
		q := p
		walls, _ := wallOf(p)
		q.WallTime = walls.Add(time.Duration(later) * time.Second).Format(wallLayout)
		want := asWall(shown, b.desk.Zone).Add(time.Duration(later) * time.Second)
		got, _ := b.desk.TakenAt(q, []inspect.CameraClock{c})
		if p.OffsetSource == "" && len(readings(want, b.desk.Zone)) == 1 && asWall(readings(want, b.desk.Zone)[0], b.desk.Zone).Equal(want) && !asWall(got, b.desk.Zone).Equal(want) {
			rt.Fatalf("%d s later the camera says %v, want %v on the wall", later, got, want)
		}
	})
}

func TestLearnClockRefuses(t *testing.T) {
	noon := time.Date(2026, 5, 12, 12, 0, 0, 0, time.UTC)
	file, nobody, broken := shot("2026-05-12T14:02:11"), shot("2026-05-12T14:02:11"), shot("yesterday")
	file.DateSource = "file time"
	nobody.Make, nobody.Model, nobody.BodySerial = "", "", ""
	for name, test := range map[string]struct {
		photo inspect.Photo
		shown time.Time
		zone  *time.Location
	}{
		"no date": {shot(""), noon, time.UTC}, "file time": {file, noon, time.UTC}, "no camera": {nobody, noon, time.UTC}, "broken date": {broken, noon, time.UTC},
		"nothing shown": {shot("2026-05-12T14:02:11"), time.Time{}, time.UTC}, "no zone": {shot("2026-05-12T14:02:11"), noon, nil},
		"21 years ahead": {shot("2047-06-12T14:02:11"), noon, time.UTC}, "21 years behind": {shot("2005-01-12T14:02:11"), noon, time.UTC},
		"300 years": {shot("2400-01-01T00:00:00"), noon, time.UTC},
	} {
		b := newBench(t)
		b.desk.Zone = test.zone
		_, err := b.desk.LearnClock(context.Background(), test.photo, test.shown)
		if inspect.CodeOf(err) != inspect.Invalid || len(b.lib.clocks) != 0 {
			t.Errorf("%s: %v, kept %v", name, err, b.lib.clocks)
		}
	}
}

func TestCameras(t *testing.T) {
	b := newBench(t)
	ctx := context.Background()
	b.must(b.desk.SetClock(ctx, "M C 9", time.Hour))
	b.days(1)
	b.must(b.desk.SetClock(ctx, "M C 9", 2*time.Hour))
	b.must(b.desk.SetClock(ctx, "A phone", -time.Minute))
	for i, p := range []inspect.Photo{shot("a"), shot("b"), {SHA256: "c"}} {
		p.AddedAt = b.now.AddDate(0, 0, i)
		_, err := b.lib.AddPhoto(ctx, p)
		b.must(err)
	}
	got, err := b.desk.Cameras(ctx)
	b.must(err)
	if len(got) != 2 || got[0].Name != "A phone" || got[0].Photos != 0 || got[1].Photos != 2 || got[1].Clock.Add != 2*time.Hour || !got[1].Last.Equal(b.now.AddDate(0, 0, 1)) {
		t.Errorf("cameras: %+v", got)
	}
}
