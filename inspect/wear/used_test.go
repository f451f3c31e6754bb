package wear

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"pgregory.net/rapid"
)

func TestUsed(t *testing.T) {
	for _, c := range []struct {
		name                string
		x, ux, n, un, l, ul float64
		w, u                float64
	}{
		// By hand from w = (x-n)/(l-n), u^2 = (ux^2+(1-w)^2 un^2+w^2 ul^2)/(l-n)^2.
		{"rising", 0.15, 0.01, 0.05, 0, 0.25, 0, 0.5, 0.05},
		{"falling", 31.95, 0.003, 32, 0.004, 31.9, 0, 0.5, math.Sqrt(9e-6+0.25*16e-6) / 0.1},
		{"all three", 3, 0.3, 0, 0.4, 4, 0.8, 0.75, math.Sqrt(0.09+0.0625*0.16+0.5625*0.64) / 4},
		{"below new", -1, 0.1, 0, 0, 1, 0, -1, 0.1},
		{"nothing uncertain", 2, 0, 0, 0, 1, 0, 2, 0},
	} {
		w, u, err := Used(c.x, c.ux, c.n, c.un, c.l, c.ul)
		if err != nil {
			t.Errorf("%s: %v", c.name, err)
		}
		near(t, c.name+" w", w, c.w, 1e-9)
		near(t, c.name+" u", u, c.u, 1e-9)
	}
	nan := math.NaN()
	for i, c := range [][6]float64{{nan, 0, 0, 0, 1, 0}, {0, -1, 0, 0, 1, 0}, {0, 0, math.Inf(1), 0, 1, 0}, {0, 0, 0, -1, 1, 0}, {0, 0, 1, 0, 1, 0}, {0, 0, 0, 0, 1, nan}, {1, 0, 0, 0, 5e-324, 0}} {
		if _, _, err := Used(c[0], c[1], c[2], c[3], c[4], c[5]); err == nil {
			t.Errorf("case %d accepted: %v", i, c)
		}
	}
}

// The stated first-order uncertainty against seeded draws of all three inputs.
func TestUsedAgainstDraws(t *testing.T) {
	r := rand.New(rand.NewPCG(31, 1))
	s1, s2, n := 0.0, 0.0, 200000
	for i := 0; i < n; i++ {
		w, _, err := Used(0.16+0.004*r.NormFloat64(), 0, 0.05+0.003*r.NormFloat64(), 0, 0.25+0.002*r.NormFloat64(), 0)
		if err != nil {
			t.Fatal(err)
		}
		s1 += w / float64(n)
		s2 += w * w / float64(n)
	}
	_, u, err := Used(0.16, 0.004, 0.05, 0.003, 0.25, 0.002)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "u", u, math.Sqrt(s2-s1*s1), 0.01*u)
}

// Turning the scale round, or changing its unit, changes nothing.
func TestUsedProperties(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		x := rapid.Float64Range(-10, 10).Draw(t, "x")
		n := rapid.Float64Range(-10, 10).Draw(t, "new")
		l := n + rapid.SampledFrom([]float64{-3, -0.5, 0.5, 2}).Draw(t, "span")
		k := rapid.SampledFrom([]float64{-25.4, -1, 0.1, 25.4}).Draw(t, "unit")
		w, u, err := Used(x, 0.1, n, 0.2, l, 0.3)
		w2, u2, err2 := Used(k*x, 0.1*math.Abs(k), k*n, 0.2*math.Abs(k), k*l, 0.3*math.Abs(k))
		if err != nil || err2 != nil || math.Abs(w-w2) > 1e-9*(1+math.Abs(w)) || math.Abs(u-u2) > 1e-9*(1+u) {
			t.Fatalf("%g %g %v against %g %g %v", w, u, err, w2, u2, err2)
		}
	})
}

func TestGrade(t *testing.T) {
	for _, c := range []struct {
		grade, limit, step, rater, w, u float64
		left, right, over               bool
	}{
		// w = grade/(G - s/2), u = hypot(s/sqrt 12, rater)/(G - s/2), by hand.
		{2, 3, 1, 0, 0.8, math.Sqrt(1/12.0+0.36) / 2.5, false, false, false},
		{3, 3, 1, 0, 1.2, math.Sqrt(1/12.0+0.36) / 2.5, false, false, true},
		{2.5, 3, 0.5, 0.3, 2.5 / 2.75, math.Sqrt(0.25/12+0.09) / 2.75, false, false, false},
		{0, 2, 1, 0, 0, math.Sqrt(1/12.0+0.36) / 1.5, true, false, false},
		{5, 4, 1, 0, 5 / 3.5, math.Sqrt(1/12.0+0.36) / 3.5, false, true, true},
	} {
		g, err := Grade(c.grade, c.limit, c.step, c.rater)
		if err != nil {
			t.Fatal(err)
		}
		near(t, fmt.Sprint(c.grade, " w"), g.W, c.w, 1e-12)
		near(t, fmt.Sprint(c.grade, " u"), g.U, c.u, 1e-12)
		if g.Left != c.left || g.Right != c.right || Over(c.grade, c.limit) != c.over {
			t.Errorf("grade %g: %+v over %v", c.grade, g, Over(c.grade, c.limit))
		}
		o := g.Observation("x", 10, 1)
		if o.Left != c.left || o.Hours != 10 || o.HoursU != 1 || c.left && o.Value <= 0 {
			t.Errorf("observation %+v", o)
		}
	}
	for i, c := range [][4]float64{{6, 3, 1, 0}, {-1, 3, 1, 0}, {2.5, 3, 1, 0}, {2, 0, 1, 0}, {2, 6, 1, 0}, {2, 3, 2, 0}, {2, 3, 1, -1}, {math.NaN(), 3, 1, 0}, {2, math.NaN(), 1, 0}, {2, 3, 1, math.NaN()}} {
		if _, err := Grade(c[0], c[1], c[2], c[3]); err == nil {
			t.Errorf("case %d accepted: %v", i, c)
		}
	}
}

