package shop

import (
	"context"
	"fmt"
	"testing"
	"time"

	"pgregory.net/rapid"

	"forkwear/inspect"
)

// shopDay is a bench in Berlin at 10:00 on 12 May 2026 (08:00 UTC).
func shopDay(t testing.TB) *bench {
	b := newBench(t)
	b.desk.Zone = zone(t, "Europe/Berlin")
	b.now = utc(t, "2026-05-12T08:00:00Z")
	return b
}

func (b *bench) minutes(n int) *bench {
	b.now = b.now.Add(time.Duration(n) * time.Minute)
	return b
}

func (b *bench) another(level string) *Case {
	b.fork = ""
	return b.visit(level, 100)
}

func (b *bench) focus(c *Case, check string, leg inspect.Leg, stage inspect.Stage) {
	b.t.Helper()
	b.must(b.desk.FocusOn(ctx, c, check, leg, stage))
}

func (b *bench) receive(ps ...inspect.Photo) []Received {
	b.t.Helper()
	got, err := b.desk.Receive(ctx, ps)
	b.must(err)
	if len(got) != len(ps) {
		b.t.Fatalf("%d of %d came back", len(got), len(ps))
	}
	return got
}

// close collects a visit now.
func (b *bench) close(c *Case) {
	for i := range b.lib.visits {
		if b.lib.visits[i].ID == c.Visit.ID {
			b.lib.visits[i].Collected = b.now
		}
	}
}

func TestReceiveByFocus(t *testing.T) {
	b := shopDay(t)
	one := b.visit("lowers", 100)
	two := b.another("lowers")
	b.minutes(10).focus(one, "stanchions.coating", inspect.Left, inspect.Stripped) // 10:10
	b.minutes(10).focus(two, "seals.weep", inspect.Right, inspect.Received)        // 10:20
	b.minutes(20).focus(two, "", inspect.Whole, "")                                // 10:40 left
	b.minutes(200)                                                                 // synced at 14:00
	phone := shot("2026-05-12T01:15:00")
	phone.Offset, phone.OffsetSource = "-07:00", "exif"
	wrongYear := shot("2025-05-12T10:21:00")
	wrongYear.Model = "Old"
	b.must(b.desk.SetClock(ctx, wrongYear.Camera(), 365*24*time.Hour))
	for _, test := range []struct {
		name, how string
		photo     inspect.Photo
		c         *Case
		check     string
		leg       inspect.Leg
	}{
		{"while it was in front", ByFocus, shot("2026-05-12T10:15:00"), one, "stanchions.coating", inspect.Left},
		{"the moment it came", ByFocus, shot("2026-05-12T10:20:00"), two, "seals.weep", inspect.Right},
		{"the second before", ByFocus, shot("2026-05-12T10:19:59"), one, "stanchions.coating", inspect.Left},
		{"by a phone that says its zone", ByFocus, phone, one, "stanchions.coating", inspect.Left},
		{"by a camera a year behind", ByFocus, wrongYear, two, "seals.weep", inspect.Right},
		{"after it was left, two forks here", Unsorted, shot("2026-05-12T10:41:00"), nil, "", ""},
		{"before any was in front, two forks here", Unsorted, shot("2026-05-12T10:05:00"), nil, "", ""},
		{"before any fork came", Unsorted, shot("2026-05-12T09:59:00"), nil, "", ""},
		{"in the future", Unsorted, shot("2026-05-13T10:15:00"), nil, "", ""},
	} {
		got := b.receive(test.photo)[0]
		want := Received{Photo: got.Photo, How: test.how, Why: got.Why}
		if test.c != nil {
			want.Visit, want.Ticket = test.c.Visit.ID, test.c.Visit.Ticket
		}
		if fmt.Sprint(got) != fmt.Sprint(want) || (got.Why == "") == (got.How == Unsorted) {
			t.Errorf("%s: %+v", test.name, got)
		}
		p := got.Photo
		if p.VisitID != want.Visit || p.Check != test.check || p.Leg != test.leg || (p.Role == "evidence") != (test.check != "") || (p.FittingID == "") != (test.check == "") {
			t.Errorf("%s: filed as %+v", test.name, p)
		}
	}
	if got := b.lib.photos; len(got) != 9 {
		t.Errorf("%d photos are kept", len(got))
	}
}

