package sample

import (
	"context"
	"fmt"
	"math"
	"time"

	"forkwear/inspect"
	"forkwear/inspect/catalog"
	"forkwear/inspect/shop"
	"forkwear/inspect/verdict"
)

// stay walks one visit through the shop as far as the plan says.
func (f *Filler) stay(ctx context.Context, st stayPlan) error {
	f.now = st.on
	f.desk.By = []string{"Bo", "Tess"}[st.nth%2]
	v, err := f.desk.TakeIn(ctx, f.intake(st))
	if err != nil {
		return err
	}
	st.rider.ids.customer, st.rider.ids.fork = v.CustomerID, v.ForkID
	c, err := f.desk.Open(ctx, v.ID)
	if err != nil {
		return err
	}
	stages := []inspect.Stage{inspect.Received, inspect.Stripped}
	for _, stage := range stages {
		f.now = f.now.Add(40 * time.Minute)
		if err := f.look(ctx, c, st, stage, st.open == inspect.StepInspect && stage == inspect.Stripped); err != nil {
			return err
		}
	}
	if st.open == inspect.StepInspect {
		return nil
	}
	if err := f.desk.Move(ctx, c, inspect.StepDecide); err != nil {
		return err
	}
	if err := f.desk.Decide(ctx, c, verdict.Rules{}); err != nil {
		return err
	}
	if st.open == inspect.StepDecide {
		v := c.Visit
		v.WaitsFor, v.WaitsSince = "customer", f.now
		return f.desk.Lib.SaveVisit(ctx, v)
	}
	return f.service(ctx, c, st)
}

func (f *Filler) service(ctx context.Context, c *shop.Case, st stayPlan) error {
	f.now = f.now.Add(24 * time.Hour)
	for _, a := range c.Assessments {
		if a.InForce() == inspect.Replace && !a.NotOpened {
			if err := f.desk.Consent(ctx, c, a, true, st.rider.customer.Name, "phone", "the report"); err != nil {
				return err
			}
		}
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
	if err := f.look(ctx, c, st, inspect.AfterWork, false); err != nil {
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
	in.Visit = inspect.Visit{Level: st.level, Purpose: "paid", Promised: st.on.AddDate(0, 0, 4), Conditions: []string{"dry", "dust"},
		CameWith: []string{"axle"}, GoAhead: inspect.Money{Minor: 15000, Currency: "EUR"}}
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
func (f *Filler) look(ctx context.Context, c *shop.Case, st stayPlan, stage inspect.Stage, half bool) error {
	for round := 0; round < 2; round++ { // findings open further checks
		var as []shop.Answer
		ps := f.desk.Positions(c, stage)
		if half {
			ps = ps[:len(ps)/2]
		}
		for _, p := range ps {
			if !c.Answered(p) {
				as = append(as, f.answers(c, st, p)...)
			}
		}
		if len(as) == 0 {
			break
		}
		if _, err := f.desk.AnswerAll(ctx, c, as...); err != nil {
			return err
		}
	}
	if stage == inspect.AfterWork {
		return nil
	}
	return f.photograph(ctx, c, st, stage)
}

// answers is what the technician writes for one line of the checklist.
func (f *Filler) answers(c *shop.Case, st stayPlan, p catalog.Position) []shop.Answer {
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
	default:
		return f.numbers(c, p, a, w)
	}
	return []shop.Answer{a}
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
