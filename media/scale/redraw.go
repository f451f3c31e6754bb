package scale

import (
	"math"
	"math/rand/v2"
	"slices"

	"forkwear/inspect"
)

// redraw marks every point again at random and measures anew; the range is
// between the 2.5 % and 97.5 % points of the results.
func (s Scene) redraw(points []Point, power float64, size func([]Point) float64, u Uncertainty) (low, high float64, err error) {
	values, err := s.redraws(u,
		func(r *rand.Rand) [][]Point { return [][]Point{shake(r, points, u.ClickSigma)} },
		func(places [][]Point, shrink float64) []float64 {
			return []float64{size(places[0]) * math.Pow(shrink, power)}
		})
	if err != nil {
		return 0, 0, err
	}
	low, high = rangeOf(values, 0)
	return low, high, nil
}

// redraws draws the scene and the marks of it again and sizes their places on
// the surface. A height h of the surface above the card at distance D shortens
// a length by the part h/D: shrink is 1 - h/D. It fails when more than 5 % of
// the redraws cannot be measured.
func (s Scene) redraws(u Uncertainty, draw func(*rand.Rand) [][]Point, size func(places [][]Point, shrink float64) []float64) ([][]float64, error) {
	r := rand.New(rand.NewPCG(u.Seed, 0x5ca1e))
	values := make([][]float64, 0, u.Redraws)
	for range u.Redraws {
		again := s.shaken(r, u)
		lists := draw(r)
		height := r.NormFloat64() * u.HeightSigma
		surf, err := again.surface()
		if err != nil {
			continue
		}
		places, err := mapLists(surf, lists)
		if err != nil {
			continue
		}
		shrink := 1.0
		if surf.distance > 0 {
			shrink = math.Max(0, 1-height/surf.distance)
		}
		values = append(values, size(places, shrink))
	}
	if len(values)*100 < u.Redraws*95 {
		return nil, inspect.Refuse(inspect.Invalid, "the points lie so near the edge of what can be measured that a pixel decides: mark points farther in, or take another photo")
	}
	return values, nil
}

func mapLists(s surface, lists [][]Point) ([][]Point, error) {
	out := make([][]Point, len(lists))
	for i, list := range lists {
		var err error
		if out[i], err = mapAll(s, list); err != nil {
			return nil, err
		}
	}
	return out, nil
}

// rangeOf holds 95 in 100 of the i-th values.
func rangeOf(values [][]float64, i int) (low, high float64) {
	one := make([]float64, len(values))
	for n, v := range values {
		one[n] = v[i]
	}
	slices.Sort(one)
	return quantile(one, 0.025), quantile(one, 0.975)
}

// shaken is the scene with its marks and focal length drawn again.
func (s Scene) shaken(r *rand.Rand, u Uncertainty) Scene {
	out := s
	if s.Camera.known() {
		out.Camera.Focal *= math.Max(0.1, 1+r.NormFloat64()*u.FocalSigma)
	}
	if s.Card != nil {
		out.Card = shake(r, s.Card, u.CornerSigma)
	}
	if s.Known != nil {
		p := shake(r, []Point{s.Known.A, s.Known.B}, u.ClickSigma)
		out.Known = &KnownLength{p[0], p[1], s.Known.MM}
	}
	if s.Tube != nil {
		out.Tube = &Tube{Diameter: s.Tube.Diameter, Edges: [4]Point(shake(r, s.Tube.Edges[:], u.CornerSigma))}
	}
	return out
}

func shake(r *rand.Rand, points []Point, sigma float64) []Point {
	out := make([]Point, len(points))
	for i, p := range points {
		out[i] = Point{p.X + sigma*r.NormFloat64(), p.Y + sigma*r.NormFloat64()}
	}
	return out
}

// quantile of sorted values at place p (n+1), so that a further draw falls
// below it with chance p (Hyndman and Fan 1996, type 6; from memory).
func quantile(sorted []float64, p float64) float64 {
	at := p*float64(len(sorted)+1) - 1
	i := min(max(int(math.Floor(at)), 0), len(sorted)-2)
	return sorted[i] + (at-float64(i))*(sorted[i+1]-sorted[i])
}
