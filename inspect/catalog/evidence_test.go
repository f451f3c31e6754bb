package catalog

import (
	"strconv"
	"strings"
	"testing"

	"forkwear/inspect"
)

// shippedCatalog is the embedded catalog, read anew so that a test may change it.
func shippedCatalog(t testing.TB) *Catalog {
	t.Helper()
	c, err := Embedded()
	if err != nil {
		t.Fatal(err)
	}
	return c
}

func sheetOf(t testing.TB, c *Catalog, id string) Sheet {
	t.Helper()
	s, ok := c.Sheet(id)
	if !ok {
		t.Fatalf("no sheet %s", id)
	}
	return s
}

// evidenceOf writes evidence down shortly: "weeping@right" is a complaint,
// "stanchions.scratch@right=not_fine", "seals.weep@left=3" and
// "spring.rest_length=6" are readings, "+mud" a riding condition, "520h" hours.
func evidenceOf(t testing.TB, c *Catalog, lines ...string) Evidence {
	t.Helper()
	ev := Evidence{Readings: map[inspect.Slot]inspect.Reading{}}
	for i, line := range lines {
		what, value, isReading := strings.Cut(line, "=")
		id, leg, _ := strings.Cut(what, "@")
		switch {
		case strings.HasPrefix(line, "+"):
			ev.Conditions = append(ev.Conditions, line[1:])
		case !isReading && strings.HasSuffix(line, "h") && line[0] >= '0' && line[0] <= '9':
			ev.Hours, _ = strconv.ParseFloat(strings.TrimSuffix(line, "h"), 64)
		case !isReading:
			if _, ok := c.Symptom(id); !ok {
				t.Fatalf("no symptom %s", id)
			}
			ev.Symptoms = append(ev.Symptoms, inspect.Complaint{Symptom: id, Leg: inspect.Leg(leg)})
		default:
			r := readingOf(t, c, id, inspect.Leg(leg), value)
			r.Point = "point " + strconv.Itoa(i) // several lines of one check are its points
			ev.Readings[r.Slot()] = r
		}
	}
	return ev
}

func readingOf(t testing.TB, c *Catalog, id string, leg inspect.Leg, value string) inspect.Reading {
	t.Helper()
	k, ok := c.Check(id)
	if !ok {
		t.Fatalf("no check %s", id)
	}
	r := inspect.Reading{VisitID: "v", Check: id, Leg: leg, Stage: k.Stages[0]}
	switch x, err := strconv.ParseFloat(value, 64); {
	case err != nil:
		r.Answer = inspect.Answer(value)
	case k.Kind == Grade:
		r.Answer, r.Value = inspect.Graded, x
	default:
		r.Answer, r.Value = inspect.Measured, x
	}
	return r
}

func TestReduced(t *testing.T) {
	values := []float64{33.97, 33.99, 33.98, 33.94} // invented; results by hand
	for rule, want := range map[string]float64{"least": 33.94, "greatest": 33.99, "mean": 33.97, "range": 0.05, "": 33.99} {
		if got := Reduced(rule, values); got < want-1e-9 || got > want+1e-9 {
			t.Errorf("%q of %v is %g, want %g", rule, values, got, want)
		}
	}
	if got := Reduced("least", nil); got != 0 {
		t.Errorf("nothing reduces to %g, want 0", got)
	}
}

// The points of a check count by its rule: the least of six diameters, not the
// first, decides whether the tube is over.
func TestPointsAreReducedBeforeTheLimit(t *testing.T) {
	c := shippedCatalog(t)
	sheet := sheetOf(t, c, "generic_36_air_bladder")
	newValue := 36.0
	at := func(least float64) bool {
		ev := evidenceOf(t, c, "stanchions.diameter@left=35.995", "stanchions.diameter@left="+strconv.FormatFloat(least, 'f', 3, 64))
		for slot, r := range ev.Readings {
			r.New = &newValue // in force when it was measured
			ev.Readings[slot] = r
		}
		cond, _ := ParseCondition("check:stanchions.diameter=over")
		_, ok := cond.at(inspect.Left, c.view(sheet, ev))
		return ok
	}
	// Limit 0.02 mm below the tube's own new value: common practice, no source.
	if at(35.985) {
		t.Error("35.985 mm of a tube new at 36.000 mm is over, and the limit is 35.980 mm")
	}
	if !at(35.975) {
		t.Error("35.975 mm of a tube new at 36.000 mm is not over, and the limit is 35.980 mm")
	}
}

func TestAnswersThatSayNothing(t *testing.T) {
	c := shippedCatalog(t)
	sheet := sheetOf(t, c, "generic_36_air_bladder")
	for _, a := range []inspect.Answer{inspect.NotLooked, inspect.CannotSee, inspect.CannotGauge, inspect.DoesNotApply, inspect.ZoneSeen} {
		ev := evidenceOf(t, c, "bushings.feel="+string(a))
		for _, cond := range []string{"check:bushings.feel>=0", "check:bushings.feel<=5", "check:bushings.feel=over"} {
			p, err := ParseCondition(cond)
			if err != nil {
				t.Fatal(err)
			}
			if _, ok := p.at(inspect.Whole, c.view(sheet, ev)); ok {
				t.Errorf("the answer %s makes %s hold", a, cond)
			}
		}
	}
}
