package window

import (
	"context"
	"strings"
	"testing"
	"time"

	"fyne.io/fyne/v2/test"
	"fyne.io/fyne/v2/widget"

	"forkwear/inspect"
	"forkwear/inspect/shop"
	"forkwear/ui/place"
	"forkwear/ui/run"
	"forkwear/ui/theme"
)

// paper notes what was written.
type paper struct {
	visit inspect.ID
	file  string
}

func (p *paper) Report(context.Context, inspect.ID, string) error { return nil }
func (p *paper) Card(_ context.Context, visit inspect.ID, file string) error {
	p.visit, p.file = visit, file
	return nil
}

// The card is that of the visit that is shown; without one, and under a name
// that is no PDF, nothing is written and the line says what to do.
func TestBenchCardOfTheVisitShown(t *testing.T) {
	test.NewTempApp(t).Settings().SetTheme(theme.New())
	w := test.NewTempWindow(t, widget.NewLabel(""))
	p := &paper{}
	env := &place.Env{Desk: &shop.Desk{Clock: time.Now}, Run: run.New(context.Background()), Export: p}
	t.Cleanup(env.Run.Close)
	f := New(w, env, nil)
	f.askCard()
	if p.file != "" || w.Canvas().Overlays().Top() != nil {
		t.Error("a bench card was asked for without a visit")
	}
	f.where = place.Where{Name: place.Inspect, Visit: "v1"}
	f.askCard()
	if w.Canvas().Overlays().Top() == nil {
		t.Error("nobody asked where the card goes")
	}
	f.writeCard("v1", "card.png")
	env.Run.Wait()
	if p.file != "" || !strings.Contains(f.Status(), ".pdf") {
		t.Errorf("a card was written as %q; the line says %q", p.file, f.Status())
	}
	f.writeCard("v1", "card.pdf")
	env.Run.Wait()
	if p.visit != "v1" || p.file != "card.pdf" || !strings.Contains(f.Status(), "card.pdf") {
		t.Errorf("written %+v; the line says %q", p, f.Status())
	}
}
