package visitbar

import (
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"
	"fyne.io/fyne/v2/widget"

	"forkwear/inspect"
	"forkwear/inspect/shop"
	"forkwear/ui/place"
	"forkwear/ui/screens/screentest"
)

func TestEveryStepOpensItsPlaceOfTheSameVisit(t *testing.T) {
	c := &shop.Case{Visit: inspect.Visit{ID: "v"}, Fork: inspect.Fork{ID: "f"}}
	want := []place.Name{place.DropOff, place.Inspect, place.Decide, place.Service, place.HandBack}
	for i, s := range inspect.Steps() {
		if w := PlaceOf(s, c); w.Name != want[i] || w.Visit != "v" {
			t.Errorf("%s opens %+v, want %s of v", s, w, want[i])
		}
	}
	if Number(inspect.StepDone) != len(inspect.Steps()) {
		t.Error("collected is not past all steps")
	}
}

func TestBarFitsBesideAndUnder(t *testing.T) {
	env := screentest.Env(t)
	c := screentest.Open(t, env, screentest.First(t, env, "full"))
	bar := New(env, c, inspect.StepInspect)
	env.Window.SetContent(bar)
	env.Window.Resize(fyne.NewSize(1190, 100))
	if w := bar.MinSize().Width; w > 552 {
		t.Errorf("the bar needs %v px, the narrow window has 552", w)
	}
}

func TestColumnsStackWhereTheRoomIsNarrow(t *testing.T) {
	test.NewTempApp(t)
	a, b := widget.NewLabel("a"), widget.NewLabel("b")
	c := Columns([]float32{300, 0}, a, b)
	c.Resize(fyne.NewSize(900, 200))
	if b.Position().Y != 0 || b.Position().X != 316 || b.Size().Width != 584 {
		t.Errorf("wide: b at %v, %v wide", b.Position(), b.Size().Width)
	}
	c.Resize(fyne.NewSize(400, 200))
	if b.Position().X != 0 || b.Position().Y < a.Size().Height || b.Size().Width != 400 {
		t.Errorf("narrow: b at %v, %v wide", b.Position(), b.Size().Width)
	}
}

func TestFieldKeepsOnceAndWhenLeft(t *testing.T) {
	test.NewTempApp(t)
	var got []string
	f := NewField("1", "", func(s string) { got = append(got, s) })
	f.Keep()
	f.SetText("2")
	f.FocusLost()
	f.Keep()
	if len(got) != 1 || got[0] != "2" {
		t.Fatalf("kept %v, want 2 once", got)
	}
}

func TestTickByKeyAndLocked(t *testing.T) {
	test.NewTempApp(t)
	n := 0
	k := NewTick(false, func(bool) { n++ })
	k.TypedKey(&fyne.KeyEvent{Name: fyne.KeySpace})
	k.Disable()
	k.Tapped(nil)
	if n != 1 || !k.On() {
		t.Fatalf("%d changes, on %v: want one and on", n, k.On())
	}
}

func TestSortedTellsWhatIsUnsafeFirst(t *testing.T) {
	line := func(part string, rule int, danger bool) shop.Line {
		return shop.Line{Assessment: inspect.Assessment{Part: part, Verdict: inspect.Replace, DoNotRide: danger,
			Reasons: []inspect.Reason{{Rule: rule, Decide: true}}}}
	}
	got := Sorted([]shop.Line{line("kit", 4, false), line("worn", 3, false), line("crack", 1, true),
		{Assessment: inspect.Assessment{Part: "fine", Verdict: inspect.Reuse}}})
	for i, want := range []string{"crack", "worn", "kit", "fine"} {
		if got[i].Assessment.Part != want {
			t.Errorf("place %d is %s, want %s", i, got[i].Assessment.Part, want)
		}
	}
}