func TestReceiveOtherwise(t *testing.T) {
	file := shot("2026-05-12T10:15:00")
	file.DateSource = "file time"
	b := shopDay(t)
	one := b.visit("lowers", 100)
	b.focus(one, "stanchions.coating", inspect.Left, inspect.Stripped)
	b.minutes(300)

	// the file's time files nothing, though a fork was in front then
	if got := b.receive(file)[0]; got.How != Unsorted || got.Why != "It has no camera date, and the time of the file says nothing of when it was taken." {
		t.Errorf("file time: %+v", got)
	}
	// three hours after the focus nobody knows what was in front, but one fork is here
	if got := b.receive(shot("2026-05-12T13:00:01"))[0]; got.How != ByTime || got.Visit != one.Visit.ID || got.Photo.Check != "" {
		t.Errorf("one fork: %+v", got)
	}
	// the same bytes again stay where they are
	if got := b.receive(shot("2026-05-12T13:00:01"))[0]; got.How != Known || !got.Existed || got.Ticket != one.Visit.Ticket {
		t.Errorf("again: %+v", got)
	}
	// no zone, no instant
	b.desk.Zone = nil
	loose := shot("2026-05-12T10:16:00")
	if got := b.receive(loose)[0]; got.How != Unsorted || got.Existed {
		t.Errorf("no zone: %+v", got)
	}
	left, err := b.desk.Unsorted(ctx)
	b.must(err)
	if len(left) != 2 {
		t.Fatalf("unsorted: %+v", left)
	}
	// with a zone the photo finds its place, the one by file time does not
	b.desk.Zone = zone(t, "Europe/Berlin")
	again, err := b.desk.SortAgain(ctx)
	b.must(err)
	if len(again) != 2 || again[0].How != Unsorted || again[1].How != ByFocus || !again[1].Existed {
		t.Errorf("sorted again: %+v", again)
	}
	if ps, _ := b.lib.Photos(ctx, inspect.PhotoFilter{SHA256: loose.SHA256}); len(ps) != 1 || ps[0].VisitID != one.Visit.ID || ps[0].Check != "stanchions.coating" {
		t.Errorf("filed: %+v", ps)
	}
	b.must(b.desk.File(ctx, left[0].ID, one.Visit.ID))
	// collected since: it was taken in time and comes too late
	b.close(one)
	if got := b.receive(shot("2026-05-12T10:17:00"))[0]; got.How != Unsorted || got.Visit != "" || got.Photo.VisitID != "" || got.Why != "It belongs to ticket 1, which was collected on 12 May 2026: its record is locked." {
		t.Errorf("too late: %+v", got)
	}
}

// In the hour that comes twice, a photo is filed where both readings agree.
func TestReceiveInTheHourThatComesTwice(t *testing.T) {
	for _, moved := range []bool{false, true} {
		b := shopDay(t)
		one, two := b.visit("lowers", 100), b.another("lowers")
		b.now = utc(t, "2026-10-25T00:15:00Z") // 02:15 summer time
		b.focus(one, "stanchions.coating", inspect.Left, inspect.Stripped)
		b.now = utc(t, "2026-10-25T01:15:00Z") // 02:15 winter time
		if moved {
			b.focus(two, "seals.weep", inspect.Left, inspect.Received)
		}
		b.minutes(60)
		got := b.receive(shot("2026-10-25T02:30:00"))[0]
		if want := map[bool]string{false: ByFocus, true: Unsorted}[moved]; got.How != want {
			t.Errorf("moved %v: %+v", moved, got)
		}
	}
}

