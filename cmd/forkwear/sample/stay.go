package sample

import (
	"context"
	"fmt"
	"math"
	"time"

	"forkwear/inspect"
	"forkwear/inspect/catalog"
	"forkwear/inspect/shop"
)

// begun is a visit that was looked at and waits for its pictures.
type begun struct {
	plan    stayPlan
	c       *shop.Case
	now     time.Time
	by      string
	scratch float64                 // mm, of the planted scratch on the left tube; 0 none
	bare    map[inspect.Leg]float64 // mm2 of bare metal
	wishes  []*wish
}

// start takes a fork in and looks it over; its pictures are drawn meanwhile.
func (f *Filler) start(ctx context.Context, st stayPlan) (*begun, error) {
	f.now = st.on
	f.desk.By = people[st.nth%2]
	v, err := f.desk.TakeIn(ctx, f.intake(st))
	if err != nil {
		return nil, err
	}
	f.past.open[v.ID] = true
	st.rider.ids.customer, st.rider.ids.fork = v.CustomerID, v.ForkID
	b := &begun{plan: st, by: f.desk.By, bare: map[inspect.Leg]float64{}}
	if b.c, err = f.desk.Open(ctx, v.ID); err != nil {
		return nil, err
	}
	b.scratch = f.scratchOf(b)
	if st.open != inspect.StepDone {
		f.atCounter(ctx, b)
	}
	for _, stage := range []inspect.Stage{inspect.Received, inspect.Stripped} {
		f.now = f.now.Add(40 * time.Minute)
		if err := f.look(ctx, b, stage, st.open == inspect.StepInspect && stage == inspect.Stripped); err != nil {
			return nil, err
		}
		f.photograph(ctx, b, stage)
	}
	b.now = f.now
	return b, nil
}

// end walks a visit through the shop as far as the plan says.
func (f *Filler) end(ctx context.Context, b *begun) error {
	f.desk.By = b.by
	if err := f.keepPictures(ctx, b); err != nil {
		return err
	}
	if f.now.Before(b.now) {
		f.now = b.now
	}
	c, st := b.c, b.plan
	defer delete(f.past.open, c.Visit.ID)
	if st.open == inspect.StepInspect {
		return nil
	}
	if err := f.desk.Move(ctx, c, inspect.StepDecide); err != nil {
		return err
	}
	rules, err := f.desk.Rules(ctx)
	if err != nil {
		return err
	}
	f.past.refresh(st.on, f.newest(b))
	if err := f.desk.Decide(ctx, c, rules); err != nil {
		return err
	}
	if st.open == inspect.StepDecide {
		v := c.Visit
		v.WaitsFor, v.WaitsSince = "customer", f.now
		return f.desk.Lib.SaveVisit(ctx, v)
	}
	return f.service(ctx, b)
}

// newest is what the trends must know of: this fork's last visit, and all for a
// visit that is still open, which the window decides anew.
func (f *Filler) newest(b *begun) time.Time {
	if b.plan.open != inspect.StepDone {
		return b.plan.on
	}
	if len(b.c.Earlier) == 0 {
		return time.Time{}
	}
	return b.c.Earlier[0].Row.Visit.DroppedOff
}

// A planted scratch was scratchFirst long when its tube was first seen, and
// grows with every hour.
const (
	scratchFirst   = 9.0
	scratchPerHour = 0.055
	scratchMost    = 38.0
)

// scratchOf is how long the scratch on the left tube is at this visit: it goes
// with its tube.
func (f *Filler) scratchOf(b *begun) float64 {
	fit, ok := b.c.Fitting("stanchion", inspect.Left)
	r := b.plan.rider
	if r.ids.first == "" {
		r.ids.first = b.c.Visit.ID
	}
	if !r.scratched || !ok || fit.FittedVisit != r.ids.first {
		return 0
	}
	return math.Min(scratchMost, scratchFirst+scratchPerHour*(b.plan.hours-r.startH))
}

