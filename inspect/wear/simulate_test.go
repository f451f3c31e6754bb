package wear

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"
)

// truth is a simulated group: the fittings' true lines beside their readings.
type truth struct {
	data  Data
	a, b  []float64
	hours []float64 // of the last reading
}

// simulate makes units fittings with readings each, by the model of FitPenalised
// with expected life 500 h (which the data sheet has right to lifeError).
func simulate(r *rand.Rand, units, readings int, lifeError float64) truth {
	var out truth
	b1 := 1 / 500.0 * (1 + lifeError)
	for i := 0; i < units; i++ {
		a := 0.05 * r.NormFloat64()
		b := b1 + 0.3*b1*r.NormFloat64()
		for b <= 0 {
			b = b1 + 0.3*b1*r.NormFloat64()
		}
		h := 0.0
		for j := 0; j < readings; j++ {
			h += 60 + 60*r.Float64()
			out.data.Observations = append(out.data.Observations, Observation{
				Unit: fmt.Sprint(i), Hours: h, U: 0.04,
				Value: a + b*h + math.Hypot(0.04, 0.04)*r.NormFloat64(),
			})
		}
		out.a, out.b, out.hours = append(out.a, a), append(out.b, b), append(out.hours, h)
	}
	return out
}

// coverage counts how often the true latent wear at H hours ahead lies in the
// 90 % band and the true life in P05..P95.
func coverage(t testing.TB, runs, units, readings int, lifeError float64) (wear, life float64) {
	r := rand.New(rand.NewPCG(7, uint64(units*100+readings)))
	inWear, inLife, nWear, nLife := 0, 0, 0, 0
	for k := 0; k < runs; k++ {
		s := simulate(r, units, readings, lifeError)
		f, err := FitPenalised(s.data, DefaultPrior(500))
		if err != nil {
			t.Fatal(err)
		}
		for i := range s.a {
			p, err := f.Posterior(fmt.Sprint(i))
			if err != nil {
				t.Fatal(err)
			}
			band := Band(p, []float64{s.hours[i] + 100})[0]
			w := s.a[i] + s.b[i]*band.T
			nWear++
			if band.Low <= w && w <= band.High {
				inWear++
			}
			left := (1-s.a[i])/s.b[i] - s.hours[i]
			if left <= 0 {
				continue // over already: hours left are conditional on not
			}
			h, err := p.HoursLeft(s.hours[i])
			if err != nil {
				t.Fatal(err)
			}
			nLife++
			if h.P05 <= left && left <= h.P95 {
				inLife++
			}
		}
	}
	return float64(inWear) / float64(nWear), float64(inLife) / float64(nLife)
}

// 90 % is said; the design's simulation found 0.91-0.93 for the penalised
// estimator, 0.86-0.88 for plain REML. 300 runs of 15 fittings: the standard
// error of a coverage is below 0.01 (runs are the independent piece).
func TestCoverage15x3(t *testing.T) {
	for _, lifeError := range []float64{0, 0.4, -0.3} {
		wear, life := coverage(t, 300, 15, 3, lifeError)
		t.Logf("life wrong by %+.0f %%: latent wear %.3f, life %.3f", 100*lifeError, wear, life)
		if wear < 0.88 || wear > 0.95 || life < 0.87 || life > 0.96 {
			t.Errorf("coverage of 90 %% limits: wear %.3f, life %.3f", wear, life)
		}
	}
}

// The ranges of hours left that are said to hold nine in ten, over the sizes of
// group that a shop has, with an expected life that is 20 % too long. Accepted:
// 0.87 to 0.94, the design's figure; the seed is fixed, so it either holds or
// it does not. Measured: 0.884, 0.888, 0.896 and 0.895.
func TestCoverageOfHoursLeft(t *testing.T) {
	for _, size := range []struct{ runs, fittings, readings int }{{250, 8, 2}, {250, 8, 3}, {150, 15, 3}, {60, 40, 3}} {
		_, life := coverage(t, size.runs, size.fittings, size.readings, 0.2)
		t.Logf("%d fittings of %d readings: hours left in the 90 %% range %.3f", size.fittings, size.readings, life)
		if life < 0.87 || life > 0.94 {
			t.Errorf("%d fittings of %d readings: the 90 %% range of hours left holds %.3f, want 0.87 to 0.94", size.fittings, size.readings, life)
		}
	}
}

func BenchmarkCoverage8x3(b *testing.B) {
	for i := 0; i < b.N; i++ {
		wear, life := coverage(b, 500, 8, 3, 0.2)
		b.ReportMetric(wear, "wear-coverage")
		b.ReportMetric(life, "life-coverage")
	}
}

func BenchmarkCoverage40x2(b *testing.B) {
	for i := 0; i < b.N; i++ {
		wear, life := coverage(b, 300, 40, 2, 0.2)
		b.ReportMetric(wear, "wear-coverage")
		b.ReportMetric(life, "life-coverage")
	}
}

// 20,000 fittings, 60,000 readings, 100 groups: a whole shop's history.
func BenchmarkRefitShop(b *testing.B) {
	r := rand.New(rand.NewPCG(1, 2))
	groups := make([]Data, 100)
	for i := range groups {
		groups[i] = simulate(r, 200, 3, 0.1).data
	}
	b.ResetTimer()
	for i := 0; i < b.N; i++ {
		for _, d := range groups {
			if _, err := FitPenalised(d, DefaultPrior(500)); err != nil {
				b.Fatal(err)
			}
		}
	}
}

func BenchmarkHoursLeft(b *testing.B) {
	p := Posterior{Mu: [2]float64{0.02, 0.002}, S: [2][2]float64{{0.002, -2e-6}, {-2e-6, 1e-7}}}
	for i := 0; i < b.N; i++ {
		if _, err := p.HoursLeft(250); err != nil {
			b.Fatal(err)
		}
	}
}
