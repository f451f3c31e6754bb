package shop

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"forkwear/inspect"
)

const lengthCheck = "stanchions.scratch_length"

func (b *bench) photographed(c *Case, check string, leg inspect.Leg) inspect.Photo {
	b.t.Helper()
	p := shot("2026-05-12T10:30:00")
	p.SHA256 = string(b.desk.NewID())
	p.Check, p.Leg, p.Stage = check, leg, inspect.Received
	p, _, err := b.desk.KeepPhoto(ctx, c, p)
	b.must(err)
	return p
}

func length(p inspect.Photo, value, low, high float64) inspect.PhotoMeasure {
	return inspect.PhotoMeasure{PhotoID: p.ID, Kind: "length", Line: []inspect.Spot{{X: 1}, {X: 99}}, Value: value, Low: low, High: high, Unit: "mm", Method: "card"}
}

func TestKeepMeasure(t *testing.T) {
	b := shopDay(t)
	c := b.visit("look_over", 100)
	p := b.photographed(c, lengthCheck, inspect.Left)
	m, err := b.desk.KeepMeasure(ctx, c, length(p, 12.4, 11.42, 13.38), lengthCheck, inspect.Left, "", inspect.Received)
	b.must(err)
	r, ok := c.Current[inspect.Slot{VisitID: c.Visit.ID, Stage: inspect.Received, Check: lengthCheck, Leg: inspect.Left}]
	// (13.38 - 11.42) / (2 * 1.96) = 0.5; the factor from ISO/IEC Guide 98-3, table G.1
	if !ok || r.ID != m.ReadingID || r.Value != 12.4 || math.Abs(r.U-0.5) > 1e-12 || r.Unit != "mm" || r.Instrument != "photo_scale" || r.Answer != inspect.Measured || r.Typed != "12.4 mm" {
		t.Errorf("reading: %+v of %+v", r, m)
	}
	all, err := b.desk.Measures(ctx, p.ID)
	b.must(err)
	if len(all[p.ID]) != 1 || all[p.ID][0].ReadingID != r.ID {
		t.Errorf("kept: %+v", all)
	}
	// measured again: the new reading stands for the old one; taken off, the old one stands again
	n, err := b.desk.KeepMeasure(ctx, c, length(p, 13, 12, 14), lengthCheck, inspect.Left, "", inspect.Received)
	b.must(err)
	b.must(b.desk.Unmeasure(ctx, c, n))
	if r := c.Current[r.Slot()]; r.Value != 12.4 || math.Abs(r.U-0.5) > 1e-12 {
		t.Errorf("after taking off: %+v", r)
	}
	if all, _ = b.desk.Measures(ctx, p.ID); len(all[p.ID]) != 1 || all[p.ID][0].ID != m.ID {
		t.Errorf("after taking off: %+v", all)
	}
	b.must(b.desk.Unmeasure(ctx, c, m)) // its own value stands again: it goes too
	if r, ok := c.Current[r.Slot()]; ok {
		t.Errorf("taken off, and its value stands: %+v", r)
	}
	m, err = b.desk.KeepMeasure(ctx, c, length(p, 12.4, 11.42, 13.38), lengthCheck, inspect.Left, "", inspect.Received)
	b.must(err)
	b.say(c, lengthCheck, inspect.Left, inspect.Received, inspect.Measured, 15)
	b.must(b.desk.Unmeasure(ctx, c, m)) // another reading stands there since: it stays
	if r := c.Current[r.Slot()]; r.Value != 15 {
		t.Errorf("a later reading is gone: %+v", r)
	}
}

func TestKeepMeasureWithoutReading(t *testing.T) {
	b := shopDay(t)
	c := b.visit("look_over", 100)
	p := b.photographed(c, "", inspect.Whole)
	area := length(p, 5, 4, 6)
	area.Kind, area.Unit, area.Outline = "area", "mm2", []inspect.Spot{{}, {X: 1}, {Y: 1}}
	for name, test := range map[string]struct {
		m     inspect.PhotoMeasure
		check string
	}{
		"no check": {length(p, 5, 4, 6), ""}, "a grade": {length(p, 5, 4, 6), "stanchions.coating"}, "another unit": {area, lengthCheck},
		"a micrometer's": {length(p, 5, 4, 6), "stanchions.diameter"},
	} {
		m, err := b.desk.KeepMeasure(ctx, c, test.m, test.check, inspect.Left, "", inspect.Received)
		if err != nil || m.ReadingID != "" || m.ID == "" || m.By != "Ruth" {
			t.Errorf("%s: %+v, %v", name, m, err)
		}
	}
	if len(c.Readings) != 0 || len(b.lib.measures) != 4 {
		t.Errorf("%d readings, %d sizes", len(c.Readings), len(b.lib.measures))
	}
	for name, test := range map[string]struct {
		m     inspect.PhotoMeasure
		check string
		code  inspect.Code
	}{
		"unknown check":             {length(p, 5, 4, 6), "none", inspect.NotFound},
		"photo of another visit":    {length(inspect.Photo{ID: "else"}, 5, 4, 6), lengthCheck, inspect.Invalid},
		"outside its range":         {length(p, 7, 4, 6), lengthCheck, inspect.Invalid},
		"not a number":              {length(p, math.NaN(), 4, 6), lengthCheck, inspect.Invalid},
		"no photo":                  {length(inspect.Photo{}, 5, 4, 6), "", inspect.Invalid},
		"less than nothing at most": {length(p, 5, -1, 6), "", inspect.Invalid},
	} {
		if _, err := b.desk.KeepMeasure(ctx, c, test.m, test.check, inspect.Left, "", inspect.Received); inspect.CodeOf(err) != test.code {
			t.Errorf("%s: %v", name, err)
		}
	}
	// no reading without what it stands on
	b.lib.refuse = inspect.Refuse(inspect.Full, "the disk is full")
	_, err := b.desk.KeepMeasure(ctx, c, length(p, 5, 4, 6), lengthCheck, inspect.Left, "", inspect.Received)
	if inspect.CodeOf(err) != inspect.Full || len(c.Current) != 0 {
		t.Errorf("%v, in force: %v", err, c.Current)
	}
}

