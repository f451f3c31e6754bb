package benchcard

import (
	"fmt"
	"math"

	"forkwear/media/scale"
)

// The card in mm, from its top left corner. Size and corner radius are those of
// ISO/IEC 7810 ID-1, from memory; the rest is our own.
const (
	Width  = scale.CardWidth
	Height = scale.CardHeight
	Radius = 3.18

	Frame  = 2.0  // width of the dark outline, inwards from the edge: wide enough that from half a metre its outer side doesn't disturb the inner one
	Module = 1.35 // side of one module
	QRLeft = Frame + 4*Module
	QRTop  = Frame + 4*Module // the empty zone of four modules ends at the frame
	QRSide = qrSize * Module

	TextLeft  = QRLeft + QRSide + 4*Module // where words may stand
	TextRight = Width - 3.0

	ScaleLeft   = (Width - ScaleLength) / 2 // the printed mm scale
	ScaleLength = 75.0
	ScaleFoot   = 51.0 // where its strokes begin; they reach up
)

// CheckLine is the length in mm of the line that tells whether the printer
// kept the size.
const CheckLine = 100.0

// Limits of what a printer does to a sheet; beyond them the line was misread.
const (
	leastLine = 85.0
	mostLine  = 115.0
)

// PrintFactor is what a length measured with a card must be multiplied by (an
// area by its square) when the check line of its sheet measures so many mm:
// measured/100. It fails outside 85 to 115 mm.
func PrintFactor(measured float64) (float64, error) {
	if !(measured >= leastLine && measured <= mostLine) {
		return 0, fmt.Errorf("a check line of %g mm can't be right, it is printed 100 mm long: measure it again, or print the card at 100 %%", measured)
	}
	return measured / CheckLine, nil
}

// ScaleStroke is one stroke of the printed scale, from ScaleFoot upwards.
type ScaleStroke struct {
	X, Length float64
	Label     string // every 10 mm
}

// ScaleStrokes are the strokes of the printed scale, one a millimetre.
func ScaleStrokes() []ScaleStroke {
	var out []ScaleStroke
	for mm := 0; mm <= int(ScaleLength); mm++ {
		s := ScaleStroke{X: ScaleLeft + float64(mm), Length: 1.0}
		switch {
		case mm%10 == 0:
			s.Length, s.Label = 2.2, fmt.Sprint(mm)
		case mm%5 == 0:
			s.Length = 1.6
		}
		out = append(out, s)
	}
	return out
}

// Run is a row of dark modules side by side: mm on the card.
type Run struct{ X, Y, W, H float64 }

// Runs gives the dark parts of the code on the card, row by row.
func Runs(dark [][]bool) []Run {
	var out []Run
	for y, row := range dark {
		for x := 0; x < len(row); x++ {
			from := x
			for x < len(row) && row[x] {
				x++
			}
			if x > from {
				out = append(out, Run{QRLeft + float64(from)*Module, QRTop + float64(y)*Module, float64(x-from) * Module, Module})
			}
		}
	}
	return out
}

// rectangle lists the corners of a rectangle, top left first, clockwise.
func rectangle(x, y, w, h float64) []scale.Point {
	return []scale.Point{{X: x, Y: y}, {X: x + w, Y: y}, {X: x + w, Y: y + h}, {X: x, Y: y + h}}
}

func cardCorners() []scale.Point { return rectangle(0, 0, Width, Height) }
func qrCorners() []scale.Point   { return rectangle(QRLeft, QRTop, QRSide, QRSide) }

// border is a place where the card turns from dark to light: at, and the
// direction to the light side as a unit vector, mm. Side tells borders of the
// four sides of a card apart.
type border struct {
	at, light scale.Point
	reach     float64 // how far along the border it stays the same, to each side, mm
	side      int
	any       bool // dark to light or the other way
}

// frameBorders are places on the inner side of the frame, n on each side of
// the card, away from the round corners.
func frameBorders(n int) []border { return sideBorders(n, Frame, false) }

// plainBorders are places on the edges of a card that is darker or lighter
// than what it lies on.
func plainBorders(n int) []border { return sideBorders(n, 0, true) }

func sideBorders(n int, inset float64, either bool) []border {
	c := rectangle(inset, inset, Width-2*inset, Height-2*inset)
	const clear = 2 * Radius
	var out []border
	for side := range c {
		a, b := c[side], c[(side+1)%4]
		length := math.Hypot(b.X-a.X, b.Y-a.Y)
		along := scale.Point{X: (b.X - a.X) / length, Y: (b.Y - a.Y) / length}
		for i := range n {
			d := clear + (length-2*clear)*(float64(i)+0.5)/float64(n)
			out = append(out, border{at: scale.Point{X: a.X + along.X*d, Y: a.Y + along.Y*d},
				light: scale.Point{X: -along.Y, Y: along.X}, reach: 0.5, side: side, any: either})
		}
	}
	return out
}

// codeBorders are the places where modules change from dark to light, one for
// each side of a module.
func codeBorders(dark [][]bool) []border {
	at := func(x, y int) bool { return y >= 0 && x >= 0 && y < len(dark) && x < len(dark[y]) && dark[y][x] }
	place := func(x, y float64) scale.Point { return scale.Point{X: QRLeft + x*Module, Y: QRTop + y*Module} }
	var out []border
	for y := range len(dark) + 1 {
		for x := range len(dark) + 1 {
			fx, fy := float64(x), float64(y)
			if l, r := at(x-1, y), at(x, y); l != r {
				out = append(out, border{at: place(fx, fy+0.5), light: scale.Point{X: sign(l)}, reach: 0.3 * Module})
			}
			if u, d := at(x, y-1), at(x, y); u != d {
				out = append(out, border{at: place(fx+0.5, fy), light: scale.Point{Y: sign(u)}, reach: 0.3 * Module})
			}
		}
	}
	return out
}

// sign is 1 when the dark side comes first, so that the light lies onwards.
func sign(darkFirst bool) float64 {
	if darkFirst {
		return 1
	}
	return -1
}
