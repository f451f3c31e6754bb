package widgets

import (
	"image"
	"math"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/test"
	"pgregory.net/rapid"

	"forkwear/inspect"
	"forkwear/ui/theme"
)

func pad(t *testing.T, w, h float32) (*SignaturePad, *int) {
	t.Helper()
	test.NewTempApp(t).Settings().SetTheme(theme.New())
	changes := 0
	p := NewSignaturePad("sign here", func() { changes++ })
	test.NewTempWindow(t, p)
	p.Resize(fyne.NewSize(w, h))
	return p, &changes
}

func (p *SignaturePad) pressAt(x, y float32) {
	p.MouseDown(&desktop.MouseEvent{PointEvent: fyne.PointEvent{Position: fyne.NewPos(x, y)}, Button: desktop.MouseButtonPrimary})
}

func (p *SignaturePad) dragTo(x, y float32) {
	p.Dragged(&fyne.DragEvent{PointEvent: fyne.PointEvent{Position: fyne.NewPos(x, y)}})
}

// The shares by hand: a field of 300 x 100 in a widget of 300 x 200 begins 50 down.
func TestSignaturePad_StrokesInShares(t *testing.T) {
	p, changes := pad(t, 300, 200)
	p.pressAt(30, 60)
	p.dragTo(150, 100)
	p.dragTo(999, 999) // off the field: pulled in
	p.MouseUp(nil)
	p.DragEnd()
	got := p.Strokes()
	want := []inspect.Spot{{X: .1, Y: .1}, {X: .5, Y: .5}, {X: 1, Y: 1}}
	if len(got) != 1 || len(got[0]) != 3 || *changes != 1 {
		t.Fatalf("strokes %v, %d changes", got, *changes)
	}
	for i, w := range want {
		if math.Hypot(got[0][i].X-w.X, got[0][i].Y-w.Y) > 1e-4 {
			t.Errorf("point %d %v, want %v", i, got[0][i], w)
		}
	}
}

func TestSignaturePad_UndoAndClear(t *testing.T) {
	p, changes := pad(t, 300, 100)
	for i := range 3 {
		p.pressAt(float32(20+40*i), 30)
		p.dragTo(float32(30+40*i), 60)
		p.MouseUp(nil)
	}
	p.Undo()
	if n := len(p.Strokes()); n != 2 {
		t.Errorf("%d strokes after one was taken back", n)
	}
	p.Clear()
	p.Clear()
	p.Undo()
	if p.Strokes() != nil || *changes != 5 { // three strokes, one undo, one clear
		t.Errorf("%v left, %d changes", p.Strokes(), *changes)
	}
	p.SetStrokes(inspect.Signature{{{X: .5, Y: .5}}})
	p.SetLocked(true)
	p.pressAt(10, 10)
	p.MouseUp(nil)
	p.Clear()
	if len(p.Strokes()) != 1 {
		t.Error("a locked signature was changed")
	}
}

func TestSignaturePad_RightButtonAndOddPlaces(t *testing.T) {
	p, _ := pad(t, 300, 100)
	p.MouseDown(&desktop.MouseEvent{PointEvent: fyne.PointEvent{Position: fyne.NewPos(10, 10)}, Button: desktop.MouseButtonSecondary})
	p.MouseUp(nil)
	nan := float32(math.NaN())
	p.pressAt(nan, 3)
	p.dragTo(nan, nan)
	p.MouseUp(nil)
	p.SetStrokes(inspect.Signature{{{X: math.NaN(), Y: 0}}, {{X: math.Inf(1), Y: 2}}, nil, {{X: -1, Y: .5}, {X: .2, Y: .2}}})
	got := p.Strokes()
	if len(got) != 1 || len(got[0]) != 1 || got[0][0] != (inspect.Spot{X: .2, Y: .2}) {
		t.Errorf("kept %v", got)
	}
	for _, s := range []image.Point{{0, 0}, {1, 1}, {3, 900}} {
		p.paint(s.X, s.Y)
	}
}

// Whatever is drawn lies in the field, is bounded, and is drawn somewhere.
func TestSignaturePad_AlwaysInTheField(t *testing.T) {
	p, _ := pad(t, 320, 90)
	rapid.Check(t, func(r *rapid.T) {
		p.SetStrokes(nil)
		at := rapid.Float32Range(-500, 900)
		for range rapid.IntRange(0, 150).Draw(r, "strokes") {
			p.pressAt(at.Draw(r, "x"), at.Draw(r, "y"))
			p.dragTo(at.Draw(r, "x"), at.Draw(r, "y"))
			p.MouseUp(nil)
		}
		got := p.Strokes()
		if len(got) > mostStrokes || p.points() > mostPoints {
			r.Fatalf("%d strokes, %d points", len(got), p.points())
		}
		for _, s := range got {
			for _, q := range s {
				if !(q.X >= 0 && q.X <= 1 && q.Y >= 0 && q.Y <= 1) {
					r.Fatalf("point %v", q)
				}
			}
		}
		back := p.Strokes()
		p.SetStrokes(back)
		if len(p.Strokes()) != len(got) {
			r.Fatal("a signature changes by being shown again")
		}
	})
}

// The ink of the theme is where the stroke went, and nowhere far from it.
func TestSignaturePad_InkOfTheTheme(t *testing.T) {
	for _, dark := range []bool{false, true} {
		app := test.NewTempApp(t)
		app.Settings().SetTheme(theme.New(theme.WithVariant(fyne.ThemeVariant(map[bool]int{true: 0, false: 1}[dark]))))
		p := NewSignaturePad("", nil)
		p.SetStrokes(inspect.Signature{{{X: .1, Y: .3}, {X: .5, Y: .3}, {X: .9, Y: .3}}})
		img := p.paint(600, 200).(*image.RGBA)
		pal := paletteOf(p)
		if c := img.RGBAAt(300, 60); c.R != pal.Ink.R || c.G != pal.Ink.G || c.A != 255 {
			t.Errorf("dark %v: on the stroke %v, want %v", dark, c, pal.Ink)
		}
		if c := img.RGBAAt(300, 20); c.A != 0 {
			t.Errorf("dark %v: ink where nothing was drawn: %v", dark, c)
		}
	}
}

func TestSignatureField_ByKeyboardAlone(t *testing.T) {
	test.NewTempApp(t).Settings().SetTheme(theme.New())
	changes := 0
	f := NewSignatureField(func() { changes++ })
	w := test.NewTempWindow(t, f)
	w.Resize(fyne.NewSize(500, 400))
	if f.Value().Done() || !f.Value().Empty() {
		t.Error("signed by nobody")
	}
	test.Type(f.Name, "Ada Example")
	w.Canvas().Focus(f.paper)
	w.Canvas().Focused().TypedKey(&fyne.KeyEvent{Name: fyne.KeySpace})
	if got := f.Value(); !got.Done() || got.By != "Ada Example" || !got.OnPaper || changes == 0 {
		t.Errorf("%+v, %d changes", got, changes)
	}
	f.Pad.pressAt(200, 30) // drawn after all: no longer on paper
	f.Pad.MouseUp(nil)
	if got := f.Value(); got.OnPaper || len(got.Strokes) != 1 {
		t.Errorf("%+v", got)
	}
	before := changes
	f.Set(Signed{})
	if got := f.Value(); !got.Empty() || got.By != "" || changes != before {
		t.Errorf("after Set %+v, told %d times", got, changes-before)
	}
}