func TestReceiveByCard(t *testing.T) {
	b := shopDay(t)
	one := b.visit("lowers", 100)
	two := b.another("lowers")
	b.focus(two, "seals.weep", inspect.Right, inspect.Received)
	b.minutes(60)
	b.desk.CardVisit = func(code string) (inspect.ID, bool) {
		if len(code) < 4 || code[:3] != "FW:" {
			return "", false
		}
		return inspect.ID(code[3:]), true
	}
	carded := func(wall, code string) inspect.Photo {
		p := shot(wall)
		p.CardCode = code
		return p
	}
	for name, test := range map[string]struct {
		photo inspect.Photo
		how   string
		visit inspect.ID
		check string
	}{
		"another than in front": {carded("2026-05-12T10:30:00", "FW:"+string(one.Visit.ID)), ByCard, one.Visit.ID, ""},
		"the one in front":      {carded("2026-05-12T10:31:00", "FW:"+string(two.Visit.ID)), ByCard, two.Visit.ID, "seals.weep"},
		"without a date":        {carded("", "FW:"+string(one.Visit.ID)), ByCard, one.Visit.ID, ""},
		"a year off":            {carded("2025-05-12T10:31:00", "FW:"+string(one.Visit.ID)), ByCard, one.Visit.ID, ""},
		"of another shop":       {carded("2026-05-12T10:32:00", "FW:elsewhere"), ByFocus, two.Visit.ID, "seals.weep"},
		"of another code":       {carded("2026-05-12T10:33:00", "parcel 17"), ByFocus, two.Visit.ID, "seals.weep"},
	} {
		test.photo.SHA256 = name
		got := b.receive(test.photo)[0]
		if got.How != test.how || got.Visit != test.visit || got.Photo.Check != test.check {
			t.Errorf("%s: %+v", name, got)
		}
	}
	b.close(one)
	if got := b.receive(carded("2026-05-12T10:34:00", "FW:"+string(one.Visit.ID)))[0]; got.How != Unsorted || got.Why == "" {
		t.Errorf("collected: %+v", got)
	}
}

func TestReceiveTellsLikeness(t *testing.T) {
	b := shopDay(t)
	b.desk.Alike = nibbles
	b.visit("lowers", 100)
	b.minutes(60)
	var ps []inspect.Photo
	for i, print := range []string{"aaaaaaaaaaaaaaaa", "aaaaaaaaaaaaaaab", "bbbbbbbbbbbbbbbb"} {
		p := shot(fmt.Sprintf("2026-05-12T10:3%d:00", i))
		p.Fingerprint = print
		ps = append(ps, p)
	}
	got := b.receive(ps...)
	if len(got[0].Like) != 0 || len(got[1].Like) != 1 || got[1].Like[0].ID != got[0].Photo.ID || len(got[2].Like) != 0 {
		t.Errorf("like: %v %v %v", got[0].Like, got[1].Like, got[2].Like)
	}
	like, err := b.desk.LooksLike(ctx, got[0].Photo) // not like itself
	b.must(err)
	if len(like) != 1 || like[0].ID != got[1].Photo.ID {
		t.Errorf("looks like %v", like)
	}
}

// Whatever was in front and whenever the photos arrive: each is filed with what
// a person with a list of the focuses would say, none is lost, none comes twice.
func TestReceiveFindsTheFocus(t *testing.T) {
	checks := []string{"", "stanchions.coating", "seals.weep", "stanchions.scratch"}
	rapid.Check(t, func(rt *rapid.T) {
		b := shopDay(t)
		cases := []*Case{b.visit("lowers", 100), b.another("lowers")}
		start := b.now
		type moment struct {
			at    time.Time
			visit inspect.ID
			check string
		}
		var log []moment
		for range rapid.IntRange(0, 8).Draw(rt, "moves") {
			b.minutes(rapid.IntRange(1, 150).Draw(rt, "minutes"))
			c, check := rapid.SampledFrom(cases).Draw(rt, "case"), rapid.SampledFrom(checks).Draw(rt, "check")
			before := len(b.lib.focuses)
			b.focus(c, check, inspect.Left, inspect.Stripped)
			if len(b.lib.focuses) > before {
				log = append(log, moment{b.now, c.Visit.ID, check})
			}
		}
		end := b.minutes(1).now
		var ps []inspect.Photo
		var want []moment
		for i := range rapid.IntRange(1, 6).Draw(rt, "photos") {
			at := start.Add(time.Duration(rapid.Int64Range(0, int64(end.Sub(start)/time.Second)).Draw(rt, "second")) * time.Second)
			p := shot(at.In(b.desk.Zone).Format(wallLayout))
			p.SHA256 = fmt.Sprint(i)
			var w moment
			for _, m := range log {
				if !m.at.After(at) && at.Sub(m.at) <= 2*time.Hour {
					w = m
				}
			}
			ps, want = append(ps, p), append(want, w)
		}
		b.minutes(rapid.IntRange(0, 600).Draw(rt, "sync"))
		for i, got := range b.receive(ps...) {
			w := want[i]
			if w.check == "" {
				w.visit = "" // two forks are here, so that time alone tells nothing
			}
			if got.Photo.VisitID != w.visit || got.Photo.Check != w.check || got.Visit != w.visit {
				rt.Fatalf("photo of %s: %+v, want %+v", ps[i].WallTime, got, w)
			}
		}
		if len(b.lib.photos) != len(ps) {
			rt.Fatalf("%d photos of %d", len(b.lib.photos), len(ps))
		}
		for _, got := range b.receive(ps...) {
			if !got.Existed {
				rt.Fatalf("came twice: %+v", got)
			}
		}
	})
}

