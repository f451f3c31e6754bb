package widgets

import (
	"image"
	"math"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/test"
	fynetheme "fyne.io/fyne/v2/theme"
	"pgregory.net/rapid"

	"forkwear/ui/forkdraw/draw"
	"forkwear/ui/theme"
	"forkwear/ui/theme/tokens"
)

func window(t *testing.T, o fyne.CanvasObject, w, h float32) fyne.Window {
	a := test.NewTempApp(t)
	a.Settings().SetTheme(theme.New(theme.WithVariant(fynetheme.VariantLight)))
	win := test.NewTempWindow(t, o)
	win.SetPadded(false)
	win.Resize(fyne.NewSize(w, h))
	repaint(o) // parts made before the theme was set
	return win
}

// repaint refreshes an object and all widgets in it.
func repaint(o fyne.CanvasObject) {
	if c, ok := o.(*fyne.Container); ok {
		for _, child := range c.Objects {
			repaint(child)
		}
		return
	}
	o.Refresh()
	if w, ok := o.(fyne.Widget); ok {
		for _, child := range test.WidgetRenderer(w).Objects() {
			repaint(child)
		}
		o.Refresh()
		test.WidgetRenderer(w).Layout(o.Size())
	}
}

func typeKey(f fyne.Focusable, n fyne.KeyName) { f.TypedKey(&fyne.KeyEvent{Name: n}) }

// The goldens fix what a widget is made of; they are written anew only with
// a change of look that is meant.
func TestStructure(t *testing.T) {
	pad := NewGradePad([]string{"none", "hairline", "felt", "nail catches", "burr", "through"}, true, nil)
	pad.SetGrade(2)
	steps := NewStepBar([]string{"Drop-off", "Inspect", "Decide"}, nil)
	steps.Set(1, 1)
	status := NewStatusLine()
	status.SetText("Saved at 14:02:11.")
	status.SetAction("Undo", func() {})
	status.SetWork("Reading 12 photos", "Cancel", func() {})
	rail := NewRailButton("Bench", theme.Icon(theme.IconNameBench), nil)
	rail.SetSelected(true)
	cell := NewPhotoCell(nil)
	cell.SetID("a", "12 May")
	cell.SetFailed("a", "not readable")
	for name, c := range map[string]struct {
		o    fyne.CanvasObject
		w, h float32
	}{
		"gradepad":    {pad, 820, 60},
		"finenotfine": {NewFineNotFine("Fine", "Not fine", nil), 240, 60},
		"stepbar":     {steps, 480, 44},
		"statusline":  {status, 800, 48},
		"railbutton":  {rail, 88, 72},
		"emptystate":  {NewEmptyState("No forks yet", "A drop-off starts here.", "New drop-off", nil), 400, 200},
		"verdict":     {NewVerdictMark(draw.DoNotRide, "do not ride"), 200, 32},
		"card":        {NewCard(NewChip("air spring", nil)), 200, 80},
		"photocell":   {cell, 112, 104},
	} {
		t.Run(name, func(t *testing.T) {
			w := window(t, c.o, c.w, c.h)
			test.AssertRendersToMarkup(t, "markup/"+name+".xml", w.Canvas())
		})
	}
}

func TestPictures(t *testing.T) {
	for name, c := range map[string]struct {
		o    fyne.CanvasObject
		w, h float32
	}{
		"wearbar":   {NewWearBar(Wear{0.6, 0.5, 0.72, 0.84}), 220, 28},
		"trendplot": {NewTrendPlot(sampleTrend()), 400, 220},
		"measure":   {NewVerdictMark(draw.Measure, "measure again"), 180, 28},
	} {
		t.Run(name, func(t *testing.T) {
			w := window(t, c.o, c.w, c.h)
			test.AssertImageMatches(t, "image/"+name+".png", w.Canvas().Capture())
		})
	}
}

func TestTargetsAreLargeEnough(t *testing.T) {
	pad := NewGradePad(nil, true, nil)
	fine := NewFineNotFine("a", "b", nil)
	step := NewStepBar([]string{"x"}, nil)
	num := NewNumberEntry("", nil)
	num.SetRepeats([]float64{1})
	all := map[string]fyne.CanvasObject{"chip": NewChip("x", func() {}), "button": NewTextButton("x", false, nil),
		"rail": NewRailButton("x", nil, nil), "fine": fine.fine, "step": step.steps[0], "repeat": num.chips[0], "cell": NewPhotoCell(nil)}
	box := container.NewVBox()
	for _, o := range all {
		box.Add(o)
	}
	window(t, container.NewVBox(box, pad, num), 900, 900)
	for i, k := range pad.keys {
		if s := k.Size(); s.Width < tokens.Target || s.Height < tokens.Target {
			t.Errorf("key %d of the pad is %v", i, s)
		}
	}
	for name, o := range all {
		if m := o.MinSize(); m.Width < tokens.Target || m.Height < tokens.Target {
			t.Errorf("%s is %v, want at least 44 both ways", name, m)
		}
	}
}

