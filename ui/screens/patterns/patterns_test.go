package patterns

import (
	"context"
	"errors"
	"fmt"
	"math"
	"strings"
	"testing"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"

	"forkwear/inspect"
	"forkwear/inspect/shop"
	"forkwear/ui/place"
	"forkwear/ui/screens/rows"
	"forkwear/ui/screens/screentest"
	"forkwear/ui/widgets"
)

func open(t *testing.T, env *place.Env) *Screen {
	t.Helper()
	s := New(env, place.Where{Name: place.Patterns}).(*Screen)
	env.Window.SetContent(s.Content())
	env.Window.Resize(fyne.NewSize(1190, 700))
	s.Opened()
	env.Run.Wait()
	return s
}

// seals gives forks of two sheets each a wiper that failed at 50 or at 200 h.
func seals(t *testing.T, env *place.Env) {
	t.Helper()
	for i := range 12 {
		sheet, hours := screentest.Sheet, 50.0
		if i%2 == 1 {
			sheet, hours = env.Desk.Catalog.Sheets[1].ID, 200
			if sheet == screentest.Sheet {
				sheet = env.Desk.Catalog.Sheets[0].ID
			}
		}
		id, err := env.Desk.TakeIn(context.Background(), shop.Intake{Customer: inspect.Customer{Name: fmt.Sprint("Customer ", i)},
			Fork: inspect.Fork{Model: fmt.Sprint("Fork ", i), Sheet: sheet}, Visit: inspect.Visit{Level: "full"}, Hours: 300, HoursU: 5})
		if err != nil {
			t.Fatal(err)
		}
		f := inspect.Fitting{ID: env.Desk.NewID(), ForkID: id.ForkID, Part: "seals.test", Leg: inspect.Left, FittedVisit: id.ID,
			FittedAt: 0, AgeKnown: true, FittedOn: screentest.Now.AddDate(-1, 0, 0)}
		f.Part = env.Desk.Catalog.Parts[0].ID
		end := f
		end.End, end.EndHours, end.EndVisit, end.EndedOn = inspect.EndFailed, hours, id.ID, screentest.Now.Add(-time.Hour)
		if err := env.Desk.Lib.Refit(context.Background(), nil, []inspect.Fitting{f}); err != nil {
			t.Fatal(err)
		}
		if err := env.Desk.Lib.Refit(context.Background(), []inspect.Fitting{end}, nil); err != nil {
			t.Fatal(err)
		}
	}
}

func TestRowsFilterAndOpen(t *testing.T) {
	env := screentest.Env(t)
	seals(t, env)
	s := open(t, env)
	if len(s.shown) == 0 {
		t.Fatal("no rows")
	}
	part := env.Desk.Catalog.Parts[0]
	s.part.SetSelected(part.Name)
	at := -1
	for i, r := range s.shown {
		if r.Part != part.ID {
			t.Errorf("%s is shown while %s is chosen", r.Part, part.ID)
		}
		if r.Sheet == screentest.Sheet {
			at = i
		}
	}
	if at < 0 {
		t.Fatalf("the row of %s is missing", screentest.Sheet)
	}
	l := rows.NewLineWith(make([]rows.Column, 6), newRatioBar())
	s.fill(at, l)
	for _, want := range []string{part.Name, "6 failed, 0 worn"} { // six forks of this sheet, one failure each
		if !strings.Contains(l.Text(), want) {
			t.Errorf("the line %q does not say %q", l.Text(), want)
		}
	}
	s.onOpen(at)
	if len(s.behind) < 6 || !s.back.Visible() {
		t.Fatalf("%d fittings stand behind the row, at least 6 do", len(s.behind))
	}
	f := rows.NewLine(make([]rows.Column, 6))
	s.fillFitting(0, f)
	if !strings.Contains(f.Text(), "Fork ") {
		t.Errorf("the fitting %q does not name its fork", f.Text())
	}
	c := s.curves(s.shown[at])
	// six of this sheet all ended at one hour, six of the other at another: one
	// step down to 0 each, by hand
	if len(c.Curves) != 2 || len(c.Curves[0].Marks) != 1 || c.Curves[0].Marks[0].Hours == c.Curves[1].Marks[0].Hours {
		t.Errorf("the curves are %+v", c.Curves)
	}
	s.turnTo(1)
	s.plot.TypedKey(&fyne.KeyEvent{Name: fyne.KeyRight})
	if h := screentest.Told(env).LastHint(); !strings.Contains(h, "Fork ") {
		t.Errorf("the step pointed at is told as %q", h)
	}
	s.plot.TypedKey(&fyne.KeyEvent{Name: fyne.KeyReturn})
	if g := screentest.Told(env).Gone; len(g) != 1 || g[0].Name != place.ForkLife || g[0].Fork == "" {
		t.Errorf("Enter on a step went to %+v", g)
	}
	screentest.Told(env).Gone = nil
	s.onFitting(0)
	if g := screentest.Told(env).Gone; len(g) != 1 || g[0].Name != place.ForkLife || g[0].Fork == "" {
		t.Errorf("a fitting went to %+v", g)
	}
	s.onBack()
	if s.back.Visible() || s.state.Box.Objects[0] != s.all {
		t.Error("back does not show all patterns")
	}
}

func TestEmpty(t *testing.T) {
	env := screentest.Env(t)
	s := open(t, env)
	if s.part.Visible() || s.state.Box.Objects[0] == s.all {
		t.Error("an empty library shows a list")
	}
}

func TestAcross(t *testing.T) {
	// a logarithmic scale from 1/8 to 8: 1 in the middle, 8 at the end, by hand
	for v, want := range map[float64]float64{1: .5, 8: 1, 1. / 8: 0, 100: 1, 0: 0, math.Inf(1): 1, -1: 0, math.Sqrt(8): .75} {
		if got := across(v, 1); math.Abs(got-want) > 1e-12 {
			t.Errorf("%g lies at %g, want %g", v, got, want)
		}
	}
	if got := across(math.NaN(), 1); got != .5 {
		t.Errorf("NaN lies at %g", got)
	}
}

func TestAFailureIsToldInPlaceWithAWayOut(t *testing.T) {
	env := screentest.Env(t)
	s := open(t, env)
	s.onLoaded(loaded{}, errors.New("the disk is gone"))
	if f := screentest.Told(env).Failures; len(f) != 1 {
		t.Errorf("told %v", f)
	}
	found := false
	for _, o := range test.LaidOutObjects(s.state.Box) {
		if b, ok := o.(*widgets.TextButton); ok {
			found = true
			test.Tap(b)
		}
	}
	env.Run.Wait()
	if !found || len(screentest.Told(env).Failures) != 1 {
		t.Error("there is no way to try again")
	}
}

func TestClosedBeforeTheAnswerNothingIsWritten(t *testing.T) {
	env := screentest.Env(t)
	seals(t, env)
	s := New(env, place.Where{Name: place.Patterns}).(*Screen)
	screentest.Lib(env).Hold()
	s.Opened()
	s.Closed()
	screentest.Lib(env).Release()
	env.Run.Wait()
	if len(s.data.rows) != 0 || len(screentest.Told(env).Failures) != 0 {
		t.Error("a closed place takes what comes")
	}
}
