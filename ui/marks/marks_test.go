package marks

import (
	"image"
	"image/color"
	"math"
	"testing"

	"pgregory.net/rapid"

	"forkwear/inspect"
	"forkwear/media/scale"
)

func grey(w, h int) *image.RGBA {
	img := image.NewRGBA(image.Rect(0, 0, w, h))
	for i := range img.Pix {
		img.Pix[i] = 128
	}
	return img
}

// A picture of a tenth of the photo: marks lie at a tenth of their pixels.
func TestOverDrawsOnACopy(t *testing.T) {
	img := grey(400, 300)
	l := Layer{Marks: []inspect.Mark{
		{Kind: inspect.MarkCircle, Points: []inspect.Spot{{X: 2000, Y: 1500}, {X: 3000, Y: 1500}}},
		{Kind: inspect.MarkArrow, Points: []inspect.Spot{{X: 200, Y: 200}, {X: 1000, Y: 200}}},
		{Kind: inspect.MarkText, Text: "here", Points: []inspect.Spot{{X: 200, Y: 2700}}},
	}}
	out := Over(img, 4000, 3000, l)
	white := func(x, y int) bool { c := out.RGBAAt(x, y); return c.R > 240 && c.G > 240 }
	for _, p := range []image.Point{{300, 150}, {100, 150}, {200, 50}, {200, 250}, {60, 20}} {
		if !white(p.X, p.Y) {
			t.Errorf("nothing is drawn at %v: %v", p, out.RGBAAt(p.X, p.Y))
		}
	}
	if white(200, 150) || out.RGBAAt(350, 290) != (color.RGBA{128, 128, 128, 128}) {
		t.Error("drawn where nothing is marked")
	}
	for _, b := range img.Pix {
		if b != 128 {
			t.Fatal("the photo itself was drawn on")
		}
	}
}

func TestMasksSurviveKeeping(t *testing.T) {
	a := image.NewAlpha(image.Rect(0, 0, 5, 4))
	a.SetAlpha(2, 1, color.Alpha{255})
	a.SetAlpha(3, 1, color.Alpha{90})
	b, err := Pack(a)
	if err != nil {
		t.Fatal(err)
	}
	got := Ready(inspect.PhotoMeasure{Mask: b}).Damage
	for i := range a.Pix {
		if got.Pix[i] != a.Pix[i] {
			t.Fatalf("%v, want %v", got.Pix, a.Pix)
		}
	}
	if Ready(inspect.PhotoMeasure{Mask: []byte("no picture")}).Damage != nil {
		t.Error("made of nothing")
	}
	// Over the window 100..150 x 200..240 of a photo ten times the picture.
	out := Over(grey(40, 30), 400, 300, Layer{Measures: []Shown{{Damage: a, PhotoMeasure: inspect.PhotoMeasure{Window: [4]float64{100, 200, 50, 40}}}}})
	tinted := 0
	for y := range 30 {
		for x := range 40 {
			if out.RGBAAt(x, y).G != 128 {
				tinted++
				if x != 12 || y != 21 { // mask pixel 2, 1 is photo 120..130 x 210..220
					t.Errorf("tinted at %d, %d", x, y)
				}
			}
		}
	}
	if tinted != 1 {
		t.Errorf("%d pixels tinted", tinted)
	}
}

func TestViewGoesBothWays(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		f := func(n string, lo, hi float64) float64 { return rapid.Float64Range(lo, hi).Draw(rt, n) }
		v := View{f("scale", 0.01, 50), f("x", -1e4, 1e4), f("y", -1e4, 1e4)}
		s := inspect.Spot{X: f("sx", 0, 9000), Y: f("sy", 0, 9000)}
		q := v.At(s)
		if b := v.Spot(q.X, q.Y); math.Hypot(b.X-s.X, b.Y-s.Y) > 1e-6 {
			rt.Fatalf("%v came back as %v", s, b)
		}
	})
}

// Clipping keeps the line: both ends lie on it and inside the box.
func TestClippedLinesStayOnThemselves(t *testing.T) {
	box := image.Rect(0, 0, 100, 80)
	rapid.Check(t, func(rt *rapid.T) {
		f := func(n string) float64 { return rapid.Float64Range(-500, 500).Draw(rt, n) }
		v := View{Scale: 1}
		a, b := v.At(inspect.Spot{X: f("ax"), Y: f("ay")}), v.At(inspect.Spot{X: f("bx"), Y: f("by")})
		p, q, ok := clipped(a, b, box)
		if !ok {
			for i := range 101 { // then no place of it is inside
				k := float64(i) / 100
				if x, y := a.X+k*(b.X-a.X), a.Y+k*(b.Y-a.Y); x > 0 && x < 100 && y > 0 && y < 80 {
					rt.Fatalf("%v, %v is inside", x, y)
				}
			}
			return
		}
		for _, e := range []struct{ X, Y float64 }{{p.X, p.Y}, {q.X, q.Y}} {
			if e.X < -1e-6 || e.X > 100+1e-6 || e.Y < -1e-6 || e.Y > 80+1e-6 {
				rt.Fatalf("%v is outside", e)
			}
			if cross := (e.X-a.X)*(b.Y-a.Y) - (e.Y-a.Y)*(b.X-a.X); math.Abs(cross) > 1e-6*(1+math.Hypot(b.X-a.X, b.Y-a.Y)*1000) {
				rt.Fatalf("%v is not on the line", e)
			}
		}
	})
}

func TestMovedLeavesOutWhatIsBeyondTheHorizon(t *testing.T) {
	h := scale.Homography{1, 0, 5, 0, 1, 7, 0.01, 0, 1} // w is 0 at x = -100
	ms := Moved([]inspect.Mark{
		{Text: "stays", Points: []inspect.Spot{{X: 0, Y: 0}}},
		{Text: "goes", Points: []inspect.Spot{{X: -100, Y: 0}}},
	}, h)
	if len(ms) != 1 || ms[0].Points[0] != (inspect.Spot{X: 5, Y: 7}) {
		t.Fatalf("%+v", ms)
	}
}

func TestValue(t *testing.T) {
	for _, c := range []struct {
		m    inspect.PhotoMeasure
		want string
	}{
		{inspect.PhotoMeasure{Value: 12.34, Low: 11.9, High: 12.9, Unit: "mm"}, "12.3 ± 0.6 mm"},
		{inspect.PhotoMeasure{Value: 0.42, Low: 0.37, High: 0.47, Unit: "mm"}, "0.420 ± 0.050 mm"},
		{inspect.PhotoMeasure{Value: 154, Low: 131, High: 178, Unit: "mm2"}, "154 ± 24 mm²"},
		{inspect.PhotoMeasure{Value: 3, Low: 3, High: 3, Unit: "mm"}, "3.0 mm"},
	} {
		if got := Value(c.m); got != c.want {
			t.Errorf("%+v: %q, want %q", c.m, got, c.want)
		}
	}
}
