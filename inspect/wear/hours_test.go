package wear

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"pgregory.net/rapid"
)

// Sheppard's theorem: P(X > 0, Y > 0) = 1/4 + asin(r)/(2 pi), exact. Elsewhere
// against plain integration over Y of phi(y) P(X > h | y).
func TestBothAbove(t *testing.T) {
	for _, r := range []float64{-1, -0.99, -0.93, -0.8, -0.5, -0.2, 0, 0.2, 0.5, 0.8, 0.93, 0.99, 0.9999, 1} {
		near(t, fmt.Sprintf("quadrant at %g", r), bothAbove(0, 0, r), 0.25+math.Asin(r)/(2*math.Pi), 1e-14)
		if math.Abs(r) > 0.999 {
			continue
		}
		for _, h := range []float64{-3, -0.7, 0.4, 2.5} {
			for _, k := range []float64{-2, 0.1, 1.5} {
				sum, n := 0.0, 40000
				for i := 0; i < n; i++ {
					y := k + (10-k)*(float64(i)+0.5)/float64(n)
					sum += math.Exp(-y*y/2) * upper((h-r*y)/math.Sqrt(1-r*r)) * (10 - k) / float64(n)
				}
				near(t, fmt.Sprintf("h %g k %g r %g", h, k, r), bothAbove(h, k, r), sum/math.Sqrt(2*math.Pi), 1e-8)
			}
		}
	}
	near(t, "never", bothAbove(math.Inf(1), 0, 0.5), 0, 0)
	near(t, "one side", bothAbove(math.Inf(-1), 1, 0.5), upper(1), 1e-15)
}

// Hours left against 300,000 draws of (A, B), seeded.
func TestHoursLeftAgainstDraws(t *testing.T) {
	for _, p := range []Posterior{
		{Mu: [2]float64{0.02, 0.002}, S: [2][2]float64{{0.002, -2e-6}, {-2e-6, 2.5e-7}}},
		{Mu: [2]float64{0.5, 0.001}, S: [2][2]float64{{0.01, 1e-5}, {1e-5, 4e-7}}}, // P(B <= 0) 0.06
		{Mu: [2]float64{0, 3e-5}, S: [2][2]float64{{0.001, 0}, {0, 1e-11}}, Power: 1.5},
	} {
		const now = 250.0
		h, err := p.HoursLeft(now)
		if err != nil {
			t.Fatal(err)
		}
		r := rand.New(rand.NewPCG(21, 22))
		sa := math.Sqrt(p.S[0][0])
		c := p.S[0][1] / sa
		sb := math.Sqrt(p.S[1][1] - c*c)
		var n, rise, by100 int
		var below [3]int
		for i := 0; i < 300000; i++ {
			x, y := r.NormFloat64(), r.NormFloat64()
			a, b := p.Mu[0]+sa*x, p.Mu[1]+c*x+sb*y
			if b <= 0 {
				continue
			}
			rise++
			if a+b*p.z(now+100) >= 1 {
				by100++
			}
			if a+b*p.z(now) >= 1 {
				continue
			}
			n++
			for j, q := range []float64{h.P05, h.P50, h.P95} {
				if a+b*p.z(now+q) >= 1 {
					below[j]++
				}
			}
		}
		for j, want := range []float64{0.05, 0.5, 0.95} {
			near(t, fmt.Sprintf("share within P%02.0f", 100*want), float64(below[j])/float64(n), want, 0.003)
		}
		e, err := PExceed(p, now, 100, 0)
		if err != nil {
			t.Fatal(err)
		}
		near(t, "P(T <= now + 100)", e, float64(by100)/float64(rise), 0.003)
	}
}

// With a slope known exactly, T is normal over the slope: P50 = (1 - A)/B - now
// to within the cut at now (arithmetic).
func TestHoursLeftExact(t *testing.T) {
	p := Posterior{Mu: [2]float64{0.2, 0.002}, S: [2][2]float64{{1e-8, 0}, {0, 0}}}
	h, err := p.HoursLeft(100)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "P50", h.P50, 300, 1e-3)
	near(t, "P95", h.P95, 300+1.6448536*1e-4/0.002, 1e-3)
	h, err = Posterior{Mu: [2]float64{0.2, 0.002}}.HoursLeft(100)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "nothing uncertain", h.P05, 300, 1e-3)
	near(t, "nothing uncertain", h.P95, 300, 1e-3)
}

func TestHoursLeftFlags(t *testing.T) {
	over := Posterior{Mu: [2]float64{0.5, 0.003}, S: [2][2]float64{{0.001, 0}, {0, 1e-9}}}
	if h, err := over.HoursLeft(300); err != nil || !h.Over || h.P95 != 0 || h.NoTrend {
		t.Errorf("over: %+v %v", h, err)
	}
	flat := Posterior{Mu: [2]float64{0.1, 0.0001}, S: [2][2]float64{{0.001, 0}, {0, 1e-8}}}
	if h, err := flat.HoursLeft(10); err != nil || !h.NoTrend || !(h.P50 > 0) {
		t.Errorf("flat: %+v %v", h, err)
	}
	falls := Posterior{Mu: [2]float64{0.1, -1}, S: [2][2]float64{{0.001, 0}, {0, 1e-8}}}
	if h, err := falls.HoursLeft(10); err != nil || !h.NoTrend || !math.IsInf(h.P05, 1) {
		t.Errorf("falls: %+v %v", h, err)
	}
	if e, err := PExceed(falls, 10, 50, 0); err != nil || e != 0 {
		t.Errorf("falls: %g %v", e, err)
	}
	nan := math.NaN()
	for name, err := range map[string]error{
		"NaN hours":      second(over.HoursLeft(nan)),
		"negative hours": second(over.HoursLeft(-1)),
		"negative ahead": second(PExceed(over, 1, -1, 0)),
		"NaN ahead":      second(PExceed(over, 1, nan, 0)),
		"negative u":     second(PExceed(over, 1, 1, -1)),
		"NaN posterior":  second(Posterior{Mu: [2]float64{nan, 0}}.HoursLeft(1)),
		"no variance":    second(PExceed(Posterior{S: [2][2]float64{{-1, 0}, {0, 1}}}, 1, 1, 0)),
	} {
		if err == nil {
			t.Errorf("%s: accepted", name)
		}
	}
}