// The uncertainty of the reading is that of the range, whatever the range, and
// never the instrument's unless the range says nothing.
func TestKeepMeasureUncertainty(t *testing.T) {
	b := shopDay(t)
	c := b.visit("look_over", 100)
	p := b.photographed(c, lengthCheck, inspect.Left)
	rapid.Check(t, func(rt *rapid.T) {
		value := rapid.Float64Range(0, 500).Draw(rt, "value")
		low, high := value*rapid.Float64Range(0, 1).Draw(rt, "low"), value+rapid.Float64Range(1e-6, 50).Draw(rt, "above")
		m, err := b.desk.KeepMeasure(ctx, c, length(p, value, low, high), lengthCheck, inspect.Left, "", inspect.Received)
		if err != nil {
			rt.Fatal(err)
		}
		for _, r := range c.Readings {
			if r.ID == m.ReadingID {
				if back := r.U * 2 * 1.96; math.Abs(back-(high-low)) > 1e-9*(1+high) {
					rt.Fatalf("range %g to %g came out %g wide", low, high, back)
				}
				return
			}
		}
		rt.Fatal("no reading")
	})
}

func TestMarks(t *testing.T) {
	b := shopDay(t)
	c := b.visit("look_over", 100)
	p := b.photographed(c, "", inspect.Whole)
	m, err := b.desk.Mark(ctx, inspect.Mark{PhotoID: p.ID, Kind: inspect.MarkCircle, Points: []inspect.Spot{{X: 1}, {X: 5}}, Gone: true})
	b.must(err)
	if m.ID == "" || m.By != "Ruth" || !m.At.Equal(b.now) || m.Gone {
		t.Errorf("kept as %+v", m)
	}
	shown := func() int {
		all, err := b.desk.Marks(ctx, p.ID)
		b.must(err)
		return len(all[p.ID])
	}
	n := shown()
	b.must(b.desk.Unmark(ctx, m.ID))
	off := shown()
	b.must(b.desk.MarkAgain(ctx, m.ID))
	if back := shown(); n != 1 || off != 0 || back != 1 {
		t.Errorf("shown %d, off %d, back %d", n, off, back)
	}
	if _, err := b.desk.Mark(ctx, inspect.Mark{PhotoID: p.ID, Kind: "star"}); inspect.CodeOf(err) != inspect.Invalid {
		t.Errorf("a star: %v", err)
	}
}

func TestThrough(t *testing.T) {
	b := shopDay(t)
	var want []inspect.ID
	var c *Case
	for visit := range 3 {
		c = b.days(30).visit("look_over", float64(100*(visit+1)))
		want = append(want, b.photographed(c, lengthCheck, inspect.Left).ID, b.photographed(c, lengthCheck, inspect.Whole).ID)
		b.photographed(c, lengthCheck, inspect.Right)
		b.photographed(c, "seals.weep", inspect.Left)
	}
	got := c.Through(lengthCheck, inspect.Left)
	if len(got) != len(want) {
		t.Fatalf("%d photos, want %d", len(got), len(want))
	}
	for i, o := range got {
		if o.Photo.ID != want[i] || o.Visit.Visit.ID != o.Photo.VisitID || o.Visit.Hours != float64(100*(i/2+1)) || o.Visit.Fork.ID != c.Fork.ID {
			t.Errorf("%d: %+v", i, o)
		}
	}
}

// An area that is over the limit of the check (40 mm², common practice, no
// source) wears the part out as a typed number would; far below it, it does not.
func TestAreaOnPhotoFeedsTheVerdict(t *testing.T) {
	for value, over := range map[float64]bool{120: true, 2: false} {
		b := shopDay(t)
		c := b.visit("lowers", 100)
		p := b.photographed(c, "stanchions.coating_loss", inspect.Left)
		m := inspect.PhotoMeasure{PhotoID: p.ID, Kind: "area", Outline: []inspect.Spot{{}, {X: 1}, {Y: 1}}, Value: value, Low: value - 1, High: value + 1, Unit: "mm2"}
		m, err := b.desk.KeepMeasure(ctx, c, m, "stanchions.coating_loss", inspect.Left, "", inspect.Stripped)
		b.must(err)
		a := b.assess(c)[position{"stanchion", inspect.Left}]
		if a.LeadCheck != "stanchions.coating_loss" || a.WearUsed == nil || math.Abs(*a.WearUsed-value/40) > 1e-9 {
			t.Errorf("%g mm²: lead %s, wear %v", value, a.LeadCheck, a.WearUsed)
			continue
		}
		if (a.Verdict == inspect.Replace) != over || m.ReadingID == "" {
			t.Errorf("%g mm²: %s (%+v)", value, a.Verdict, decided(a))
		}
	}
}