func TestReducePlain(t *testing.T) {
	p := []Point{{3, 0}, {1, 0}, {2, 0}}
	for rule, want := range map[Rule]float64{Least: 1, Greatest: 3, Mean: 2, Range: 2} { // arithmetic
		r, err := Reduce(p, rule, 0.5)
		if err != nil {
			t.Fatal(err)
		}
		near(t, string(rule), r.Value, want, 1e-12)
		near(t, string(rule)+" raw", r.Raw, want, 1e-12)
		near(t, string(rule)+" shared", r.U, map[bool]float64{true: 0, false: 0.5}[rule == Range], 1e-12)
	}
	r, err := Reduce([]Point{{5, 0.3}}, Greatest, 0.4)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "one point", r.Value, 5, 0)
	near(t, "its u", r.U, 0.5, 1e-12)
	for name, err := range map[string]error{
		"none": second(Reduce(nil, Least, 0)), "NaN": second(Reduce([]Point{{math.NaN(), 1}}, Least, 0)),
		"negative u": second(Reduce([]Point{{1, -1}}, Least, 0)), "shared": second(Reduce(p, Least, -1)),
		"rule": second(Reduce(p, "median", 0)), "range of one": second(Reduce(p[:1], Range, 0)),
	} {
		if err == nil {
			t.Errorf("%s accepted", name)
		}
	}
}

// The mean and sd of the greatest of six standard normals are 1.26721 and
// 0.64492 (Teichroew 1956, tables of normal order statistics; from memory),
// of two 1/sqrt(pi) and sqrt(1 - 1/pi), exact.
func TestGreatestOf(t *testing.T) {
	m, sd := greatestOf(make([]float64, 6), []float64{1, 1, 1, 1, 1, 1})
	near(t, "six", m, 1.26721, 1e-4)
	near(t, "six sd", sd, 0.64492, 1e-4)
	m, sd = greatestOf([]float64{5, 5}, []float64{2, 2})
	near(t, "two", m, 5+2/math.Sqrt(math.Pi), 1e-5)
	near(t, "two sd", sd, 2*math.Sqrt(1-1/math.Pi), 5e-4)
	m, sd = greatestOf([]float64{0, 10}, []float64{1, 0})
	near(t, "a sure one", m, 10, 2e-2)
	near(t, "a sure one's sd", sd, 0, 0.1)
}

// Over seeded draws the corrected extreme is nearer the true one than the raw,
// whether the true points are alike or spread, and its U is honest.
func TestReduceExtremeSimulated(t *testing.T) {
	r := rand.New(rand.NewPCG(41, 1))
	for _, spread := range []float64{0, 0.5, 1, 3} {
		raw, cor, z2 := 0.0, 0.0, 0.0
		const n = 800
		for i := 0; i < n; i++ {
			truth, pts := math.Inf(-1), make([]Point, 6)
			for j := range pts {
				x := spread * r.NormFloat64()
				truth = math.Max(truth, x)
				pts[j] = Point{x + r.NormFloat64(), 1}
			}
			out, err := Reduce(pts, Greatest, 0)
			if err != nil {
				t.Fatal(err)
			}
			raw += (out.Raw - truth) / n
			cor += (out.Value - truth) / n
			z2 += (out.Value - truth) * (out.Value - truth) / (out.U * out.U) / n
		}
		t.Logf("spread %g: raw too high by %.3f, corrected by %+.3f, mean z^2 %.2f", spread, raw, cor, z2)
		if math.Abs(cor) > 0.6*raw || z2 > 1.3 {
			t.Errorf("spread %g: raw %.3f, corrected %.3f, mean z^2 %.2f", spread, raw, cor, z2)
		}
	}
}

// Least and greatest mirror each other.
func TestReduceMirror(t *testing.T) {
	p := []Point{{1, 0.2}, {1.5, 0.3}, {0.9, 0.2}}
	q := []Point{{-1, 0.2}, {-1.5, 0.3}, {-0.9, 0.2}}
	a, _ := Reduce(p, Greatest, 0)
	b, _ := Reduce(q, Least, 0)
	near(t, "mirror", a.Value, -b.Value, 1e-12)
	near(t, "mirror u", a.U, b.U, 1e-12)
}
