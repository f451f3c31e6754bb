package scale

import (
	"math"
	"math/rand/v2"

	"forkwear/inspect"
)

// ThinWidth is the width in pixels of the picture below which a mask's width
// and area are bounds only: blur decides there how wide a line looks.
const ThinWidth = 3.0

// maxOutline bounds the points of a mask's outlines: their work is done anew
// in every redraw.
const maxOutline = 200_000

// MaskSize is a damage on the surface.
type MaskSize struct {
	Length Measured // of the centre line, mm
	Width  Measured // area by length, mm
	Area   Measured // inside the outlines less the holes, mm2
}

// MeasureMask measures a damage from its closed outlines in the picture, holes
// running the other way round, and its centre line of two points or more, end
// to end. The points stand firm among each other; what is drawn again is the
// scale (as for Length), the edge as a whole by EdgeSigma, in or out, and in by
// what blur of up to BlurMost widens a thin line, and each end along the line
// by EndSigma. A damage under 3 px wide has a width and an
// area that are bounds (Below): at least those of 3 px.
func (s Scene) MeasureMask(outlines [][]Point, centre []Point, u Uncertainty) (MaskSize, error) {
	if err := checkMask(outlines, centre, u); err != nil {
		return MaskSize{}, err
	}
	surf, err := s.surface()
	if err != nil {
		return MaskSize{}, err
	}
	m := maskMarks{outlines: outlines, centre: centre, u: u, width: sizes(append([][]Point{centre}, outlines...), 1)[1]}
	for _, ring := range outlines {
		m.normals = append(m.normals, normals(ring))
	}
	places, err := mapLists(surf, append([][]Point{centre}, outlines...))
	if err != nil {
		return MaskSize{}, inspect.Refuse(inspect.Invalid, "the mask: %w", err)
	}
	value := sizes(places, 1)
	for _, v := range value {
		if !(v > 0) || bad(v) {
			return MaskSize{}, inspect.Refuse(inspect.Invalid, "the mask has no size: paint the damage again")
		}
	}
	redrawn, err := s.redraws(u, m.draw, sizes)
	if err != nil {
		return MaskSize{}, err
	}
	var out [3]Measured
	for i := range out {
		low, high := rangeOf(redrawn, i)
		out[i] = Measured{Value: value[i], Low: math.Max(0, math.Min(low, value[i])), High: math.Max(high, value[i]),
			Method: surf.method, Remarks: s.remarks(surf, []Point{centre[0], centre[len(centre)-1]})}
	}
	size := MaskSize{Length: out[0], Width: out[1], Area: out[2]}
	size.bound(s.Tongue, m.width)
	return size, nil
}

func checkMask(outlines [][]Point, centre []Point, u Uncertainty) error {
	if err := u.check(); err != nil {
		return err
	}
	if len(outlines) == 0 {
		return inspect.Refuse(inspect.Invalid, "the mask is empty: paint the damage")
	}
	if len(centre) < 2 {
		return inspect.Refuse(inspect.Invalid, "the centre line of a mask needs two points or more, given are %d", len(centre))
	}
	n := 0
	for _, ring := range outlines {
		if n += len(ring); len(ring) < 3 {
			return inspect.Refuse(inspect.Invalid, "an outline of a mask needs three points or more, given are %d", len(ring))
		}
		if err := finite("mask's outline", ring...); err != nil {
			return err
		}
	}
	if n > maxOutline {
		return inspect.Refuse(inspect.Invalid, "the mask's outlines have %d points, at most %d are taken: choose a smaller region, or take the specks away", n, maxOutline)
	}
	return finite("mask's centre line", centre...)
}

// sizes are length, width and area; the first list is the centre line.
func sizes(places [][]Point, shrink float64) []float64 {
	var area float64
	for _, ring := range places[1:] {
		area += signedArea(ring)
	}
	area = math.Abs(area) * shrink * shrink
	length := PolylineLength(places[0]) * shrink
	return []float64{length, area / length, area}
}

