package wear

import (
	"fmt"
	"math"
)

// fitted fills a Fit from the variances found. fixed is the prior on (b0, b1),
// nil for none.
func (g *group) fitted(method string, model Model, c covariance, fixed *fixedPrior) Fit {
	t := g.total(c)
	f := Fit{Method: method, Model: model, g: g, par: c, Correlation: math.NaN(),
		Readings: len(g.rows), Fittings: len(g.members), at: map[string]int{}}
	switch {
	case fixed != nil:
		f.qinv = t.q.add(fixed.precision).inv()
		f.beta = f.qinv.mul([2]float64{t.h[0] + fixed.h[0], t.h[1] + fixed.h[1]})
	case model == Level:
		f.qinv = sym2{1 / t.q.a, 0, 0}
		f.beta = [2]float64{t.h[0] / t.q.a, 0}
		f.Criterion = g.criterion(c, model)
	default:
		f.qinv = t.q.inv()
		f.beta = f.qinv.mul(t.h)
		f.Criterion = g.criterion(c, model)
	}
	f.Intercept = Estimate{f.beta[0], math.Sqrt(f.qinv.a)}
	f.Slope = Estimate{f.beta[1], math.Sqrt(f.qinv.d)}
	if model == Level {
		f.Slope = Estimate{math.NaN(), math.NaN()}
	}
	gm := c.l.gram()
	f.SDIntercept, f.SDSlope = math.Sqrt(gm.a), math.Sqrt(gm.d)
	f.SDResidual = math.Sqrt(c.sigma2)
	f.SDFork = c.phi
	if gm.a > 0 && gm.d > 0 {
		f.Correlation = math.Max(-1, math.Min(1, gm.b/(f.SDIntercept*f.SDSlope)))
	}
	for i, m := range g.members {
		f.at[m.id] = i
		f.Units = append(f.Units, g.effect(i, c, f.beta))
		switch n := m.to - m.from; {
		case n == 2:
			f.WithTwo++
		case n >= 3:
			f.WithThree++
		}
	}
	f.Singular = f.isSingular()
	return f
}

func (g *group) effect(i int, c covariance, beta [2]float64) UnitEffect {
	m := g.members[i]
	mu, _ := g.belief(i, c, beta, sym2{})
	e := UnitEffect{Unit: m.id, Readings: m.to - m.from, Slope: mu[1] - beta[1], AgeUnknown: m.own}
	if m.own {
		e.Intercept = mu[0] - ownInterceptMean
	} else {
		e.Intercept = mu[0] - beta[0]
	}
	for _, o := range g.obs[m.from:m.to] {
		e.LastHours = math.Max(e.LastHours, o.Hours)
	}
	return e
}

// isSingular looks at the Cholesky factor of G relative to the residual sd; the
// known uncertainties count as residual where there are any. In a penalised fit
// the slope is counted per expected life, since per hour it is small by nature.
func (f *Fit) isSingular() bool {
	v := 0.0
	for _, r := range f.g.rows {
		if !r.site {
			v += r.v / float64(len(f.g.rows))
		}
	}
	rel := math.Sqrt(f.par.sigma2 + v)
	least := math.Abs(f.par.l.l11)
	if f.Model == Line {
		per := 1.0
		if f.Prior.ExpectedLife > 0 {
			per = axis(f.Prior.ExpectedLife, f.Prior.TimePower)
		}
		least = math.Min(least, math.Abs(f.par.l.l22)*per)
	}
	return least < singularBelow*rel
}

// tell adds the remarks that every fit gives.
func (f *Fit) tell() {
	if f.Singular {
		f.Remarks = append(f.Remarks, "singular fit: the data show no difference between units in level, in slope, or beside their correlation; a normal outcome with few readings")
	}
	if n := len(f.SetAside); n > 0 {
		f.Remarks = append(f.Remarks, fmt.Sprintf("%d fittings were set aside; see the reasons", n))
	}
}