func TestGradePadKeyboard(t *testing.T) {
	var got []float64
	g := NewGradePad([]string{"none"}, true, func(v float64) { got = append(got, v) })
	w := window(t, g, 900, 60)
	w.Canvas().Focus(g.keys[0])
	w.Canvas().Focused().TypedRune('3')
	w.Canvas().Focused().TypedRune('7') // no grade
	typeKey(w.Canvas().Focused(), fyne.KeyRight)
	typeKey(w.Canvas().Focused(), fyne.KeySpace) // the half step after 0
	if len(got) != 2 || got[0] != 3 || got[1] != 0.5 {
		t.Fatalf("grades given: %v, want [3 0.5]", got)
	}
	if v, ok := g.Grade(); !ok || v != 0.5 {
		t.Errorf("the pad holds %v, %v", v, ok)
	}
	g.SetGrade(math.NaN())
	if _, ok := g.Grade(); ok || len(got) != 2 {
		t.Error("a grade that is no number was kept or told")
	}
	typeKey(g.keys[0], fyne.KeyLeft) // nothing further left
}

func TestFineNotFineKeyboard(t *testing.T) {
	var got []bool
	f := NewFineNotFine("Fine", "Not fine", func(b bool) { got = append(got, b) })
	w := window(t, f, 240, 60)
	w.Canvas().FocusNext()
	w.Canvas().Focused().TypedRune('0')
	w.Canvas().Focused().TypedRune('1')
	w.Canvas().FocusNext()
	typeKey(w.Canvas().Focused(), fyne.KeyReturn)
	if len(got) != 3 || got[0] || !got[1] || got[2] {
		t.Fatalf("answers %v, want [false true false]", got)
	}
	f.Clear()
	if _, ok := f.Answer(); ok {
		t.Error("a cleared pad has an answer")
	}
}

func TestNumberEntry(t *testing.T) {
	var got []float64
	var refused error
	n := NewNumberEntry("mm", func(v []float64) { got = v })
	n.OnRefused = func(err error) { refused = err }
	w := window(t, n, 400, 120)
	n.Focus()
	test.Type(w.Canvas().Focused(), "31,9x8")
	typeKey(n.entry, fyne.KeyReturn)
	test.Type(w.Canvas().Focused(), "31.96")
	n.Commit()
	if len(got) != 2 || got[0] != 31.98 || got[1] != 31.96 {
		t.Fatalf("repeats %v, want [31.98 31.96]", got)
	}
	n.entry.SetText("1.2.3")
	n.Commit()
	if refused == nil || n.entry.Text != "1.2.3" || len(n.Repeats()) != 2 {
		t.Error("1.2.3 was taken, or what was typed is gone")
	}
	test.Tap(n.chips[0])
	if len(got) != 1 || got[0] != 31.96 {
		t.Errorf("after taking the first off: %v", got)
	}
	n.SetRepeats([]float64{1, math.NaN(), math.Inf(1), 2})
	if r := n.Repeats(); len(r) != 2 {
		t.Errorf("what is not finite was kept: %v", r)
	}
}

func TestParseNumber(t *testing.T) {
	for in, want := range map[string]float64{"3": 3, " 3,5 ": 3.5, "0.02": 0.02, "-1,5": -1.5, "\u22122": -2, ".5": 0.5} {
		if got, err := ParseNumber(in); err != nil || got != want {
			t.Errorf("%q gave %v, %v, want %v", in, got, err, want)
		}
	}
	for _, in := range []string{"", " ", "1.234,5", "1e3", "0x10", "NaN", "inf", "1_000", "3 5", "--2", "mm"} {
		if v, err := ParseNumber(in); err == nil {
			t.Errorf("%q was taken for %v", in, v)
		}
	}
}

func FuzzParseNumber(f *testing.F) {
	for _, s := range []string{"31,98", "-0.5", "1e9", "\u22123", ""} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		if v, err := ParseNumber(s); err == nil && (math.IsNaN(v) || math.IsInf(v, 0)) {
			t.Errorf("%q gave %v", s, v)
		}
	})
}

