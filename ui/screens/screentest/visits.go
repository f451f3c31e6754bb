package screentest

import (
	"context"
	"fmt"
	"testing"
	"time"

	"forkwear/inspect"
	"forkwear/inspect/catalog"
	"forkwear/inspect/shop"
	"forkwear/inspect/verdict"
	"forkwear/ui/place"
)

// Sheet is the data sheet of the sample fork: air spring left, damper right.
const Sheet = "generic_32_air_bladder"

// Visit takes in a fork that was here twice before, for a full service, answers
// some checks of the first stage (one fails) and leaves two photos in the tray.
func Visit(t testing.TB, env *place.Env) inspect.ID {
	t.Helper()
	id := Fresh(t, env, "full")
	c := Open(t, env, id)
	must(t, answer(env.Desk, c, "stanchions.dent", inspect.Left, inspect.Fine, 0))
	must(t, answer(env.Desk, c, "stanchions.dent", inspect.Right, inspect.Fine, 0))
	must(t, answer(env.Desk, c, "seals.weep", inspect.Left, inspect.Graded, 3))
	must(t, answer(env.Desk, c, "seals.weep", inspect.Right, inspect.Graded, 1))
	must(t, keep(env.Desk, c, "IMG_0310.JPG", "seals.weep", inspect.Left))
	must(t, keep(env.Desk, c, "IMG_0311.JPG", "", ""))
	must(t, keep(env.Desk, c, "IMG_0312-undated.JPG", "", ""))
	return id
}

// Fresh takes in a fork that was here twice before and answers nothing. The
// earlier visits are collected, with all of their checks answered and a photo
// of the left wiper each.
func Fresh(t testing.TB, env *place.Env, level string) inspect.ID {
	t.Helper()
	d := env.Desk
	clock := d.Clock
	defer func() { d.Clock = clock }()
	in := shop.Intake{
		Customer: inspect.Customer{Name: "First Customer", Phone: "000 111 22", ReachBy: "phone"},
		Fork:     inspect.Fork{Maker: "Sample", Model: "Trail 120", Year: 2023, Serial: "S-000123", Tag: "A-17", Sheet: Sheet},
		Visit:    inspect.Visit{Level: "full", Conditions: []string{"dust"}},
		Hours:    90, HoursU: 10, HoursFrom: "typed",
	}
	for i, hours := range []float64{90, 212} {
		d.Clock = at(Now.AddDate(-1, 0, 180*i-100))
		in.Hours = hours
		v, err := d.TakeIn(context.Background(), in)
		must(t, err)
		c := Open(t, env, v.ID)
		in.Customer, in.Fork = c.Customer, c.Fork
		must(t, AnswerAll(d, c, i))
		must(t, keep(d, c, fmt.Sprintf("IMG_01%02d.JPG", i), "seals.weep", inspect.Left))
		must(t, d.Lib.Collect(context.Background(), v.ID, d.Clock(), d.Who()))
	}
	d.Clock = clock
	in.Hours, in.HoursU, in.Visit.Level = 318, 12, level
	in.Complaints = []inspect.Complaint{{Symptom: "knock", Since: "two weeks"}}
	v, err := d.TakeIn(context.Background(), in)
	must(t, err)
	return v.ID
}

// First takes in a fork that was never here.
func First(t testing.TB, env *place.Env, level string) inspect.ID {
	t.Helper()
	v, err := env.Desk.TakeIn(context.Background(), shop.Intake{
		Customer: inspect.Customer{Name: "Second Customer"},
		Fork:     inspect.Fork{Maker: "Sample", Model: "Cross 100", Sheet: Sheet},
		Visit:    inspect.Visit{Level: level}, Hours: 40, HoursU: 5,
	})
	must(t, err)
	return v.ID
}

// Decided takes in the fork of Fresh for a full service, answers every check
// and decides. The left wiper fails.
func Decided(t testing.TB, env *place.Env) inspect.ID {
	t.Helper()
	id := Fresh(t, env, "full")
	c := Open(t, env, id)
	must(t, AnswerAll(env.Desk, c, 2))
	must(t, answer(env.Desk, c, "seals.weep", inspect.Left, inspect.Graded, 3))
	must(t, keep(env.Desk, c, "IMG_0310.JPG", "seals.weep", inspect.Left))
	must(t, env.Desk.Decide(context.Background(), c, verdict.Rules{}))
	return id
}

// Open loads a case.
func Open(t testing.TB, env *place.Env, visit inspect.ID) *shop.Case {
	t.Helper()
	c, err := env.Desk.Open(context.Background(), visit)
	must(t, err)
	return c
}

// AnswerAll answers every open check of the first two stages: fine, a grade of
// half the turn'th step, a number on the good side of its limit.
func AnswerAll(d *shop.Desk, c *shop.Case, turn int) error {
	for _, stage := range []inspect.Stage{inspect.Received, inspect.Stripped} {
		for _, p := range d.Positions(c, stage) {
			a := shop.Answer{Check: p.Check.ID, Leg: p.Leg, Stage: stage, Answer: inspect.Fine}
			switch p.Check.Kind {
			case catalog.Grade:
				a.Answer, a.Value = inspect.Graded, float64(turn)
				if p.Check.HalfSteps {
					a.Value = float64(turn) * 0.5
				}
			case catalog.Number:
				a.Answer, a.Value = inspect.Measured, number(p.Check, c.Sheet, turn)
				a.Typed = fmt.Sprint(a.Value)
			}
			if _, err := d.Answer(context.Background(), c, a); err != nil {
				return err
			}
		}
	}
	return nil
}

// number moves from the new value towards the limit, a tenth a turn.
func number(k catalog.Check, sheet catalog.Sheet, turn int) float64 {
	fresh, limit := k.Bounds(sheet)
	share := 0.1 * float64(turn+1)
	switch {
	case fresh != nil && limit != nil:
		return *fresh + share*(*limit-*fresh)
	case limit != nil && k.Sense == "falls":
		return *limit * (1.5 - share)
	case limit != nil:
		return *limit * share
	case fresh != nil:
		return *fresh
	case k.LimitFromNew != nil:
		return 10 + share*(*k.LimitFromNew)
	}
	return 8 + float64(turn)
}

func answer(d *shop.Desk, c *shop.Case, check string, leg inspect.Leg, a inspect.Answer, value float64) error {
	_, err := d.Answer(context.Background(), c, shop.Answer{Check: check, Leg: leg, Stage: inspect.Received, Answer: a, Value: value})
	return err
}

func keep(d *shop.Desk, c *shop.Case, name, check string, leg inspect.Leg) error {
	p := Photo(name)
	p.WallTime = ""
	if p.DateSource != "" {
		p.WallTime = d.Clock().Format("2006-01-02T15:04:05")
	}
	if check != "" {
		p.Check, p.Leg, p.Stage = check, leg, inspect.Received
	}
	_, _, err := d.KeepPhoto(context.Background(), c, p)
	return err
}

func at(t time.Time) func() time.Time { return func() time.Time { return t } }

func must(t testing.TB, err error) {
	t.Helper()
	if err != nil {
		t.Fatal(err)
	}
}