func (f *Filler) service(ctx context.Context, b *begun) error {
	c, st := b.c, b.plan
	f.now = f.now.Add(24 * time.Hour)
	if err := f.consents(ctx, b); err != nil {
		return err
	}
	if err := f.desk.Move(ctx, c, inspect.StepService); err != nil {
		return err
	}
	if st.open == inspect.StepService {
		return nil
	}
	if _, err := f.desk.RenewDecided(ctx, c); err != nil {
		return err
	}
	for _, t := range catalog.TasksFor(f.Catalog, c.Sheet, c.Visit.Level, "") {
		if t.Unit != "" || t.List == "hand_back" && st.open != inspect.StepDone {
			continue
		}
		if err := f.Lib.PutTask(ctx, inspect.Task{VisitID: c.Visit.ID, Key: t.ID, Done: true, By: f.desk.By, At: f.now}); err != nil {
			return err
		}
	}
	f.now = f.now.Add(2 * time.Hour)
	if err := f.look(ctx, b, inspect.AfterWork, false); err != nil {
		return err
	}
	if err := f.desk.Move(ctx, c, inspect.StepHandBack); err != nil {
		return err
	}
	if st.open == inspect.StepHandBack {
		return nil
	}
	for _, s := range c.Settings {
		s.Moment = "left"
		if err := f.Lib.PutSetting(ctx, s); err != nil {
			return err
		}
	}
	f.now = f.now.Add(20 * time.Hour)
	return f.desk.Collect(ctx, c)
}

func (f *Filler) intake(st stayPlan) shop.Intake {
	r := st.rider
	in := shop.Intake{Customer: r.customer, Fork: r.fork, Hours: st.hours, HoursU: math.Max(3, 0.06*st.hours), AtLeast: r.atLeast && st.nth == 0,
		HoursFrom: "computer", HoursWords: fmt.Sprintf("about %.0f h a week", r.perWeek)}
	in.Customer.ID, in.Fork.ID = r.ids.customer, r.ids.fork
	signed := Signature(r.customer.Name)
	in.Visit = inspect.Visit{Level: st.level, Purpose: "paid", Promised: st.on.AddDate(0, 0, 4), Conditions: []string{"dry", "dust"},
		CameWith: []string{"axle"}, GoAhead: inspect.Money{Minor: 15000, Currency: "EUR"},
		SignedBy: r.customer.Name, Signature: signed}
	if r.wet {
		in.Visit.Conditions = []string{"wet", "mud"}
	}
	if r.fork.ID == "" && st.nth > 0 {
		in.Customer.Created = st.on
	}
	in.Settings = []inspect.Setting{
		{Key: "rebound_clicks", Value: float64(4 + f.rng.IntN(8)), Unit: "clicks"},
		{Key: "compression_clicks", Value: float64(2 + f.rng.IntN(9)), Unit: "clicks"}}
	if s, ok := f.Catalog.Sheet(r.sheet); ok && s.Spring == "air" {
		in.Settings = append(in.Settings, inspect.Setting{Key: "air_pressure", Value: math.Round(10*(4.5+2*f.rng.Float64())) / 10, Unit: "bar"})
	}
	return in
}

// look answers the checklist of one stage; with half it stops in the middle.
func (f *Filler) look(ctx context.Context, b *begun, stage inspect.Stage, half bool) error {
	c := b.c
	for round := 0; round < 2; round++ { // findings open further checks
		var as []shop.Answer
		ps := f.desk.Positions(c, stage)
		if half {
			ps = ps[:len(ps)/2]
		}
		for _, p := range ps {
			if !c.Answered(p) {
				as = append(as, f.answers(b, p)...)
			}
		}
		if len(as) == 0 {
			break
		}
		if _, err := f.desk.AnswerAll(ctx, c, as...); err != nil {
			return err
		}
	}
	return nil
}

