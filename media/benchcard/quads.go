package benchcard

import (
	"cmp"
	"context"
	"slices"

	"forkwear/media/scale"
)

// quad is a possible card.
type quad struct {
	corners []scale.Point // pixels of the photo, top left of the picture first
	score   float64
}

// joint is a corner that an end of one segment may make with an end of
// another.
type joint struct{ to, end int }

// joints lists for each end of each segment what it may meet: the lines cross
// near both ends, farther off by no more than a round corner and a part of the
// side that was not seen.
func joints(ss []segment) [][2][]joint {
	out := make([][2][]joint, len(ss))
	for i := range ss {
		for j := range i {
			p, ok := ss[i].crosses(ss[j].line)
			if !ok || ss[i].tilted(ss[j].line) < 0.6 {
				continue
			}
			for a := range 2 {
				for b := range 2 {
					if meets(ss[i], a, p) && meets(ss[j], b, p) {
						out[i][a] = append(out[i][a], joint{j, b})
						out[j][b] = append(out[j][b], joint{i, a})
					}
				}
			}
		}
	}
	return out
}

func meets(s segment, end int, p scale.Point) bool {
	d := apart(s.ends[end], p)
	return d < 8+1.2*s.length() && d < apart(s.ends[1-end], p)
}

// quads follows joints around every four-cornered figure that could be a card
// and whose sides are edges, best first.
func (e *edgeMap) quads(ctx context.Context, ss []segment) ([]quad, error) {
	js := joints(ss)
	var out []quad
	for a := range ss { // a has the greatest number of the four, so that each comes once for each way round
		if err := ctx.Err(); err != nil {
			return nil, err
		}
		tries := 0
		for _, b := range js[a][1] {
			for _, c := range js[b.to][1-b.end] {
				for _, d := range js[c.to][1-c.end] {
					if tries++; tries > mostTries || e.effort <= 0 {
						break
					}
					e.effort--
					if b.to > a || c.to >= a || d.to >= a || c.to == b.to || d.to == b.to || !slices.Contains(js[d.to][1-d.end], joint{a, 0}) {
						continue
					}
					if q, ok := e.quad(ss[a].line, ss[b.to].line, ss[c.to].line, ss[d.to].line); ok {
						out = append(out, q)
					}
				}
			}
		}
	}
	out = append(out, e.threeSides(ss, js)...)
	slices.SortStableFunc(out, func(a, b quad) int { return cmp.Compare(b.score, a.score) })
	return out[:min(len(out), 60)], nil
}

// threeSides closes figures one side of which was not found as a whole: its
// corners lie beyond the free ends of its neighbours by what the round corners
// take there.
func (e *edgeMap) threeSides(ss []segment, js [][2][]joint) []quad {
	var out []quad
	for b := range ss {
		tries := 0
		for _, a := range js[b][0] {
			for _, c := range js[b][1] {
				if tries++; tries > mostTries/10 || e.effort <= 0 {
					break
				}
				if a.to == c.to || ss[a.to].tilted(ss[c.to].line) > 0.6 {
					continue
				}
				p, ok1 := ss[a.to].crosses(ss[b].line)
				q, ok2 := ss[c.to].crosses(ss[b].line)
				if !ok1 || !ok2 {
					continue
				}
				beyond := func(j joint, corner scale.Point) scale.Point {
					s := ss[j.to]
					free, bound := s.ends[1-j.end], s.ends[j.end]
					return moved(free, times(minus(free, bound), min(apart(bound, corner), 8)/s.length()))
				}
				if found, ok := e.judge([]scale.Point{p, q, beyond(c, q), beyond(a, p)}, 0.9); ok {
					out = append(out, found)
				}
			}
		}
	}
	return out
}

// quad is the figure whose sides lie on four lines in turn.
func (e *edgeMap) quad(lines ...line) (quad, bool) {
	var c []scale.Point
	for i := range lines {
		p, ok := lines[i].crosses(lines[(i+1)%4])
		if !ok {
			return quad{}, false
		}
		c = append(c, p)
	}
	return e.judge(c, 1)
}

// judge tells whether four corners could be those of a card, and how likely:
// by the share of the sides that are edges, by the misfit of the card's shape
// with a usual lens, and by a factor of the caller's.
func (e *edgeMap) judge(c []scale.Point, factor float64) (quad, bool) {
	for _, p := range c {
		if p.X < -0.02*float64(e.w) || p.Y < -0.02*float64(e.h) || p.X > 1.02*float64(e.w) || p.Y > 1.02*float64(e.h) {
			return quad{}, false
		}
	}
	if !convex(c) {
		slices.Reverse(c)
		if !convex(c) {
			return quad{}, false
		}
	}
	top := 0 // the picture's top left one
	for i := range c {
		if c[i].X+c[i].Y < c[top].X+c[top].Y {
			top = i
		}
	}
	c = append(slices.Clone(c[top:]), c[:top]...)
	across, down := apart(c[0], c[1])+apart(c[2], c[3]), apart(c[1], c[2])+apart(c[3], c[0])
	long, short := max(across, down), min(across, down)
	if scale.PolygonArea(c) < leastArea*float64(e.w*e.h) || long < 1.1*short || long > 2.4*short {
		return quad{}, false
	}
	e.effort -= 10
	least, mean := e.sides(c)
	if least < leastSeen || mean < leastMean {
		return quad{}, false
	}
	e.effort -= 200
	plane, err := scale.NewPlane(c)
	if err != nil {
		return quad{}, false
	}
	pose, err := plane.Pose(scale.CameraOf(e.w, e.h, likelyFocal))
	if err != nil || pose.Misfit > mostMisfit {
		return quad{}, false
	}
	for i := range c {
		c[i] = times(c[i], float64(e.by))
	}
	return quad{c, factor * (least + mean) * (1 - pose.Misfit)}, true
}
