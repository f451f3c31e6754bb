package pen

import (
	"image/color"
	"math"
	"testing"

	"pgregory.net/rapid"
)

var black = color.NRGBA{A: 255}

// ink sums the coverage of a drawing in pixels.
func ink(p *Pen) float64 {
	sum := 0.0
	for i := 3; i < len(p.Image().Pix); i += 4 {
		sum += float64(p.Image().Pix[i]) / 255
	}
	return sum
}

// The covered area of a shape is its area: elementary geometry.
func TestAreas(t *testing.T) {
	for _, c := range []struct {
		name string
		draw func(*Pen)
		want float64
	}{
		{"rectangle on whole pixels", func(p *Pen) { p.Fill(Rect(10, 10, 20, 30), black) }, 600},
		{"rectangle on half pixels", func(p *Pen) { p.Fill(Rect(10.5, 10.5, 20, 30), black) }, 600},
		{"circle", func(p *Pen) { p.Fill(Circle(50, 50, 30), black) }, math.Pi * 900},
		{"line", func(p *Pen) { p.Stroke(Line(20, 50, 80, 50), 4, black) }, 60*4 + math.Pi*4},
		{"ring", func(p *Pen) { p.Stroke(Circle(50, 50, 30), 2, black) }, 2 * math.Pi * 30 * 2},
		{"square outline", func(p *Pen) { p.Stroke(Rect(20, 20, 40, 40), 2, black) }, 42*42 - 38*38},
	} {
		p := New(100, 100)
		c.draw(p)
		if got := ink(p); math.Abs(got-c.want) > c.want*0.015 {
			t.Errorf("%s covers %.1f pixels, want %.1f", c.name, got, c.want)
		}
	}
}

func TestDashesCoverTheirShare(t *testing.T) {
	total := 0.0
	for _, d := range dashes(sub{pts: []Pt{{0, 0}, {30, 0}, {100, 0}}}, 6, 4) {
		for i := 1; i < len(d.pts); i++ {
			total += d.pts[i].X - d.pts[i-1].X
		}
	}
	if math.Abs(total-60) > 1e-6 { // 10 periods of 6 on, 4 off
		t.Errorf("dashes cover %.3f of 100, want 60", total)
	}
}

func TestDistance(t *testing.T) {
	sq := Rect(0, 0, 10, 10)
	for _, c := range []struct{ x, y, want float64 }{{5, 5, 0}, {15, 5, 5}, {13, 14, 5}, {-2, 5, 2}} {
		if got := sq.Distance(c.x, c.y); math.Abs(got-c.want) > 1e-9 {
			t.Errorf("distance of %v,%v is %v, want %v", c.x, c.y, got, c.want)
		}
	}
}

// Nothing a caller hands in may bring the pen down or reach outside.
func TestAnyPathIsHarmless(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		f := rapid.OneOf(rapid.Float64Range(-200, 200), rapid.SampledFrom([]float64{math.NaN(), math.Inf(1), 1e9, -1e9}))
		p := New(rapid.IntRange(-3, 40).Draw(t, "w"), 30)
		path := new(Path)
		for i := rapid.IntRange(0, 6).Draw(t, "n"); i > 0; i-- {
			path.L(f.Draw(t, "x"), f.Draw(t, "y"))
		}
		path.C(f.Draw(t, "a"), f.Draw(t, "b"), 1, 2, 3, 4)
		p.Fill(path, black)
		p.Stroke(path.Z(), 2, black)
	})
}

func TestTextIsDrawnWhereItIsAnchored(t *testing.T) {
	f := DefaultFont()
	w := f.Width("88", 20)
	if w <= 0 {
		t.Fatal("the built-in font has no width")
	}
	for _, c := range []struct {
		at  Anchor
		mid float64
	}{{Start, 50 + w/2}, {Middle, 50}, {End, 50 - w/2}} {
		p := New(100, 40)
		p.Text(f, "88", 50, 30, 20, c.at, black)
		sum, moment := 0.0, 0.0
		for i := 0; i < 4000; i++ {
			a := float64(p.Image().Pix[4*i+3])
			sum += a
			moment += a * (float64(i%100) + 0.5)
		}
		if sum == 0 || math.Abs(moment/sum-c.mid) > 1 {
			t.Errorf("anchor %d: middle at %.1f, want %.1f", c.at, moment/sum, c.mid)
		}
	}
}

func TestParseFontRefusesOtherFiles(t *testing.T) {
	if _, err := ParseFont([]byte("no font")); err == nil {
		t.Error("text was taken for a font")
	}
}

func FuzzParseFont(f *testing.F) {
	f.Add([]byte("\x00\x01\x00\x00"))
	f.Fuzz(func(t *testing.T, b []byte) {
		if font, err := ParseFont(b); err == nil {
			New(20, 20).Text(font, "a1", 2, 15, 10, Start, black)
		}
	})
}