// bound turns width and area into bounds where the damage is thin; px is its
// mean width in the picture.
func (m *MaskSize) bound(say inspect.Tongue, px float64) {
	if px >= ThinWidth {
		return
	}
	note := say.Sayf("The damage is under %.0f pixels wide: its width and area are bounds, no values. Take a photo from nearer to measure them.", ThinWidth)
	for _, v := range []*Measured{&m.Width, &m.Area} {
		v.High = math.Max(v.High, v.Value*ThinWidth/px)
		v.Value, v.Low, v.Below = v.High, 0, true
		v.Remarks = append(v.Remarks, note)
	}
}

// maskMarks draws a mask again.
type maskMarks struct {
	outlines, normals [][]Point
	centre            []Point
	width             float64 // px in the picture
	u                 Uncertainty
}

func (m maskMarks) draw(r *rand.Rand) [][]Point {
	out := r.NormFloat64() * m.u.EdgeSigma
	n := len(m.centre)
	line := append([]Point(nil), m.centre...)
	line[0] = beyond(line[0], m.centre[1], out+r.NormFloat64()*m.u.EndSigma)
	line[n-1] = beyond(line[n-1], m.centre[n-2], out+r.NormFloat64()*m.u.EndSigma)
	lists := [][]Point{line}
	out -= blurExcess(m.width, r.Float64()*m.u.BlurMost)
	for i, ring := range m.outlines {
		moved := make([]Point, len(ring))
		for k, p := range ring {
			moved[k] = Point{p.X + out*m.normals[i][k].X, p.Y + out*m.normals[i][k].Y}
		}
		lists = append(lists, moved)
	}
	return lists
}

// beyond moves p by d away from q.
func beyond(p, q Point, d float64) Point {
	l := p.distance(q)
	if !(l > 0) {
		return p
	}
	return Point{p.X + d*(p.X-q.X)/l, p.Y + d*(p.Y-q.Y)/l}
}

// normals are, at each corner of an outline that runs clockwise as seen, how
// far it moves when both its sides move out by 1; at most 2 where it is sharp.
func normals(ring []Point) []Point {
	n := len(ring)
	out := make([]Point, n)
	side := func(a, b Point) Point { // to the left of the way: out of the damage
		l := a.distance(b)
		if !(l > 0) {
			return Point{}
		}
		return Point{(b.Y - a.Y) / l, -(b.X - a.X) / l}
	}
	for i, p := range ring {
		a, b := side(ring[(i+n-1)%n], p), side(p, ring[(i+1)%n])
		sum := Point{a.X + b.X, a.Y + b.Y}
		if l := sum.X*sum.X + sum.Y*sum.Y; l > 0 {
			k := math.Min(2/l, 2/math.Sqrt(l)) // 2/|sum|^2 is the mitre
			out[i] = Point{sum.X * k, sum.Y * k}
		}
	}
	return out
}

// blurExcess is how far outside its true edge, px, the half-way level of a
// strip lies that is blurred by a bell of sigma and looks width px wide: the
// blur lowers the middle of a thin strip, and half of that lies farther out.
// With a true width w and P the normal distribution, the level at x from the
// middle is P((x+w/2)/sigma) - P((x-w/2)/sigma); it is half of that at 0 at
// width/2. A strip narrower than the bell's own half-way width of 2.355 sigma
// gives half its width.
func blurExcess(width, sigma float64) float64 {
	if !(sigma > 0) || width > 8*sigma {
		return 0
	}
	level := func(x, w float64) float64 {
		return math.Erf((x+w/2)/(sigma*math.Sqrt2)) - math.Erf((x-w/2)/(sigma*math.Sqrt2))
	}
	lo, hi := 0.0, width // of the true width
	for range 40 {
		w := (lo + hi) / 2
		if level(width/2, w) > level(0, w)/2 {
			hi = w
		} else {
			lo = w
		}
	}
	return (width - lo) / 2
}
