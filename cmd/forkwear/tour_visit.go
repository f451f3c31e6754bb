package main

import (
	"context"
	"fmt"
	"path/filepath"

	"fyne.io/fyne/v2"

	"forkwear/inspect"
	"forkwear/inspect/shop"
	"forkwear/ui/place"
)

// intakeForm is what the tour needs of the drop-off screen.
type intakeForm interface {
	Fill(shop.Intake)
	Submit()
}

// takeIn brings a known fork back through the drop-off form.
func (g *guide) takeIn(ctx context.Context) error {
	row, err := g.returning(ctx)
	if err != nil {
		return err
	}
	if err := g.visit("drop-off-empty", place.Where{Name: place.DropOff}); err != nil {
		return err
	}
	g.do(func() { g.win.frame.Go(place.Where{Name: place.DropOff, Fork: row.Fork.ID}) })
	form, ok := g.win.frame.Screen().(intakeForm)
	if !ok {
		return fmt.Errorf("the drop-off screen %T can't be filled", g.win.frame.Screen())
	}
	in := shop.Intake{Customer: row.Customer, Fork: row.Fork, Hours: row.Hours + 84, HoursU: 8, HoursFrom: "computer",
		Visit:      inspect.Visit{Level: "lowers", Purpose: "paid", Conditions: []string{"wet", "mud"}, CameWith: []string{"axle"}},
		Complaints: []inspect.Complaint{{Symptom: g.lib.desk.Catalog.Symptoms[0].ID, Leg: inspect.Left, Since: "two weeks"}},
		Settings:   []inspect.Setting{{Key: "rebound_clicks", Value: 7, Unit: "clicks"}}}
	g.do(func() { form.Fill(in) })
	if err := g.shot("drop-off"); err != nil {
		return err
	}
	if err := g.dropPhotos(row.Fork); err != nil {
		return err
	}
	g.do(form.Submit)
	if g.win.frame.Where().Name != place.Inspect {
		return fmt.Errorf("taking the fork in did not lead to Inspect but to %q", g.win.frame.Where().Name)
	}
	return g.shot("inspect")
}

// inspectFork answers with the number pad and reads the library afterwards: what
// was typed must be there.
func (g *guide) inspectFork(ctx context.Context) error {
	visit := g.win.frame.Where().Visit
	keys, ok := g.win.frame.Screen().(place.Keyed)
	if !ok {
		return fmt.Errorf("the inspect screen %T takes no keys", g.win.frame.Screen())
	}
	const typed = 9
	for i := 0; i < typed; i++ {
		r := rune("121013110"[i])
		g.do(func() { keys.TypedRune(r) })
		if i%3 == 2 {
			g.do(func() { keys.TypedKey(&fyne.KeyEvent{Name: fyne.KeyReturn}) })
		}
	}
	if drop, ok := g.win.frame.Screen().(place.Dropping); ok {
		pictures, err := filepath.Glob(filepath.Join(g.out, "sample", "*.jpg"))
		if err == nil && len(pictures) > 0 {
			g.do(func() { drop.Dropped(pictures[len(pictures)-1:], fyne.NewPos(600, 400)) })
			g.do(func() { keys.TypedRune('+') })
		}
	}
	if err := g.shot("inspect-answered"); err != nil {
		return err
	}
	rs, err := g.lib.db.Readings(ctx, inspect.ReadingFilter{VisitID: visit})
	if err != nil {
		return err
	}
	if len(rs) == 0 {
		return fmt.Errorf("%d keys were typed and no reading is in the library", typed)
	}
	return g.rest(ctx, visit)
}

// rest answers what is left as a technician would, so that the decision has
// something to stand on.
func (g *guide) rest(ctx context.Context, visit inspect.ID) error {
	c, err := g.lib.desk.Open(ctx, visit)
	if err != nil {
		return err
	}
	for _, stage := range []inspect.Stage{inspect.Received, inspect.Stripped} {
		var as []shop.Answer
		for i, p := range g.lib.desk.Positions(c, stage) {
			if c.Answered(p) || len(p.Check.Points) > 0 {
				continue
			}
			a := shop.Answer{Check: p.Check.ID, Leg: p.Leg, Stage: stage, Answer: inspect.Fine}
			switch p.Check.Kind {
			case "grade":
				a.Answer, a.Value = inspect.Graded, []float64{0, 1, 1, 0, 2}[i%5]
			case "number":
				a.Answer = inspect.CannotGauge
			}
			as = append(as, a)
		}
		if _, err := g.lib.desk.AnswerAll(ctx, c, as...); err != nil {
			return err
		}
	}
	return g.visit("inspect-stripped", place.Where{Name: place.Inspect, Visit: visit, Check: "seals.weep", Leg: inspect.Left})
}

func (g *guide) decide(ctx context.Context) error {
	visit := g.win.frame.Where().Visit
	if err := g.visit("decide", place.Where{Name: place.Decide, Visit: visit}); err != nil {
		return err
	}
	if rows, ok := g.win.frame.Screen().(interface{ OpenRow(int) }); ok {
		g.do(func() { rows.OpenRow(0) })
		if err := g.shot("decide-why"); err != nil {
			return err
		}
	}
	as, err := g.lib.db.LatestAssessments(ctx, visit)
	if err != nil {
		return err
	}
	if len(as) == 0 {
		return fmt.Errorf("the place Decide was opened and no assessment is in the library")
	}
	if err := g.visit("counter", place.Where{Name: place.Counter, Visit: visit}); err != nil {
		return err
	}
	return g.sign(ctx, visit)
}

func (g *guide) serve(ctx context.Context) error {
	visit := g.win.frame.Where().Visit
	if err := g.visit("service", place.Where{Name: place.Service, Visit: visit}); err != nil {
		return err
	}
	c, err := g.lib.desk.Open(ctx, visit)
	if err != nil {
		return err
	}
	if _, err := g.lib.desk.RenewDecided(ctx, c); err != nil {
		return err
	}
	if err := g.visit("service-fitted", place.Where{Name: place.Service, Visit: visit}); err != nil {
		return err
	}
	return g.visit("hand-back", place.Where{Name: place.HandBack, Visit: visit})
}

// afterwards writes the reports, collects the fork and looks at its life.
func (g *guide) afterwards(ctx context.Context) error {
	visit := g.win.frame.Where().Visit
	for _, name := range []string{"report.html", "report.pdf"} {
		if err := (reportWriter{g.lib}).Report(ctx, visit, filepath.Join(g.out, name)); err != nil {
			return err
		}
	}
	c, err := g.lib.desk.Open(ctx, visit)
	if err != nil {
		return err
	}
	if err := g.lib.desk.Collect(ctx, c); err != nil {
		return err
	}
	if err := g.visit("collected", place.Where{Name: place.HandBack, Visit: visit}); err != nil {
		return err
	}
	return g.visit("fork-life-after", place.Where{Name: place.ForkLife, Fork: c.Fork.ID})
}
