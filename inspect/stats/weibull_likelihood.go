package stats

import (
	"fmt"
	"math"
)

// weibullLikelihood holds the rows as y = ln(time / longest time), so that no
// power of a time overflows, in the form z = b y - a with b the shape and
// a = b ln(scale / longest). In (b, a) the log-likelihood is concave when there
// is no delayed entry (Burridge 1981).
type weibullLikelihood struct {
	rows   []weibullRow
	lnUnit float64 // ln of the longest time
	exact  float64 // failures at a known hour
	ranged bool
}

type weibullRow struct {
	kind          rowKind
	weight        float64
	y             float64 // end
	yLast, yEntry float64 // -Inf: from new
}

type rowKind int

const (
	censoredRow rowKind = iota
	exactRow
	rangedRow
)

// weibullPoint is a place (b, a) and the log-likelihood there.
type weibullPoint struct{ b, a, value float64 }

func newWeibullLikelihood(rows []Lifetime) *weibullLikelihood {
	longest := 0.0
	for _, r := range rows {
		longest = math.Max(longest, r.Time)
	}
	l := &weibullLikelihood{lnUnit: math.Log(longest)}
	for _, r := range rows {
		w := weibullRow{weight: r.weight(), y: math.Log(r.Time / longest), yEntry: math.Log(r.Entry / longest)}
		switch {
		case r.ranged():
			w.kind, w.yLast, l.ranged = rangedRow, math.Log(r.LastGood/longest), true
		case r.Failed:
			w.kind = exactRow
			l.exact += w.weight
		}
		l.rows = append(l.rows, w)
	}
	return l
}

// at returns the log-likelihood at (b, a); -Inf where it overflows.
func (l *weibullLikelihood) at(b, a float64) float64 {
	sum := 0.0
	for _, r := range l.rows {
		h := math.Exp(b*r.y - a)
		term := math.Exp(b*r.yEntry - a)
		switch r.kind {
		case censoredRow:
			term -= h
		case exactRow:
			term += math.Log(b) - r.y - l.lnUnit + (b*r.y - a) - h
		case rangedRow:
			term += -math.Exp(b*r.yLast-a) + lnRise(b*r.y-a, b*(r.yLast-r.y))
		}
		sum += r.weight * term
	}
	if math.IsNaN(sum) {
		return math.Inf(-1)
	}
	return sum
}

// lnRise returns ln(1 - exp(-(h - h1))) with h = exp(z) and h1 = exp(z+back),
// back < 0; in logs, so that a far too long scale still shows which way is up.
func lnRise(z, back float64) float64 {
	lnd := z + math.Log(-math.Expm1(back))
	if lnd < -30 {
		return lnd
	}
	return math.Log(-math.Expm1(-math.Exp(lnd)))
}

// gradient returns the derivatives by b and by a.
func (l *weibullLikelihood) gradient(b, a float64) (db, da float64) {
	add := func(slope, y float64) { // slope = d term / d z
		if slope != 0 {
			db += slope * y
			da -= slope
		}
	}
	for _, r := range l.rows {
		h := math.Exp(b*r.y - a)
		add(r.weight*math.Exp(b*r.yEntry-a), r.yEntry)
		switch r.kind {
		case censoredRow:
			add(-r.weight*h, r.y)
		case exactRow:
			db += r.weight / b
			add(r.weight*(1-h), r.y)
		case rangedRow:
			h1, back := math.Exp(b*r.yLast-a), b*(r.yLast-r.y)
			part := -math.Expm1(back) // share of h that the interval holds
			per := 1 / part           // h / expm1(h - h1), without 0/0 for tiny h
			if d := h * part; d > 1e-12 {
				per *= d / math.Expm1(d)
			}
			add(r.weight*per, r.y)
			add(-r.weight*(h1+per*math.Exp(back)), r.yLast)
		}
	}
	return db, da
}

// The shapes searched: far beyond any real life on both sides.
const (
	leastShape = 0.01
	mostShape  = 1e4
)

// maximum scans the profile over the shape, then polishes by Newton steps.
func (l *weibullLikelihood) maximum() (weibullPoint, error) {
	const scan = 140
	ratio := math.Log(mostShape/leastShape) / scan
	bestAt, edge := weibullPoint{value: math.Inf(-1)}, weibullPoint{}
	for i := 0; i <= scan; i++ {
		p := l.profileShape(leastShape * math.Exp(float64(i)*ratio))
		if p.value > bestAt.value {
			bestAt = p
		}
		edge = p
	}
	if edge.value > bestAt.value-1e-6 {
		return weibullPoint{}, fmt.Errorf("%w: the failures all fit one single hour, so the shape has no upper end; more units or a closer look at the hours is needed", ErrNoMaximum)
	}
	if math.IsInf(bestAt.value, -1) || bestAt.b < leastShape*1.001 {
		return weibullPoint{}, fmt.Errorf("%w: the shape runs to 0; check the hours and entries", ErrNoMaximum)
	}
	u := climb(func(u float64) float64 { return l.profileShape(math.Exp(u)).value }, math.Log(bestAt.b), ratio)
	return l.polish(l.profileShape(math.Exp(u))), nil
}

// profileShape returns the best a for a shape b: in closed form
// exp(a) = sum w (exp(b y) - exp(b yEntry)) / r when every failure has its
// hour, else by a search from that value.
func (l *weibullLikelihood) profileShape(b float64) weibullPoint {
	sum, failures := 0.0, 0.0
	for _, r := range l.rows {
		sum += r.weight * (math.Exp(b*r.y) - math.Exp(b*r.yEntry))
		if r.kind != censoredRow {
			failures += r.weight
		}
	}
	a := math.Log(sum / failures)
	if l.ranged {
		a = climb(func(a float64) float64 { return l.at(b, a) }, a, 0.5)
	}
	return weibullPoint{b, a, l.at(b, a)}
}

// polish takes Newton steps in (ln b, a) on the gradient, with a difference
// quotient for its slope, and keeps a step only while the gradient shrinks.
func (l *weibullLikelihood) polish(p weibullPoint) weibullPoint {
	score := func(u, a float64) (float64, float64) {
		db, da := l.gradient(math.Exp(u), a)
		return db * math.Exp(u), da
	}
	u, a := math.Log(p.b), p.a
	gu, ga := score(u, a)
	for range 20 {
		const h = 1e-5
		u1, a1 := score(u+h, a)
		u0, a0 := score(u-h, a)
		huu, hua := (u1-u0)/(2*h), (a1-a0)/(2*h)
		_, a1 = score(u, a+h)
		_, a0 = score(u, a-h)
		haa := (a1 - a0) / (2 * h)
		det := huu*haa - hua*hua
		nu, na := u-(haa*gu-hua*ga)/det, a-(huu*ga-hua*gu)/det
		ngu, nga := score(nu, na)
		if !(math.Hypot(ngu, nga) < math.Hypot(gu, ga)) {
			break
		}
		u, a, gu, ga = nu, na, ngu, nga
	}
	b := math.Exp(u)
	return weibullPoint{b, a, l.at(b, a)}
}
