package inspection

import (
	"testing"

	"fyne.io/fyne/v2"

	"forkwear/inspect"
	"forkwear/inspect/catalog"
	"forkwear/ui/screens/screentest"
)

// Where there is a trend it stands beside the facts and the key turns to the
// drawing; else the drawing does, and the key folds it.
func TestDrawingBesideTheFacts(t *testing.T) {
	env := screentest.Env(t)
	s := open(t, env, screentest.Visit(t, env))
	at := func(check string) {
		do(env, s, func() { s.goTo(spot{check, inspect.Left, ""}) })
		settle(env)
	}
	sees := func(what string, plot, drawing bool) {
		t.Helper()
		if s.card.plot.Visible() != plot || s.card.drawing.Visible() != drawing {
			t.Errorf("%s: trend %v, drawing %v, want %v and %v", what, s.card.plot.Visible(), s.card.drawing.Visible(), plot, drawing)
		}
	}
	at("seals.weep")
	sees("a check with a trend", true, false)
	do(env, s, s.turnBeside)
	sees("turned over", false, true)
	if !s.card.drawKey.Visible() {
		t.Error("no key turns back to the trend")
	}
	if s.card.drawing.Name() != "weep" {
		t.Errorf("it draws %q", s.card.drawing.Name())
	}
	at("stanchions.dent")
	sees("a check without", false, true)
	if s.card.drawKey.Visible() {
		t.Error("a check without a trend has a key to turn to it")
	}
	at("seals.weep")
	sees("back again", false, true)
}

// The drawing never pushes an answer below the fold: on a first visit, where it
// stands in the trend's place, all keys of every grade are in sight at 1190 by
// 700.
func TestDrawingLeavesTheKeysInSight(t *testing.T) {
	env := screentest.Env(t)
	s := open(t, env, screentest.First(t, env, "full"))
	env.Window.Resize(fyne.NewSize(1190, 700))
	graded := 0
	for _, stage := range []inspect.Stage{inspect.Received, inspect.Stripped} {
		do(env, s, func() { s.toStage(stage) })
		for _, p := range s.route {
			if p.Check.Kind != catalog.Grade {
				continue
			}
			graded++
			do(env, s, func() { s.goTo(s.start(p)) })
			settle(env)
			d := fyne.CurrentApp().Driver()
			foot := d.AbsolutePositionForObject(s.card.frame).Y + s.card.frame.Size().Height
			for _, k := range s.card.padKeys {
				if y := d.AbsolutePositionForObject(k).Y + k.Size().Height; y > foot {
					t.Errorf("%s: a key ends at %.0f, the card at %.0f", p.Check.ID, y, foot)
				}
			}
			if !s.card.drawing.Visible() {
				t.Errorf("%s: no drawing on a first visit", p.Check.ID)
			}
		}
	}
	if graded < 5 {
		t.Fatalf("%d graded checks were looked at", graded)
	}
}
