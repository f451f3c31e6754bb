package shop

import (
	"math"

	"forkwear/inspect/catalog"
	"forkwear/inspect/wear"

	"forkwear/inspect"
)

const (
	// leastForPower is the number of fittings with three readings from which the
	// shape of wear over time can be told (wear.ProfilePower).
	leastForPower = 15
	// bendsFrom is the 0.95 quantile of chi-square with one degree of freedom: a
	// straight line that loses as much in -2 log likelihood does not fit.
	bendsFrom = 3.841
)

// shape says, where there are readings enough and the check has no exponent of
// its own, what shape of wear over time they show. The verdict goes on with the
// straight line until the catalog says otherwise: the shape is told, not taken.
// A dozen fits (up to a second for 200 fittings), once for each remembered fit:
// for one trend in view, not for every line of a story.
func (d *Desk) shape(g *Group) string {
	if g.Check.Exponent > 0 || g.Fit.WithThree < leastForPower {
		return ""
	}
	d.mu.Lock()
	power, ok := d.power[g.key]
	d.mu.Unlock()
	if !ok {
		power = powerOf(d.Catalog.Tongue, g) // outside the lock: two may reckon the same, which costs time only
		d.mu.Lock()
		if _, kept := d.fits[g.key]; kept { // forgotten together with its fit
			if d.power == nil {
				d.power = map[fitKey]string{}
			}
			d.power[g.key] = power
		}
		d.mu.Unlock()
	}
	return power
}

// powerOf profiles the power of time of a group; "" where it cannot be done.
func powerOf(t inspect.Tongue, g *Group) string {
	p, err := wear.ProfilePower(g.data, g.prior)
	if err != nil {
		return ""
	}
	line := math.Inf(1)
	for i, q := range p.Powers {
		if q == 1 {
			line = p.Loss[i]
		}
	}
	axis := t.Say("hours")
	if g.Check.Grows == catalog.ByMonths {
		axis = t.Say("months")
	}
	if line < bendsFrom {
		return t.Sayf("; a straight line over %s fits (best power %.3g)", axis, p.Best)
	}
	way, much := t.Say("slower at first and faster later"), t.Say("many")
	if p.Best < 1 {
		way, much = t.Say("faster at first and slower later"), t.Say("few")
	}
	return t.Sayf("; wear goes with %[1]s to the power %.3[2]g, %[3]s: the straight line reckons too %[4]s %[1]s left (it fits worse by %.1[5]f); give the check this exponent in the catalog",
		axis, p.Best, way, much, line)
}
