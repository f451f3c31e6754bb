package report

import (
	"fmt"
	"html"
	"image/color"
	"math"
	"strings"

	"forkwear/inspect"
	"forkwear/ui/theme/tokens"
)

// xy is a place on a canvas in mm, y downwards.
type xy struct{ X, Y float64 }

// stroke is how a line is drawn.
type stroke struct {
	Color color.NRGBA
	Width float64 // mm
	Dash  []float64
}

// anchor is which end of a text its place is.
type anchor string

const (
	atStart  anchor = "start"
	atMiddle anchor = "middle"
	atEnd    anchor = "end"
)

// canvas is what marks and wear lines are drawn on.
type canvas interface {
	lines(points []xy, closed bool, s stroke)
	fill(points []xy, c color.NRGBA)
	ring(at xy, r float64, s stroke)
	dot(at xy, r float64, c color.NRGBA)
	text(at xy, a anchor, size float64, c color.NRGBA, words string) // size in mm
}

// mark draws the shape of a verdict: ring, solid square or dashed diamond.
func mark(c canvas, v inspect.Verdict, at xy, r float64) {
	pal := tokens.Light()
	switch v {
	case inspect.Replace:
		k := r * 0.86
		c.fill([]xy{{at.X - k, at.Y - k}, {at.X + k, at.Y - k}, {at.X + k, at.Y + k}, {at.X - k, at.Y + k}}, pal.Replace)
	case inspect.Measure:
		// One gap a side, so that every corner is closed.
		corners := []xy{{at.X, at.Y - r}, {at.X + r, at.Y}, {at.X, at.Y + r}, {at.X - r, at.Y}}
		for i, k := range corners {
			towards := func(o xy) xy { return xy{k.X + 0.41*(o.X-k.X), k.Y + 0.41*(o.Y-k.Y)} }
			c.lines([]xy{towards(corners[(i+3)%4]), k, towards(corners[(i+1)%4])}, false, stroke{pal.Measure, r * 0.3, nil})
		}
	default:
		c.ring(at, r*0.84, stroke{pal.Reuse, r * 0.34, nil})
	}
}

// svg is a canvas that writes the inside of an SVG element.
type svg struct{ b strings.Builder }

// element closes the drawing into an element of w x h mm with a title for
// those who hear the page.
func (s *svg) element(w, h float64, class, title string) string {
	return fmt.Sprintf(`<svg class="%s" viewBox="0 0 %s %s" role="img" aria-label="%s">%s</svg>`,
		class, num(w), num(h), html.EscapeString(title), s.b.String())
}

func (s *svg) lines(points []xy, closed bool, st stroke) {
	tag := "polyline"
	if closed {
		tag = "polygon"
	}
	fmt.Fprintf(&s.b, `<%s points="%s" fill="none" %s/>`, tag, places(points), st.attributes())
}

func (s *svg) fill(points []xy, c color.NRGBA) {
	fmt.Fprintf(&s.b, `<polygon points="%s" fill="%s"/>`, places(points), css(c))
}

func (s *svg) ring(at xy, r float64, st stroke) {
	fmt.Fprintf(&s.b, `<circle cx="%s" cy="%s" r="%s" fill="none" %s/>`, num(at.X), num(at.Y), num(r), st.attributes())
}

func (s *svg) dot(at xy, r float64, c color.NRGBA) {
	fmt.Fprintf(&s.b, `<circle cx="%s" cy="%s" r="%s" fill="%s"/>`, num(at.X), num(at.Y), num(r), css(c))
}

func (s *svg) text(at xy, a anchor, size float64, c color.NRGBA, words string) {
	fmt.Fprintf(&s.b, `<text x="%s" y="%s" font-size="%s" text-anchor="%s" fill="%s">%s</text>`,
		num(at.X), num(at.Y), num(size), a, css(c), html.EscapeString(words))
}

func (st stroke) attributes() string {
	a := fmt.Sprintf(`stroke="%s" stroke-width="%s"`, css(st.Color), num(st.Width))
	if len(st.Dash) > 0 {
		var d []string
		for _, x := range st.Dash {
			d = append(d, num(x))
		}
		a += fmt.Sprintf(` stroke-dasharray="%s"`, strings.Join(d, " "))
	}
	return a
}

func places(points []xy) string {
	var b strings.Builder
	for i, p := range points {
		if i > 0 {
			b.WriteByte(' ')
		}
		b.WriteString(num(p.X) + "," + num(p.Y))
	}
	return b.String()
}

func num(x float64) string {
	s := strings.TrimRight(strings.TrimRight(fmt.Sprintf("%.2f", x), "0"), ".")
	if s == "-0" {
		return "0"
	}
	return s
}

func css(c color.NRGBA) string { return fmt.Sprintf("#%02x%02x%02x", c.R, c.G, c.B) }

// The size of a bar of wear used in mm; the limit stands at barLimit.
const (
	barW, barH = 24.0, 3.4
	barLimit   = 19.0
)

// usedBar draws wear used as a bar with the limit as a line across it.
func usedBar(c canvas, used float64) {
	pal := tokens.Light()
	end := math.Max(0, math.Min(used*barLimit, barW))
	box := func(x0, x1 float64) []xy { return []xy{{x0, 0.8}, {x1, 0.8}, {x1, barH - 0.8}, {x0, barH - 0.8}} }
	c.fill(box(0, barW), pal.Line)
	if end > 0 {
		c.fill(box(0, end), pal.QuietInk)
	}
	c.lines([]xy{{barLimit, 0}, {barLimit, barH}}, false, stroke{pal.Ink, 0.45, nil})
}