func TestFocusOn(t *testing.T) {
	b := shopDay(t)
	one, two := b.visit("lowers", 100), b.another("lowers")
	b.must(b.desk.FocusOn(ctx, nil, "seals.weep", inspect.Left, inspect.Received))
	b.focus(one, "", inspect.Whole, "") // never was in front
	b.focus(one, "seals.weep", inspect.Left, inspect.Received)
	b.minutes(5).focus(one, "seals.weep", inspect.Left, inspect.Received) // nothing moved
	b.focus(one, "seals.weep", inspect.Right, inspect.Received)
	b.focus(two, "seals.weep", inspect.Right, inspect.Received)
	b.focus(one, "", inspect.Whole, "") // two is in front already
	b.minutes(31).focus(two, "seals.weep", inspect.Right, inspect.Received)
	b.focus(two, "", inspect.Left, inspect.Received)
	b.focus(two, "", inspect.Whole, "")
	if n := len(b.lib.focuses); n != 5 {
		t.Errorf("%d are kept: %+v", n, b.lib.focuses)
	}
	for _, code := range []inspect.Code{inspect.Locked, inspect.ReadOnly} {
		b.lib.refuse = inspect.Refuse(code, "no")
		b.focus(one, "seals.weep", inspect.Left, inspect.Received)
	}
	b.lib.refuse = inspect.Refuse(inspect.Full, "no")
	if err := b.desk.FocusOn(ctx, one, "seals.weep", inspect.Left, inspect.Received); inspect.CodeOf(err) != inspect.Full {
		t.Errorf("a full disk: %v", err)
	}
	one.Visit.Collected = b.now
	b.focus(one, "seals.weep", inspect.Left, inspect.Received)
}

func TestReceiveStops(t *testing.T) {
	b := shopDay(t)
	stopped, stop := context.WithCancel(ctx)
	stop()
	if got, err := b.desk.Receive(stopped, []inspect.Photo{shot("2026-05-12T10:30:00")}); err == nil || len(got) != 0 {
		t.Errorf("%v, %v", got, err)
	}
}

// A fork that has gone by the time of the photo is neither in front nor here.
func TestReceiveAfterAForkHasGone(t *testing.T) {
	b := shopDay(t)
	gone, here := b.visit("lowers", 100), b.another("lowers")
	b.minutes(20).focus(gone, "seals.weep", inspect.Left, inspect.Received)
	b.minutes(10).close(gone) // 10:30
	b.minutes(60)
	for wall, want := range map[string]string{"2026-05-12T10:29:59": Unsorted, "2026-05-12T10:30:00": ByTime, "2026-05-12T10:40:00": ByTime} {
		got := b.receive(shot(wall))[0]
		if got.How != want || want == ByTime && got.Visit != here.Visit.ID {
			t.Errorf("%s: %+v", wall, got)
		}
	}
}