func second[T any](_ T, err error) error { return err }

func TestBandAndToward(t *testing.T) {
	p := Posterior{Mu: [2]float64{0.1, 0.002}, S: [2][2]float64{{0.0004, 1e-7}, {1e-7, 1e-8}}}
	b := Band(p, []float64{0, 200})
	near(t, "mean", b[1].Mean, 0.5, 1e-12)
	near(t, "half width", b[1].High-b[1].Mean, 1.6448536*math.Sqrt(0.0004+4e-5+4e-4), 1e-7) // z'S z by hand
	near(t, "at 0", b[0].Low, 0.1-1.6448536*0.02, 1e-7)
	// A diameter falling from 32.00 by 0.001 mm/h to 31.90 is reached after 100 h.
	q := Posterior{Mu: [2]float64{32, -0.001}, S: [2][2]float64{{1e-10, 0}, {0, 1e-14}}}.Toward(31.9, false)
	h, err := q.HoursLeft(40)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "hours to 31.90", h.P50, 60, 0.01)
}

// Points of hours left are ordered, P(T <= t) grows with t and lies in 0..1.
func TestHoursLeftProperties(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := drawPosterior(t)
		now := rapid.Float64Range(0, 800).Draw(t, "now")
		h, err := p.HoursLeft(now)
		if err != nil {
			t.Fatal(err)
		}
		if !(h.P05 >= 0 && h.P05 <= h.P50 && h.P50 <= h.P95) {
			t.Fatalf("out of order: %+v", h)
		}
		last := 0.0
		for _, ahead := range []float64{0, 10, 50, 200, 1000} {
			e, err := PExceed(p, now, ahead, 0)
			if err != nil || e < last-1e-9 || e > 1 {
				t.Fatalf("P(T <= now + %g) = %g after %g, %v", ahead, e, last, err)
			}
			last = e
		}
	})
}

func drawPosterior(t *rapid.T) Posterior {
	sa := rapid.Float64Range(1e-4, 0.3).Draw(t, "sa")
	sb := rapid.Float64Range(1e-6, 0.003).Draw(t, "sb")
	rho := rapid.Float64Range(-0.99, 0.99).Draw(t, "rho")
	return Posterior{
		Mu: [2]float64{rapid.Float64Range(-0.2, 1).Draw(t, "A"), rapid.Float64Range(-0.0005, 0.006).Draw(t, "B")},
		S:  [2][2]float64{{sa * sa, rho * sa * sb}, {rho * sa * sb, sb * sb}},
	}
}

// More wear in the newest reading never lowers P(T <= t), for any fitting of a
// fitted group, seen or new, with a known or an unknown age.
func TestMoreWearNeverLooksBetter(t *testing.T) {
	var fits []Fit
	for seed := uint64(0); seed < 12; seed++ {
		r := rand.New(rand.NewPCG(seed, 77))
		fits = append(fits, mustFit(t, simulate(r, 2+int(seed)*3, 1+int(seed)%4, 0.3*r.NormFloat64()).data, DefaultPrior(500)))
	}
	for seed := uint64(0); seed < 4; seed++ {
		d, _ := simulateForks(rand.New(rand.NewPCG(seed, 78)), 10+int(seed), 2, 0.0007)
		fits = append(fits, mustFit(t, d, DefaultPrior(500)))
	}
	rapid.Check(t, func(t *rapid.T) {
		f := fits[rapid.IntRange(0, len(fits)-1).Draw(t, "fit")]
		unit := Unit{ID: rapid.SampledFrom([]string{"0", "1", "0.0", "1.1", "new"}).Draw(t, "unit"), AgeUnknown: rapid.Bool().Draw(t, "old"),
			Fork: rapid.SampledFrom([]string{"", "fork 0", "fork 7", "another"}).Draw(t, "fork")}
		n := rapid.IntRange(1, 4).Draw(t, "n")
		if f.at != nil && unit.ID != "new" {
			unit.AgeUnknown = false
		}
		var obs []Observation
		h := 0.0
		for i := 0; i < n; i++ {
			h += rapid.Float64Range(1, 300).Draw(t, "dh")
			obs = append(obs, Observation{Hours: h, Value: rapid.Float64Range(-0.2, 1.5).Draw(t, "w"), U: rapid.Float64Range(0, 0.3).Draw(t, "u")})
		}
		now := h + rapid.Float64Range(0, 50).Draw(t, "since")
		ahead := rapid.Float64Range(0, 600).Draw(t, "ahead")
		last := -1.0
		for _, more := range []float64{0, 0.01, 0.1, 0.5, 3} {
			o := append([]Observation(nil), obs...)
			o[n-1].Value += more
			p, err := f.PosteriorOf(unit, o)
			if err != nil {
				t.Fatal(err)
			}
			e, err := PExceed(p, now, ahead, 0)
			if err != nil {
				t.Fatal(err)
			}
			if e < last-1e-7 {
				t.Fatalf("%g more wear took P from %g to %g (%+v)", more, last, e, p)
			}
			last = e
		}
	})
}
