package wear

import "math"

// blankVariance marks a stand-in that says nothing yet.
const blankVariance = 1e12

func blankSite(z float64) row { return row{z: z, v: blankVariance, site: true} }

// propagate is one step of expectation propagation for a censored reading: take
// its own stand-in out of the belief about the latent wear f at z, match mean
// and variance of
//
//	N(f; m, s^2) * Phi((c - f)/sqrt(v))   (Left; mirrored for Right)
//
// and store the stand-in that gives them (Minka 2001; the moments are those of
// probit regression, Rasmussen & Williams 2006, section 3.6). c is the
// observation's Value, v its noise variance. Returns how far the stand-in's
// precision and pull moved, relative to the cavity's precision.
func (r *row) propagate(o Observation, v float64, mu [2]float64, cov sym2) float64 {
	zz := [2]float64{1, r.z}
	m, s2 := mu[0]+r.z*mu[1], cov.quad(zz)
	if !(s2 > 0) || !(v > 0) {
		return 0
	}
	tau, nu := 1/r.v, r.y/r.v
	ctau, cnu := 1/s2-tau, m/s2-nu
	if !(ctau > 0) {
		return 0
	}
	cm, cv := cnu/ctau, 1/ctau
	sign := 1.0 // Right: P(f + e >= c) = Phi((f - c)/sd)
	if o.Left {
		sign = -1
	}
	sd := math.Sqrt(v + cv)
	k := sign * (cm - o.Value) / sd
	ratio := hazard(-k) // phi(k)/Phi(k)
	// Posterior of f: mean cm + sign cv ratio/sd, variance cv - cv^2 ratio (k + ratio)/sd^2.
	shrink := ratio * (k + ratio) / (sd * sd)
	nv := cv - cv*cv*shrink
	nm := cm + sign*cv*ratio/sd
	ntau := math.Max(1/nv-ctau, 1/blankVariance)
	nnu := nm/nv - cnu
	moved := (math.Abs(ntau-tau) + math.Abs(nnu-nu)/(1+math.Abs(cm))) / ctau
	r.v = 1 / ntau
	r.y = nnu / ntau
	return moved
}

// hazard is phi(x)/(1 - Phi(x)), stable in the tails.
func hazard(x float64) float64 {
	if x > 30 {
		return x + 1/x
	}
	return math.Exp(-x*x/2) / (math.Sqrt(2*math.Pi) * upper(x))
}

// upper is 1 - Phi(x).
func upper(x float64) float64 { return 0.5 * math.Erfc(x/math.Sqrt2) }
