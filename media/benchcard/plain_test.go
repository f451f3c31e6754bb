package benchcard

import (
	"context"
	"math"
	"math/rand/v2"
	"testing"
	"time"

	"forkwear/media/scale"
)

// nearest is the mean distance of a found card's corners from the true ones,
// whichever is called first, as a share of the card's shorter side.
func nearest(f Found, truth []scale.Point) float64 {
	best := math.Inf(1)
	for turn := range 4 {
		var sum float64
		for i, c := range f.Corners {
			sum += apart(c, truth[(i+turn)%4]) / 4
		}
		best = min(best, sum)
	}
	return best
}

// plainScenes renders plain cards that stand out from the bench by at least 40
// gray levels, and counts where FindPlain has it first, among its proposals,
// and how far off the corners are then.
func plainScenes(t *testing.T, n int, busy bool) (first, any int, off []float64, sigma []float64, slowest time.Duration) {
	t.Helper()
	r := rand.New(rand.NewPCG(9, 2))
	for range n {
		s := anyScene(r, 2016, 1512)
		s.busy, s.lightX, s.lightY = busy, s.lightX/2, s.lightY/2
		s.tilt *= 0.75 // to 30 degrees
		for s.plain == 0 || math.Abs(s.plain-s.bench) < 40 {
			s.plain = 30 + 200*r.Float64()
		}
		img := s.photo(t, nil)
		began := time.Now()
		found, err := FindPlain(context.Background(), img)
		slowest = max(slowest, time.Since(began))
		if err != nil {
			t.Fatal(err)
		}
		truth := s.corners()
		limit := 0.05 * apart(truth[1], truth[2])
		for i, f := range found {
			if e := nearest(f, truth); e < limit {
				if any++; i == 0 {
					first++
				}
				off, sigma = append(off, e), append(sigma, f.Sigma)
				if _, err := f.Plane(); err != nil {
					t.Errorf("%+v: %v", s, err)
				}
				break
			}
		}
	}
	return
}

// TestPlainCards: what is proposed must be the card mostly, since a person has
// to drag it otherwise. The truth is the scene's own; the limits are those that
// a shop would put up with (common practice, no source).
func TestPlainCards(t *testing.T) {
	for _, k := range []struct {
		name string
		busy bool
		want float64
	}{{"plain card on a bare bench", false, 0.8}, {"plain card on a busy bench", true, 0.4}} {
		n := scenesWanted(t, 2)
		first, any, off, sigma, slowest := plainScenes(t, n, k.busy)
		var mean, worst, said float64
		for i, e := range off {
			mean, worst, said = mean+e/float64(len(off)), max(worst, e), said+sigma[i]/float64(len(off))
		}
		t.Logf("%s: %d scenes, proposed first %d, proposed %d, corners off by %.2f px (worst %.1f), sigma %.2f; slowest %v", k.name, n, first, any, mean, worst, said, slowest)
		if float64(any) < k.want*float64(n) {
			t.Errorf("%s: only %d of %d proposed", k.name, any, n)
		}
	}
}
