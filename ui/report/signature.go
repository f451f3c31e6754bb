package report

import (
	"html/template"
	"strings"

	"forkwear/inspect"
	"forkwear/inspect/shop"
	"forkwear/ui/theme/tokens"
	"forkwear/ui/tongue"
	"forkwear/ui/words"
)

// The field of a signature in mm: three times as wide as high, as the one that
// it was drawn in, of which its points are shares.
const (
	signW = 60.0
	signH = signW / 3
)

// signed is one thing that was signed.
type signed struct {
	Says    string
	Strokes inspect.Signature // nil where it stands on paper
}

// signatures tells what the customer signed: the agreement at drop-off, and the
// answers at the counter.
func signatures(c *shop.Case) []signed {
	var out []signed
	if by := strings.TrimSpace(c.Visit.SignedBy); by != "" {
		by, onPaper := strings.CutSuffix(by, " (on paper)") // as the drop-off keeps it
		out = append(out, signed{tongue.Sayf("What was agreed at drop-off, %s, %s", words.SignedBy(by, onPaper), words.Date(c.Visit.DroppedOff)), c.Visit.Signature})
	}
	if k, stale, ok := c.Signed(); ok {
		says := tongue.Sayf("Your answers, %s, %s", words.SignedBy(k.By, len(k.Signature) == 0), words.Date(k.At))
		if stale {
			says = tongue.Sayf("%s; an answer was changed after that", says)
		}
		out = append(out, signed{says, k.Signature})
	}
	return out
}

// Drawn tells whether there are strokes to draw.
func (s signed) Drawn() bool { return len(s.Strokes) > 0 }

// draw draws the line to sign on and the strokes.
func (s signed) draw(c canvas) {
	pal := tokens.Light()
	c.lines([]xy{{0, signH * 0.74}, {signW, signH * 0.74}}, false, stroke{pal.Line, 0.2, nil})
	for _, points := range s.Strokes {
		var at []xy
		for _, q := range points {
			if q.X >= 0 && q.X <= 1 && q.Y >= 0 && q.Y <= 1 {
				at = append(at, xy{q.X * signW, q.Y * signH})
			}
		}
		switch len(at) {
		case 0:
		case 1:
			c.dot(at[0], 0.3, pal.Ink)
		default:
			c.lines(rounded(at), false, stroke{pal.Ink, 0.4, nil})
		}
	}
}

// rounded lays a curve through the middles of the pieces of a line, in four
// steps a piece: a fast hand leaves few points.
func rounded(p []xy) []xy {
	out := []xy{p[0]}
	from := p[0]
	for i := 1; i < len(p)-1; i++ {
		to := xy{(p[i].X + p[i+1].X) / 2, (p[i].Y + p[i+1].Y) / 2}
		for n := 1; n <= 4; n++ {
			t := float64(n) / 4
			a, b, c := (1-t)*(1-t), 2*t*(1-t), t*t // of a quadratic curve
			out = append(out, xy{a*from.X + b*p[i].X + c*to.X, a*from.Y + b*p[i].Y + c*to.Y})
		}
		from = to
	}
	return append(out, p[len(p)-1])
}

func signSVG(s signed) template.HTML {
	c := &svg{}
	s.draw(c)
	return template.HTML(c.element(signW, signH, "sign", tongue.Say("signature")))
}

// signed sets the signatures, two beside each other.
func (p *sheet) signed() {
	if len(p.t.Signed) == 0 {
		return
	}
	p.heading(tongue.Say("Signed"), signH+8)
	p.room(signH + 8)
	w := (wide - 8) / 2
	high := 0.0
	for i, s := range p.t.Signed {
		x, h := margin+float64(i%2)*(w+8), 0.0
		if s.Drawn() {
			s.draw(penAt{p, x, p.y})
			h = signH + 1
		}
		high = max(high, h+p.write(x, p.y+h, s.Says, p.small(), w))
	}
	p.y += high + 2
}