// answers is what the technician writes for one line of the checklist.
func (f *Filler) answers(b *begun, p catalog.Position) []shop.Answer {
	c, st := b.c, b.plan
	a := shop.Answer{Check: p.Check.ID, Leg: p.Leg, Stage: p.Stage}
	w := f.trueWear(c, st, p)
	switch p.Check.Kind {
	case catalog.Grade:
		a.Answer, a.Value = inspect.Graded, f.wear.grade(p.Check, w)
		if p.Check.Grows == catalog.Sudden {
			a.Value = f.wear.blow(p.Check, p.Leg, st.rider)
		}
		if p.Stage == inspect.AfterWork {
			a.Value = 0
		}
	case catalog.Fine:
		a.Answer = inspect.Fine
		chance := 0.02
		if p.Check.DoNotRide {
			chance = 0.003
		}
		if p.Stage != inspect.AfterWork && f.rng.Float64() < chance {
			a.Answer = inspect.NotFine
		}
		if p.Check.ID == scratchCheck && p.Leg == inspect.Left && p.Stage != inspect.AfterWork && b.scratch > 0 {
			a.Answer = inspect.NotFine
		}
	default:
		if onPhoto(p) && (b.scratch > 0 || p.Check.ID == coatingLoss) {
			f.plant(b, p, w)
			return nil // its picture answers it
		}
		return f.numbers(c, p, a, w)
	}
	return []shop.Answer{a}
}

// onPhoto tells the checks that are measured on a picture with a card.
func onPhoto(p catalog.Position) bool {
	return p.Check.ID == scratchLength && p.Leg == inspect.Left || p.Check.ID == coatingLoss
}

// plant says how much metal is bare: at least what the eye calls bare, and not
// more than fits between the edges of a tube.
func (f *Filler) plant(b *begun, p catalog.Position, w float64) {
	if p.Check.ID == coatingLoss && b.bare[p.Leg] == 0 {
		x, _ := f.wear.number(p.Check, b.c.Sheet, w)
		b.bare[p.Leg] = math.Max(3, math.Min(x, 90))
	}
}

func (f *Filler) numbers(c *shop.Case, p catalog.Position, a shop.Answer, w float64) []shop.Answer {
	points := p.Check.Points
	if len(points) == 0 {
		points = []string{""}
	}
	var as []shop.Answer
	for _, pt := range points {
		a.Point = pt
		if x, ok := f.wear.number(p.Check, c.Sheet, w); ok {
			a.Answer, a.Value = inspect.Measured, x
		} else if x, ok := asFound(p.Check, c); ok {
			a.Answer, a.Value = inspect.Measured, x
		} else {
			a.Answer = inspect.NotLooked
		}
		as = append(as, a)
	}
	return as
}

// asFound takes records that drop-off already wrote down.
func asFound(k catalog.Check, c *shop.Case) (float64, bool) {
	for _, s := range c.Settings {
		if s.Unit == k.Unit && (k.Unit == "bar" || k.Unit == "clicks") {
			return s.Value, true
		}
	}
	return 0, false
}

func (f *Filler) trueWear(c *shop.Case, st stayPlan, p catalog.Position) float64 {
	if p.Stage == inspect.AfterWork {
		return 0
	}
	leg := p.Leg
	fit, ok := c.Fitting(p.Check.Part, leg)
	if !ok {
		fit, ok = c.Fitting(p.Check.Part, inspect.Left)
	}
	if !ok {
		return 0
	}
	age := math.Max(0, c.Claim.Hours-fit.FittedAt)
	if !fit.AgeKnown {
		age = c.Claim.Hours
	}
	if p.Check.Grows == catalog.ByMonths {
		age = c.Visit.DroppedOff.Sub(fit.FittedOn).Hours()/(24*30.44) + age/20
	}
	return f.wear.used(p.Check, c.Sheet, st.rider, fit.ID, age)
}