func TestTrendPlotKeyboardAndMouse(t *testing.T) {
	var hovered, opened []string
	p := NewTrendPlot(sampleTrend())
	p.OnHover = func(id string) { hovered = append(hovered, id) }
	p.OnTapped = func(id string) { opened = append(opened, id) }
	w := window(t, p, 400, 220)
	w.Canvas().Focus(p)
	typeKey(p, fyne.KeyLeft)
	typeKey(p, fyne.KeyLeft)
	typeKey(p, fyne.KeyReturn)
	if len(opened) != 1 || opened[0] != "r3" {
		t.Fatalf("opened %v, want [r3], the last but one", opened)
	}
	v := p.view(400, 220, 1)
	at := fyne.NewPos(float32(v.x(4)), float32(v.y(0.02)))
	p.MouseMoved(&desktop.MouseEvent{PointEvent: fyne.PointEvent{Position: at}})
	p.MouseOut()
	if n := len(hovered); n < 2 || hovered[n-2] != "r0" || hovered[n-1] != "" {
		t.Errorf("hover told %v, want it to end in r0 and nothing", hovered)
	}
	p.SetTrend(Trend{Readings: []Reading{{Hours: math.NaN()}}, HasLimit: true, Limit: math.Inf(1)})
	typeKey(p, fyne.KeyRight)
	typeKey(p, fyne.KeyReturn)
	w.Canvas().Capture()
	if len(opened) != 1 {
		t.Error("an empty plot opened a reading")
	}
}

// Ticks are round, in order, inside the range, and not more than asked for
// by one: follows from steps of 1, 2, 5 times a power of ten.
func TestTicks(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a := rapid.Float64Range(-1e4, 1e4).Draw(t, "a")
		b := a + rapid.Float64Range(1e-3, 1e4).Draw(t, "d")
		n := rapid.IntRange(1, 12).Draw(t, "n")
		out := ticks(a, b, n)
		if len(out) > n+1 {
			t.Fatalf("%d ticks for %d", len(out), n)
		}
		for i, x := range out {
			if x < a-1e-6*(b-a) || x > b+1e-6*(b-a) || (i > 0 && x <= out[i-1]) {
				t.Fatalf("ticks %v of %v..%v", out, a, b)
			}
		}
	})
	if got := ticks(1, 1, 3); got != nil {
		t.Errorf("an empty range has ticks %v", got)
	}
}

func TestPhotoViewZoomStaysInside(t *testing.T) {
	p := NewPhotoView()
	window(t, p, 300, 200)
	p.SetPhoto(image.NewRGBA(image.Rect(0, 0, 400, 300)), "12 May")
	p.DoubleTapped(&fyne.PointEvent{Position: fyne.NewPos(150, 80)})
	if z, _, _ := p.Zoom(); z != 3 {
		t.Errorf("a double tap zooms to %v, want 3", z)
	}
	for range 60 {
		p.Scrolled(&fyne.ScrollEvent{PointEvent: fyne.PointEvent{Position: fyne.NewPos(150, 80)}, Scrolled: fyne.Delta{DY: 40}})
	}
	if z, _, _ := p.Zoom(); z != maxZoom {
		t.Errorf("the wheel zooms to %v, want %v", z, maxZoom)
	}
	p.Dragged(&fyne.DragEvent{Dragged: fyne.Delta{DX: 1e6, DY: 1e6}})
	at, s, room := p.img.Position(), p.img.Size(), p.room()
	if at.X > 0.5 || at.Y > 0.5 || at.X+s.Width < room.Width-0.5 || at.Y+s.Height < room.Height-0.5 {
		t.Errorf("the photo was dragged off: at %v, size %v, room %v", at, s, room)
	}
	p.TypedRune('0')
	if z, x, y := p.Zoom(); z != 1 || x != 0.5 || y != 0.5 {
		t.Errorf("0 shows %v %v %v, want the whole photo", z, x, y)
	}
	if w, h := p.img.Size().Width, p.img.Size().Height; math.Abs(float64(w/h)-4.0/3) > 0.01 {
		t.Errorf("the photo is stretched: %v x %v", w, h)
	}
	p.SetPhoto(nil, "")
	p.Scrolled(&fyne.ScrollEvent{})
	p.SetZoom(math.NaN(), 0, 0)
}

