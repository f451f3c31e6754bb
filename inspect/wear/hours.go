package wear

import (
	"fmt"
	"math"
)

const (
	noTrendAbove = 0.10 // P(B <= 0) above this: 'no wear trend seen yet'
	overAbove    = 0.95 // P(W(now) >= 1) above this: over the limit now
	endlessHours = 1e6  // hours beyond which an end is not told
	bandQuantile = 1.6448536269514722
	leastRise    = 1e-9 // P(B > 0) below this: no chance can be put on T
)

// POver is P(W >= 1) for a measured wear used w with standard uncertainty u, W
// normal about w (JCGM 106). With u = 0 it is 0 or 1. Refused: NaN, u < 0.
func POver(w, u float64) (float64, error) {
	if math.IsNaN(w) || math.IsInf(w, 0) || !(u >= 0) || math.IsInf(u, 0) {
		return 0, fmt.Errorf("wear used %g with uncertainty %g cannot be judged: give numbers, the uncertainty 0 or more", w, u)
	}
	if u == 0 {
		if w >= 1 {
			return 1, nil
		}
		return 0, nil
	}
	return upper((1 - w) / u), nil
}

// reach is P(A + B z + e >= 1, B > 0), e ~ N(0, extra).
func (p Posterior) reach(z, extra float64) float64 {
	v := p.S[0][0] + 2*z*p.S[0][1] + z*z*p.S[1][1] + extra
	mean := p.Mu[0] + z*p.Mu[1]
	sb := math.Sqrt(p.S[1][1])
	if sb == 0 {
		if p.Mu[1] <= 0 {
			return 0
		}
		q, _ := POver(mean, math.Sqrt(math.Max(v, 0)))
		return q
	}
	if v <= 0 {
		if mean >= 1 {
			return p.rises()
		}
		return 0
	}
	sw := math.Sqrt(v)
	return bothAbove((1-mean)/sw, -p.Mu[1]/sb, (p.S[0][1]+z*p.S[1][1])/(sw*sb))
}

// rises is P(B > 0).
func (p Posterior) rises() float64 {
	if p.S[1][1] == 0 {
		if p.Mu[1] > 0 {
			return 1
		}
		return 0
	}
	return upper(-p.Mu[1] / math.Sqrt(p.S[1][1]))
}

// PExceed is the chance that the limit is reached within the next h hours,
//
//	P(T <= tNow + h) = P(A + B z >= 1, B > 0) / P(B > 0), z at tNow + h
//
// (wear does not heal), not conditional on the part being good now. uH is the
// standard uncertainty of h in hours and adds (b u_H)^2. Refused: NaN or
// negative hours. With P(B > 0) below 1e-9 the answer is P(W(now) >= 1).
func PExceed(p Posterior, tNow, h, uH float64) (float64, error) {
	if err := p.check(); err != nil {
		return 0, err
	}
	for name, v := range map[string]float64{"hours now": tNow, "hours ahead": h, "uncertainty of the hours ahead": uH} {
		if !(v >= 0) || math.IsInf(v, 0) {
			return 0, fmt.Errorf("the %s are %g: give a number of 0 or more", name, v)
		}
	}
	rises := p.rises()
	if rises < leastRise {
		m, sd := p.Wear(tNow)
		return POver(m, sd)
	}
	z := p.z(tNow + h)
	rate := steepness(tNow+h-p.Start, z, p.Mu[1], p.Power)
	return clip(p.reach(z, rate*rate*uH*uH) / rises), nil
}

// HoursLeft gives the 5, 50 and 95 % points of T - tNow, given that the limit is not
// reached yet,
//
//	P(T <= t | T > now) = (F(t) - F(now)) / (P(B > 0) - F(now)),
//	F(t) = P(A + B z(t) >= 1, B > 0)
//
// unless it is over now (P(W(now) >= 1) > 0.95): then they are 0. A point past
// 1e6 hours is +Inf. NoTrend is set when P(B <= 0) > 0.10; the points are given
// all the same, conditional on a positive slope, and are best not shown.
// Refused: NaN or negative tNow.
func (p Posterior) HoursLeft(tNow float64) (HoursLeft, error) {
	if err := p.check(); err != nil {
		return HoursLeft{}, err
	}
	if !(tNow >= 0) || math.IsInf(tNow, 0) {
		return HoursLeft{}, fmt.Errorf("the hours now are %g: give a number of 0 or more", tNow)
	}
	m, sd := p.Wear(tNow)
	over, err := POver(m, sd)
	if err != nil {
		return HoursLeft{}, err
	}
	rises := p.rises()
	out := HoursLeft{POver: over, PNoTrend: 1 - rises, NoTrend: 1-rises > noTrendAbove, Over: over > overAbove}
	if out.Over {
		return out, nil
	}
	now := p.reach(p.z(tNow), 0)
	if rises-now < 1e-10 {
		inf := math.Inf(1)
		out.P05, out.P50, out.P95 = inf, inf, inf
		return out, nil
	}
	chance := func(h float64) float64 { return (p.reach(p.z(tNow+h), 0) - now) / (rises - now) }
	out.P05 = quantile(chance, 0.05, 0)
	out.P50 = quantile(chance, 0.50, out.P05)
	out.P95 = quantile(chance, 0.95, out.P50)
	return out, nil
}

// quantile solves chance(h) = q for h >= from by doubling and the Illinois rule.
func quantile(chance func(float64) float64, q, from float64) float64 {
	if math.IsInf(from, 1) {
		return from
	}
	lo, hi := from, math.Max(2*from, 1)
	flo, fhi := chance(lo)-q, chance(hi)-q
	for fhi < 0 {
		if hi >= endlessHours {
			return math.Inf(1)
		}
		lo, flo = hi, fhi
		hi = math.Min(2*hi, endlessHours)
		fhi = chance(hi) - q
	}
	if flo >= 0 {
		return lo
	}
	for i := 0; i < 100 && hi-lo > 1e-7*(1+hi); i++ {
		x := (lo*fhi - hi*flo) / (fhi - flo)
		if i%4 == 3 || !(x > lo && x < hi) {
			x = (lo + hi) / 2
		}
		switch f := chance(x) - q; {
		case f == 0:
			return x
		case f < 0:
			lo, flo = x, f
			fhi /= 2
		default:
			hi, fhi = x, f
			flo /= 2
		}
	}
	return (lo + hi) / 2
}

// Band gives mean and 90 % limits of the latent wear at hours ts, for plots.
// Hours before the fitting's own start are taken as its start.
func Band(p Posterior, ts []float64) []BandPoint {
	out := make([]BandPoint, len(ts))
	for i, t := range ts {
		m, sd := p.Wear(t)
		out[i] = BandPoint{T: t, Mean: m, Low: m - bandQuantile*sd, High: m + bandQuantile*sd}
	}
	return out
}
