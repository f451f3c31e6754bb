package pen

import "math"

const mitreLimit = 3.0

// outline returns the closed polygons that a line of half width hw covers,
// in the units of the points. Corners are mitred, which is exact for the
// small turns of a flattened curve; sharp corners are cut at mitreLimit.
func outline(s sub, hw float64) [][]Pt {
	pts := dedupe(s.pts, s.closed)
	if len(pts) < 2 {
		return nil
	}
	left, right := offset(pts, s.closed, hw), offset(pts, s.closed, -hw)
	reverse(right)
	if s.closed {
		return [][]Pt{left, right}
	}
	poly := append(left, cap2(pts[len(pts)-1], pts[len(pts)-2], hw)...)
	poly = append(poly, right...)
	poly = append(poly, cap2(pts[0], pts[1], hw)...)
	return [][]Pt{poly}
}

// offset moves the polyline sideways by d.
func offset(pts []Pt, closed bool, d float64) []Pt {
	n := len(pts)
	out := make([]Pt, 0, n+4)
	for i, p := range pts {
		in, okIn := direction(pts, i-1, closed)
		ou, okOu := direction(pts, i, closed)
		if !okIn {
			in = ou
		}
		if !okOu {
			ou = in
		}
		mx, my := -(in.Y + ou.Y), in.X+ou.X // sum of both normals
		l2 := mx*mx + my*my
		k := 2 * d / l2 // so that the projection on each normal is d
		if l2 < 1e-9 || 2/math.Sqrt(l2) > mitreLimit {
			out = append(out, Pt{p.X - in.Y*d, p.Y + in.X*d}, Pt{p.X - ou.Y*d, p.Y + ou.X*d})
			continue
		}
		out = append(out, Pt{p.X + mx*k, p.Y + my*k})
	}
	return out
}

// direction returns the unit vector of the piece from point i to i+1.
func direction(pts []Pt, i int, closed bool) (Pt, bool) {
	n := len(pts)
	if !closed && (i < 0 || i >= n-1) {
		return Pt{}, false
	}
	a, b := pts[(i+n)%n], pts[(i+1+n)%n]
	l := math.Hypot(b.X-a.X, b.Y-a.Y)
	return Pt{(b.X - a.X) / l, (b.Y - a.Y) / l}, true
}

// cap2 returns the half circle that ends a line at p, coming from q.
func cap2(p, q Pt, hw float64) []Pt {
	a := math.Atan2(p.Y-q.Y, p.X-q.X)
	const n = 8
	out := make([]Pt, 0, n)
	for i := 1; i < n; i++ {
		t := a + math.Pi/2 - math.Pi*float64(i)/n
		out = append(out, Pt{p.X + hw*math.Cos(t), p.Y + hw*math.Sin(t)})
	}
	return out
}

func dedupe(pts []Pt, closed bool) []Pt {
	out := make([]Pt, 0, len(pts))
	for _, p := range pts {
		if n := len(out); n > 0 && math.Hypot(p.X-out[n-1].X, p.Y-out[n-1].Y) < 1e-6 {
			continue
		}
		out = append(out, p)
	}
	if n := len(out); closed && n > 2 && math.Hypot(out[0].X-out[n-1].X, out[0].Y-out[n-1].Y) < 1e-6 {
		out = out[:n-1]
	}
	return out
}

func reverse(p []Pt) {
	for i, j := 0, len(p)-1; i < j; i, j = i+1, j-1 {
		p[i], p[j] = p[j], p[i]
	}
}

// dashes cuts a line into pieces of length on with gaps of length off.
func dashes(s sub, on, off float64) []sub {
	pts := s.pts
	if s.closed && len(pts) > 0 {
		pts = append(append([]Pt(nil), pts...), pts[0])
	}
	var out []sub
	cur := []Pt{}
	left, drawing := on, true
	for i := 0; i+1 < len(pts); i++ {
		a, b := pts[i], pts[i+1]
		l := math.Hypot(b.X-a.X, b.Y-a.Y)
		for pos := 0.0; l-pos > 1e-9; {
			if drawing && len(cur) == 0 {
				cur = append(cur, along(a, b, pos/l))
			}
			step := math.Min(left, l-pos)
			pos, left = pos+step, left-step
			if drawing {
				cur = append(cur, along(a, b, pos/l))
			}
			if left > 1e-9 {
				continue
			}
			if drawing {
				out = append(out, sub{pts: cur})
				cur, left = nil, off
			} else {
				left = on
			}
			drawing = !drawing
		}
	}
	if drawing && len(cur) > 1 {
		out = append(out, sub{pts: cur})
	}
	return out
}

func along(a, b Pt, t float64) Pt { return Pt{a.X + (b.X-a.X)*t, a.Y + (b.Y-a.Y)*t} }