// The wheel keeps the place under the mouse where it is.
func TestPhotoViewZoomsRoundTheMouse(t *testing.T) {
	p := NewPhotoView()
	window(t, p, 300, 200)
	p.SetPhoto(image.NewRGBA(image.Rect(0, 0, 300, 200)), "")
	p.SetZoom(4, 0.5, 0.5)
	q := fyne.NewPos(120, 90)
	x0, y0, _ := p.photoAt(q)
	p.Scrolled(&fyne.ScrollEvent{PointEvent: fyne.PointEvent{Position: q}, Scrolled: fyne.Delta{DY: 50}})
	x1, y1, _ := p.photoAt(q)
	if math.Abs(x1-x0) > 1e-3 || math.Abs(y1-y0) > 1e-3 {
		t.Errorf("the place moved from %v,%v to %v,%v", x0, y0, x1, y1)
	}
}

func TestPhotoCellIgnoresLatePixels(t *testing.T) {
	opened := ""
	c := NewPhotoCell(func(id string) { opened = id })
	window(t, c, 112, 104)
	c.SetID("a", "12 May")
	c.SetID("b", "13 May")
	c.SetImage("a", image.NewRGBA(image.Rect(0, 0, 4, 4)))
	if c.img.Image != nil {
		t.Error("the cell of b shows the pixels of a")
	}
	c.SetImage("b", image.NewRGBA(image.Rect(0, 0, 4, 4)))
	if c.img.Image == nil {
		t.Error("the pixels of b are not shown")
	}
	typeKey(c, fyne.KeyReturn)
	if opened != "b" {
		t.Errorf("Enter opened %q", opened)
	}
}

func TestStatusLine(t *testing.T) {
	undone, stopped := 0, 0
	s := NewStatusLine()
	window(t, s, 600, 48)
	s.SetText("Saved.")
	s.SetAction("Undo", func() { undone++ })
	s.SetWork("Reading", "Cancel", func() { stopped++ })
	test.Tap(s.action)
	typeKey(s.cancel, fyne.KeySpace)
	if undone != 1 || stopped != 1 {
		t.Errorf("undone %d, stopped %d, want 1 and 1", undone, stopped)
	}
	s.SetWork("", "", nil)
	s.SetHint("Left seals")
	if s.cancel.Visible() || s.action.Visible() {
		t.Error("buttons stay when there is nothing to cancel or a hint is shown")
	}
	s.SetHint("")
	if !s.action.Visible() || s.Text() != "Saved." {
		t.Error("the text does not come back after the hint")
	}
}

func TestStepBarTellsTheStep(t *testing.T) {
	got := -1
	s := NewStepBar([]string{"a", "b", "c"}, func(i int) { got = i })
	window(t, s, 400, 44)
	test.Tap(s.steps[2])
	if got != 2 {
		t.Errorf("step %d was told, want 2", got)
	}
	typeKey(s.steps[1], fyne.KeyReturn)
	if got != 1 {
		t.Errorf("step %d was told, want 1", got)
	}
}

func TestDisabledButtonIsNotPressed(t *testing.T) {
	n := 0
	b := NewTextButton("Go", true, func() { n++ })
	window(t, b, 100, 44)
	b.SetEnabled(false)
	test.Tap(b)
	typeKey(b, fyne.KeySpace)
	b.SetEnabled(true)
	test.Tap(b)
	if n != 1 {
		t.Errorf("pressed %d times, want once", n)
	}
}

// Wear the caller cannot know must not bring the bar down.
func TestWearBarTakesAnything(t *testing.T) {
	nan, inf := math.NaN(), math.Inf(1)
	b := NewWearBar(Wear{})
	window(t, b, 200, 28)
	for _, w := range []Wear{{nan, nan, nan, nan}, {inf, -inf, inf, inf}, {-3, 5, 2, -1}} {
		b.Set(w)
		if img := b.paint(200, 28, 1); img.Bounds().Dx() != 200 {
			t.Errorf("%v gave %v", w, img.Bounds())
		}
	}
}

// A forecast far past the limit leaves the readings their room; readings past
// it are all in the picture.
func TestBandIsCutPastTheLimit(t *testing.T) {
	band := []BandPoint{{Hours: 0, Low: -20, Mid: 0, High: 10}, {Hours: 200, Low: 100, Mid: 225, High: 350}}
	for _, c := range []struct {
		read         float64
		limited      bool
		atLeast, top float64
	}{{50, true, 150, 170}, {240, true, 240, 270}, {50, false, 350, 390}} {
		v := &trendView{t: Trend{Readings: []Reading{{Value: c.read}}, Band: band, Limit: 100, HasLimit: c.limited}}
		v.span()
		if v.y1 < c.atLeast || v.y1 > c.top {
			t.Errorf("reading %g, limit %v: the axis ends at %g, want %g to %g", c.read, c.limited, v.y1, c.atLeast, c.top)
		}
	}
}
