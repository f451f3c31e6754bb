package sample

import (
	"math"
	"math/rand/v2"

	"forkwear/inspect"
	"forkwear/inspect/catalog"
)

// truth is what is really going on inside the invented forks: each fitting
// wears at its own rate; blows come now and then and stay.
type truth struct {
	rng   *rand.Rand
	rates map[string]float64 // check and fitting -> share of the life's rate
	blows map[string]float64 // check, leg and fork -> grade of the damage, 0 none
}

func newTruth(rng *rand.Rand) *truth {
	return &truth{rng: rng, rates: map[string]float64{}, blows: map[string]float64{}}
}

// used is the true wear used of a check on a fitting after so many hours (or
// months): a straight line at the fitting's own rate.
func (t *truth) used(k catalog.Check, sheet catalog.Sheet, r *rider, fitting inspect.ID, age float64) float64 {
	life := k.LifeFor(sheet)
	if life <= 0 {
		return 0
	}
	id := k.ID + "|" + string(fitting)
	rate, ok := t.rates[id]
	if !ok {
		rate = math.Exp(0.3*t.rng.NormFloat64()) * r.rough
		if sheet.ID == early && k.Zone == "seals" {
			rate *= 2.2
		}
		t.rates[id] = rate
	}
	return rate * age / life
}

// blow is the grade of sudden damage at a place: rare, and it stays.
func (t *truth) blow(k catalog.Check, leg inspect.Leg, r *rider) float64 {
	id := k.ID + "|" + string(leg) + "|" + r.fork.Serial
	if t.blows[id] == 0 && t.rng.Float64() < 0.04 {
		t.blows[id] = float64(1 + t.rng.IntN(4))
	}
	return t.blows[id]
}

// grade turns wear used into what a technician writes down: w = 1 lies half a
// step under the limit grade, and the eye scatters by some 0.4 grade.
func (t *truth) grade(k catalog.Check, w float64) float64 {
	step := 1.0
	if k.HalfSteps {
		step = 0.5
	}
	limit := k.LimitGrade
	if limit <= 0 {
		limit = 4
	}
	g := w*(limit-step/2) + 0.4*t.rng.NormFloat64()
	g = math.Round(g/step) * step
	return math.Max(0, math.Min(5, g))
}

// number turns wear used into a measured value between new and the limit.
func (t *truth) number(k catalog.Check, sheet catalog.Sheet, w float64) (float64, bool) {
	from, limit := k.Bounds(sheet)
	if from == nil && k.LimitFromNew != nil {
		n := nominal(k, sheet)
		l := n + *k.LimitFromNew
		from, limit = &n, &l
	}
	if from == nil || limit == nil {
		return 0, false
	}
	span := *limit - *from
	x := *from + w*span + 0.06*math.Abs(span)*t.rng.NormFloat64()
	return math.Round(x*1e4) / 1e4, true
}

// nominal is where a measured value starts when the sheet gives no new value.
func nominal(k catalog.Check, sheet catalog.Sheet) float64 {
	if k.Unit == "mm" && k.Part == "stanchion" {
		return sheet.Stanchion
	}
	return 15
}
