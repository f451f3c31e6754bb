package pen

import "math"

// Pt is a point in the units of the drawing, y downwards.
type Pt struct{ X, Y float64 }

type sub struct {
	pts    []Pt
	closed bool
}

// Path is a list of polylines; curves are flattened as they are added. The
// zero value is an empty path.
type Path struct{ subs []sub }

const (
	cubicSteps = 24
	turnSteps  = 72 // pieces of a full turn
)

// M starts a new line at x, y.
func (p *Path) M(x, y float64) *Path {
	p.subs = append(p.subs, sub{pts: []Pt{{x, y}}})
	return p
}

// L goes on to x, y; on an empty path it starts there.
func (p *Path) L(x, y float64) *Path {
	if len(p.subs) == 0 {
		return p.M(x, y)
	}
	s := &p.subs[len(p.subs)-1]
	s.pts = append(s.pts, Pt{x, y})
	return p
}

// C goes on with a cubic curve to x, y.
func (p *Path) C(x1, y1, x2, y2, x, y float64) *Path {
	if len(p.subs) == 0 {
		p.M(x1, y1)
	}
	s := p.subs[len(p.subs)-1].pts
	a := s[len(s)-1]
	for i := 1; i <= cubicSteps; i++ {
		t := float64(i) / cubicSteps
		u := 1 - t
		p.L(u*u*u*a.X+3*u*u*t*x1+3*u*t*t*x2+t*t*t*x,
			u*u*u*a.Y+3*u*u*t*y1+3*u*t*t*y2+t*t*t*y)
	}
	return p
}

// Q goes on with a quadratic curve to x, y.
func (p *Path) Q(x1, y1, x, y float64) *Path {
	if len(p.subs) == 0 {
		p.M(x1, y1)
	}
	s := p.subs[len(p.subs)-1].pts
	a := s[len(s)-1]
	return p.C(a.X+2*(x1-a.X)/3, a.Y+2*(y1-a.Y)/3, x+2*(x1-x)/3, y+2*(y1-y)/3, x, y)
}

// Arc goes on with part of an ellipse, angles in radians, 0 to the right,
// growing clockwise on the page.
func (p *Path) Arc(cx, cy, rx, ry, from, to float64) *Path {
	n := int(math.Ceil(math.Abs(to-from)/(2*math.Pi)*turnSteps)) + 1
	for i := 0; i <= n; i++ {
		a := from + (to-from)*float64(i)/float64(n)
		p.L(cx+rx*math.Cos(a), cy+ry*math.Sin(a))
	}
	return p
}

// Z closes the line begun last.
func (p *Path) Z() *Path {
	if len(p.subs) > 0 {
		p.subs[len(p.subs)-1].closed = true
	}
	return p
}

// Add appends the lines of another path.
func (p *Path) Add(o *Path) *Path {
	p.subs = append(p.subs, o.subs...)
	return p
}

// Line returns a straight line.
func Line(x1, y1, x2, y2 float64) *Path { return new(Path).M(x1, y1).L(x2, y2) }

// Rect returns a rectangle.
func Rect(x, y, w, h float64) *Path {
	return new(Path).M(x, y).L(x+w, y).L(x+w, y+h).L(x, y+h).Z()
}

// RoundRect returns a rectangle with round corners.
func RoundRect(x, y, w, h, r float64) *Path {
	r = math.Min(r, math.Min(w, h)/2)
	q := math.Pi / 2
	p := new(Path).M(x+r, y)
	p.L(x+w-r, y).Arc(x+w-r, y+r, r, r, -q, 0)
	p.L(x+w, y+h-r).Arc(x+w-r, y+h-r, r, r, 0, q)
	p.L(x+r, y+h).Arc(x+r, y+h-r, r, r, q, 2*q)
	p.L(x, y+r).Arc(x+r, y+r, r, r, 2*q, 3*q)
	return p.Z()
}

// Ellipse returns a full ellipse.
func Ellipse(cx, cy, rx, ry float64) *Path {
	p := new(Path)
	for i := 0; i < turnSteps; i++ {
		a := 2 * math.Pi * float64(i) / turnSteps
		p.L(cx+rx*math.Cos(a), cy+ry*math.Sin(a))
	}
	return p.Z()
}

// Circle returns a full circle.
func Circle(cx, cy, r float64) *Path { return Ellipse(cx, cy, r, r) }

// Regular returns a regular polygon with n corners, the first at angle from.
func Regular(n int, cx, cy, r, from float64) *Path {
	p := new(Path)
	for i := 0; i < n; i++ {
		a := from + 2*math.Pi*float64(i)/float64(n)
		p.L(cx+r*math.Cos(a), cy+r*math.Sin(a))
	}
	return p.Z()
}

// MirrorX returns the path mirrored at x = 0.
func (p *Path) MirrorX() *Path {
	return p.Map(func(q Pt) Pt { return Pt{-q.X, q.Y} })
}

// Map returns the path with every point moved by f.
func (p *Path) Map(f func(Pt) Pt) *Path {
	out := &Path{subs: make([]sub, len(p.subs))}
	for i, s := range p.subs {
		pts := make([]Pt, len(s.pts))
		for j, q := range s.pts {
			pts[j] = f(q)
		}
		out.subs[i] = sub{pts: pts, closed: s.closed}
	}
	return out
}

// Bounds returns the least and the greatest corner; ok is false when the
// path is empty.
func (p *Path) Bounds() (lo, hi Pt, ok bool) {
	lo, hi = Pt{math.Inf(1), math.Inf(1)}, Pt{math.Inf(-1), math.Inf(-1)}
	for _, s := range p.subs {
		for _, q := range s.pts {
			lo.X, lo.Y = math.Min(lo.X, q.X), math.Min(lo.Y, q.Y)
			hi.X, hi.Y = math.Max(hi.X, q.X), math.Max(hi.Y, q.Y)
			ok = true
		}
	}
	return lo, hi, ok
}

// Distance returns how far a point lies from the area of the path: 0 inside
// (even-odd rule over all its lines), else the way to the nearest edge.
func (p *Path) Distance(x, y float64) float64 {
	inside, best := false, math.Inf(1)
	for _, s := range p.subs {
		n := len(s.pts)
		for i := 0; i < n; i++ {
			a, b := s.pts[i], s.pts[(i+1)%n]
			best = math.Min(best, segmentDistance(a, b, x, y))
			if (a.Y > y) != (b.Y > y) && x < (b.X-a.X)*(y-a.Y)/(b.Y-a.Y)+a.X {
				inside = !inside
			}
		}
	}
	if inside {
		return 0
	}
	return best
}

func segmentDistance(a, b Pt, x, y float64) float64 {
	dx, dy := b.X-a.X, b.Y-a.Y
	t := 0.0
	if l := dx*dx + dy*dy; l > 0 {
		t = math.Max(0, math.Min(1, ((x-a.X)*dx+(y-a.Y)*dy)/l))
	}
	return math.Hypot(x-a.X-t*dx, y-a.Y-t*dy)
}
