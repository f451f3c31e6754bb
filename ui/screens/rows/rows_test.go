package rows

import (
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"
	"fyne.io/fyne/v2/widget"
	"pgregory.net/rapid"
)

var columns = []Column{{Title: "Fork", Share: 2}, {Title: "Customer", Share: 1, Least: 120}, {Title: "Visits", Share: 1, Least: 60}}

func TestWhatDoesNotFitStandsUnderTheFirst(t *testing.T) {
	test.NewTempApp(t)
	l := NewLine(columns)
	l.Set(Cell{Text: "Trail"}, Cell{Text: "A Customer"}, Cell{Text: "3", Folded: "3 visits"})
	r := test.WidgetRenderer(l).(*lineRenderer)
	for width, want := range map[float32]string{900: "", 300: "A Customer"} {
		l.Resize(fyne.NewSize(width, 52))
		if got := r.low[0].Text; got != want {
			t.Errorf("%g wide the first column says %q below, want %q", width, got, want)
		}
	}
	l.Resize(fyne.NewSize(170, 52))
	if got := r.cell(0, fitted(columns, 170)).Under; got != "A Customer · 3 visits" {
		t.Errorf("very narrow it says %q below", got)
	}
}

func TestWidthsAddUpAndKeepTheirLeast(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		width := rapid.Float32Range(40, 3000).Draw(t, "width")
		sum := float32(0)
		for i, w := range fitted(columns, width) {
			sum += w
			if i > 0 && w > 0 && w < columns[i].Least {
				t.Fatalf("column %d is %g wide, needs %g", i, w, columns[i].Least)
			}
		}
		if d := sum - (width - 16); d > .01 || d < -.01 {
			t.Fatalf("the columns are %g wide together, the line %g", sum, width-16)
		}
	})
}

func TestShortenFitsAndIsAPrefix(t *testing.T) {
	test.NewTempApp(t)
	const text = "Pair of bushings, left and right, äöü"
	for width := float32(0); width < 400; width += 7 {
		got := Shorten(text, width, 16, fyne.TextStyle{})
		if fyne.MeasureText(got, 16, fyne.TextStyle{}).Width > width && got != "" {
			t.Errorf("%q is wider than %g", got, width)
		}
		if !strings.HasPrefix(text, strings.TrimSuffix(got, "…")) {
			t.Errorf("%q is no beginning of %q", got, text)
		}
	}
}

func TestPressTakesKeysAndTaps(t *testing.T) {
	test.NewTempApp(t)
	n := 0
	p := NewPress(columns, func() { n++ }, Cell{Text: "x"})
	p.Tapped(nil)
	for _, k := range []fyne.KeyName{fyne.KeyReturn, fyne.KeyEnter, fyne.KeySpace, fyne.KeyTab} {
		p.TypedKey(&fyne.KeyEvent{Name: k})
	}
	if n != 4 {
		t.Errorf("pressed %d times, want 4", n)
	}
	if h := p.MinSize().Height; h < 44 {
		t.Errorf("%g high, a target is 44", h)
	}
}

func TestBesideStacksWhereItIsNarrow(t *testing.T) {
	test.NewTempApp(t)
	a, b := widget.NewLabel("a"), widget.NewLabel("b")
	c := Beside(a, b, .5, 600)
	c.Resize(fyne.NewSize(800, 400))
	if b.Position().X <= a.Position().X || b.Position().Y != 0 {
		t.Error("wide, the second does not stand beside the first")
	}
	c.Resize(fyne.NewSize(500, 400))
	if b.Position().Y < a.Size().Height || b.Position().X != 0 {
		t.Error("narrow, the second does not stand under the first")
	}
}
