package measure

import (
	"math"
	"math/rand/v2"
	"strings"
	"testing"
)

func TestCalliperRefused(t *testing.T) {
	err := Calliper().CanDecide(0.02) // ±0.03 can't decide 0.02: common practice, no source
	if err == nil || !strings.Contains(err.Error(), "micrometer") {
		t.Errorf("calliper for 0.02 mm: %v", err)
	}
	if err := Micrometer().CanDecide(0.02); err != nil {
		t.Error(err)
	}
	if err := Calliper().CanDecide(0.1); err != nil {
		t.Error(err)
	}
	spots := []Spot{{10, 0, 35}, {10, 90, 35}}
	if _, err := Diameters(spots, Calliper(), 0.02, nil); err == nil {
		t.Error("Diameters took a calliper for 0.02 mm")
	}
}

func TestDiameters(t *testing.T) {
	spots := []Spot{{20, 0, 34.990}, {20, 90, 34.970}, {80, 0, 34.995}, {80, 90, 34.985}, {140, 0, 35.000}, {140, 90, 34.998}}
	fresh := Known{35.000, 0.002}
	r, err := Diameters(spots, Micrometer(), 0.02, &fresh)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "ovality 34.990-34.970 (arithmetic)", *r.Ovality, 0.020, 1e-9)
	near(t, "taper 34.999-34.980 (arithmetic)", *r.Taper, 0.019, 1e-9)
	near(t, "least read", r.LeastRead, 34.970, 1e-12)
	near(t, "least: the others are 15 u away, so nothing is taken out", *r.Value, 34.970, 1e-6)
	near(t, "u = √(0.001² + 0.004²/3)", *r.U, math.Hypot(0.001, 0.004/math.Sqrt(3)), 1e-6)
	near(t, "worn", *r.Worn, 0.030, 1e-6)
	one, err := Diameters(spots[:1], Micrometer(), 0.02, nil)
	if err != nil || one.Ovality != nil || one.Taper != nil || one.Worn != nil {
		t.Errorf("one spot: %+v, %v", one, err)
	}
	for _, bad := range [][]Spot{nil, {{0, 0, math.NaN()}}, {{0, 0, -35}}, {{math.Inf(1), 0, 35}}} {
		if _, err := Diameters(bad, Micrometer(), 0.02, nil); err == nil {
			t.Errorf("%v was taken", bad)
		}
	}
}

// The moments of the least of k equal readings are those of the normal order
// statistic: k=2 -1/√π, variance 1-1/π; k=3 -3/(2√π); k=6 -1.26721 (tables of
// normal order statistics, Teichroew 1956, from memory).
func TestMomentsOfLeast(t *testing.T) {
	for _, c := range []struct {
		k      int
		m1, sd float64
	}{{2, -1 / math.Sqrt(math.Pi), math.Sqrt(1 - 1/math.Pi)}, {3, -1.5 / math.Sqrt(math.Pi), math.Sqrt(0.559467)}, {6, -1.267206, math.Sqrt(0.415927)}} {
		m1, m2 := momentsOfLeast(make([]float64, c.k), 0, 1)
		near(t, "mean of the least", m1, c.m1, 1e-6)
		near(t, "sd of the least", math.Sqrt(m2-m1*m1), c.sd, 1e-6)
	}
}

// Against Monte Carlo with a fixed seed: tubes whose six true diameters differ;
// the corrected least is nearer to the truth on average than the lowest reading.
func TestLeastOfAgainstSimulation(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	const u, runs = 1.0, 400
	truth := []float64{0, 0.3, 0.8, 1.5, 2.5, 4}
	var plain, mended float64
	x := make([]float64, len(truth))
	for range runs {
		low := math.Inf(1)
		for i, m := range truth {
			x[i] = m + u*r.NormFloat64()
			low = min(low, x[i])
		}
		least, uLeast, err := LeastOf(x, u)
		if err != nil || uLeast <= 0 || uLeast > u {
			t.Fatalf("%v ± %v, %v", least, uLeast, err)
		}
		plain += low / runs
		mended += least / runs
	}
	t.Logf("bias of the lowest reading %.3f u, after correction %.3f u", plain, mended)
	if plain > -0.4 || math.Abs(mended) > 0.5*math.Abs(plain) {
		t.Errorf("bias %v before, %v after", plain, mended)
	}
}
