package shop

import (
	"fmt"
	"math"
	"testing"
	"time"

	"forkwear/inspect"
)

func measured(fit string, x, hours float64, known bool, st inspect.Stage, day int) inspect.TrendRow {
	return inspect.TrendRow{ForkID: inspect.ID("fork" + fit), Sheet: "generic_36_air_bladder", AgeKnown: known, Hours: hours,
		On: time.Date(2024, 1, 1+day, 0, 0, 0, 0, time.UTC),
		Reading: inspect.Reading{ID: inspect.ID(fmt.Sprint(fit, day)), VisitID: inspect.ID(fmt.Sprint("v", fit, day)), FittingID: inspect.ID(fit),
			Check: "stanchions.diameter", Leg: inspect.Left, Stage: st, Answer: inspect.Measured, Value: x, U: 0.002}}
}

// A limit so far from new, and no new value: the mean of new parts of the same
// sheet stands in from three on. Mean and spread by hand: 35.998, 36.000, 36.002
// have mean 36.000, s = 0.002, u = 0.002 sqrt(4/3) = 0.0023094.
func TestNewValueFromNewParts(t *testing.T) {
	b := newBench(t)
	k, _ := cat.Check("stanchions.diameter") // limit 0.02 mm below new, limit_u 0.005
	rows := []inspect.TrendRow{
		measured("a", 35.998, 0, true, inspect.AfterWork, 0),
		measured("b", 36.000, 0, true, inspect.AfterWork, 0),
		measured("c", 36.002, 0, true, inspect.AfterWork, 0),
		measured("d", 35.990, 0, false, inspect.AfterWork, 0), // age not known: no new part
		measured("e", 35.980, 90, true, inspect.AfterWork, 0), // ridden
		measured("f", 35.990, 300, false, inspect.Stripped, 0),
		measured("f", 35.985, 400, false, inspect.Stripped, 90),
		measured("a", 35.994, 200, true, inspect.Stripped, 90),
	}
	other := measured("g", 35.5, 0, true, inspect.AfterWork, 0)
	other.Sheet = "another"
	rows = append(rows, other)
	v := b.desk.newValues(k, rows)
	if m := v["generic_36_air_bladder"]; len(v) != 1 || m.n != 3 || math.Abs(m.value-36) > 1e-9 || math.Abs(m.u-0.002*math.Sqrt(4.0/3)) > 1e-9 {
		t.Fatalf("%+v, want 36.000 ± 0.00231 of 3", v)
	}
	s := b.desk.seriesOf(k, rows)
	f := s[seriesKey{"f", inspect.Left}]
	if f.baseline || len(f.points) != 2 {
		t.Fatalf("%+v: want both readings against the mean, none a baseline", f)
	}
	// w = (35.990 - 36)/-0.02 = 0.5; u = hypot(0.002, 0.0023094, 0.5*0.005)/0.02
	if o, u := f.points[0].obs, math.Sqrt(0.002*0.002+0.002*0.002*4/3+0.0025*0.0025)/0.02; math.Abs(o.Value-0.5) > 1e-9 || math.Abs(o.U-u) > 1e-9 {
		t.Errorf("wear used %.4f ± %.4f, want 0.5 ± %.4f", o.Value, o.U, u)
	}
	// a was read when new: its own reading stays its datum, (35.994 - 35.998)/-0.02
	if a := s[seriesKey{"a", inspect.Left}]; len(a.points) != 1 || math.Abs(a.points[0].obs.Value-0.2) > 1e-9 {
		t.Errorf("%+v: want 0.2 against its own new value", a)
	}
	// two new parts are too few: the first reading as before, (35.985 - 35.990)/-0.02
	s = b.desk.seriesOf(k, append(rows[1:7:7], other))
	if f := s[seriesKey{"f", inspect.Left}]; !f.baseline || len(f.points) != 1 || math.Abs(f.points[0].obs.Value-0.25) > 1e-9 {
		t.Errorf("%+v: want a baseline and 0.25", f)
	}
	k.LimitFromNew = nil
	if v := b.desk.newValues(k, rows); v != nil {
		t.Errorf("%+v for a check whose limit is no distance from new", v)
	}
}

// Through the desk: three forks measured when new, and a fourth that came
// ridden is judged at its first visit.
func TestFirstVisitAgainstNewParts(t *testing.T) {
	b := newBench(t)
	k, _ := cat.Check("stanchions.diameter")
	said := func(hours, x float64, old bool) (*Case, inspect.Assessment) {
		b.fork = ""
		c := b.days(1).visit("lowers", hours, func(in *Intake) { in.AtLeast = old })
		for _, p := range k.Points {
			_, err := b.desk.Answer(ctx, c, Answer{Check: k.ID, Leg: inspect.Left, Point: p, Stage: inspect.Stripped, Answer: inspect.Measured,
				Value: x, Instrument: "micrometer"})
			b.must(err)
		}
		return c, b.assess(c)[position{"stanchion", inspect.Left}]
	}
	if _, a := said(500, 35.99, true); a.WearUsed != nil {
		t.Fatalf("wear used %g with nothing to measure against", *a.WearUsed)
	}
	for i := 0; i < 3; i++ {
		said(0, 36+0.001*float64(i), false)
	}
	_, a := said(500, 35.991, true) // (35.991 - 36.001)/-0.02, the correction for the least of six is the same for all
	if a.WearUsed == nil || math.Abs(*a.WearUsed-0.5) > 0.02 {
		t.Errorf("%+v: want wear used 0.5 against the mean of three new tubes", a)
	}
}
