package wear

import (
	"math"
	"sort"
)

// simplex minimises f from x0 by Nelder and Mead (1965) and restarts from the
// best point until a restart gains less than tol. Own code because the general
// optimiser passes every evaluation through a channel, which costs more than
// our likelihood; and because it is deterministic.
func simplex(f func([]float64) float64, x0 []float64, step, tol float64, maxEval int) (best []float64, fb float64, ok bool) {
	best = append([]float64(nil), x0...)
	fb = f(best)
	for restart := 0; restart < 12; restart++ {
		x, fx, n := simplexRun(f, best, fb, step, tol, maxEval)
		gain := fb - fx
		if fx <= fb {
			best, fb = x, fx
		}
		if maxEval -= n; maxEval <= 0 {
			return best, fb, false
		}
		if restart > 0 && !(gain > tol) {
			return best, fb, true
		}
		step /= 3
	}
	return best, fb, true
}

type vertex struct {
	x []float64
	f float64
}

func simplexRun(f func([]float64) float64, x0 []float64, f0, step, tol float64, maxEval int) ([]float64, float64, int) {
	n := len(x0)
	evals := 0
	call := func(x []float64) float64 {
		evals++
		v := f(x)
		if math.IsNaN(v) {
			return math.Inf(1)
		}
		return v
	}
	vs := make([]vertex, n+1)
	vs[0] = vertex{append([]float64(nil), x0...), f0}
	for i := 1; i <= n; i++ {
		x := append([]float64(nil), x0...)
		x[i-1] += step
		vs[i] = vertex{x, call(x)}
	}
	mid, trial := make([]float64, n), make([]float64, n)
	at := func(k float64, worst []float64) float64 {
		for j := range trial {
			trial[j] = mid[j] + k*(worst[j]-mid[j])
		}
		return call(trial)
	}
	set := func(v *vertex, fv float64) { copy(v.x, trial); v.f = fv }
	for evals < maxEval {
		sort.Slice(vs, func(i, j int) bool { return vs[i].f < vs[j].f })
		if vs[n].f-vs[0].f < tol {
			break
		}
		for j := range mid {
			mid[j] = 0
			for i := 0; i < n; i++ {
				mid[j] += vs[i].x[j] / float64(n)
			}
		}
		w := &vs[n]
		switch fr := at(-1, w.x); {
		case fr < vs[0].f:
			keep := append([]float64(nil), trial...)
			if fe := at(-2, w.x); fe < fr {
				set(w, fe)
			} else {
				copy(w.x, keep)
				w.f = fr
			}
		case fr < vs[n-1].f:
			set(w, fr)
		default:
			k := 0.5
			if fr < w.f {
				k = -0.5
			}
			if fc := at(k, w.x); fc < math.Min(fr, w.f) {
				set(w, fc)
				continue
			}
			for i := 1; i <= n; i++ {
				for j := range vs[i].x {
					vs[i].x[j] = (vs[i].x[j] + vs[0].x[j]) / 2
				}
				vs[i].f = call(vs[i].x)
			}
		}
	}
	sort.Slice(vs, func(i, j int) bool { return vs[i].f < vs[j].f })
	return vs[0].x, vs[0].f, evals
}
