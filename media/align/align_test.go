package align

import (
	"context"
	"errors"
	"image"
	"math"
	"math/rand/v2"
	"strings"
	"testing"
	"time"

	"pgregory.net/rapid"

	"forkwear/media/scale"
)

var (
	rich = scene{texture: 45, tubeGrain: 12, highlight: -0.3}
	poor = scene{texture: 8, tubeGrain: 3, highlight: -0.3}
	bare = scene{texture: 2, tubeGrain: 1, highlight: -0.3}
	same = Transform{0: 1, 4: 1, 8: 1}
)

// later is the same part on another day: a new scratch, the lamp elsewhere.
func later(s scene) scene {
	s.newMark, s.highlight = true, s.highlight+0.25
	return s
}

// TestTable: rendered photos by known transforms, so that the true place of
// every corner is known. Bound: less than a pixel after four marks (error of
// 3 pixels on both photos) and Refine, and the same for Find alone.
func TestTable(t *testing.T) {
	then := rich.photo(same, 1, 0, 0, 4, 1)
	for i, c := range changes {
		now := later(rich).photo(c.truth, 1, 0.5, -10, 4, uint64(i+2))
		start, residual, err := Landmarks(clicks(c.truth, fourPlaces, 3, uint64(i)))
		if err != nil || residual > 1e-6 {
			t.Fatal(residual, err)
		}
		got, r, err := Refine(context.Background(), then, now, start)
		if err != nil {
			t.Fatal(err)
		}
		before, after := cornerError(start, c.truth, sceneW, sceneH), cornerError(got, c.truth, sceneW, sceneH)
		t.Logf("%-24s four marks %5.2f px, refined %4.2f px (correlation %.2f, was %.2f)", c.name, before, after, r.CorrelationAfter, r.CorrelationBefore)
		if !r.Accepted || after >= 1 {
			t.Errorf("%s: refined %v, %.2f px from %.2f: %s", c.name, r.Accepted, after, before, r.Why)
		}
		if r.CornerShift <= 0 || r.Overlap < 0.5 || r.CorrelationBefore >= r.CorrelationAfter {
			t.Errorf("%s: report %+v", c.name, r)
		}
		if i != 3 && i != 5 && !testing.Verbose() {
			continue // two are enough for each day; go test -v tries all
		}
		found, f, err := Find(context.Background(), then, now)
		if err != nil {
			t.Fatal(err)
		}
		alone := cornerError(found, c.truth, sceneW, sceneH)
		t.Logf("%-24s found without marks %4.2f px", c.name, alone)
		if !f.Accepted || alone >= 1 {
			t.Errorf("%s: found %v, %.2f px: %s", c.name, f.Accepted, alone, f.Why)
		}
	}
}

// TestWrongMarks: marks that are far off must give the true place or be given
// back, never a third place.
func TestWrongMarks(t *testing.T) {
	truth := changes[1].truth
	then, now := rich.photo(same, 0.6, 0, 0, 4, 1), later(rich).photo(truth, 0.6, 0.5, -10, 4, 2)
	for _, wrong := range []Transform{{1, 0, 35, 0, 1, 20, 0, 0, 1}, {1, 0, -90, 0, 1, 60, 0, 0, 1}, {1, 0, 160, 0, 1, 0, 0, 0, 1}, turned(8, 1, 0, 0, 0), turned(-40, 0.8, 0, 0, 0)} {
		start := times(wrong, Rescaled(truth, 0.6, 0.6))
		got, r, err := Refine(context.Background(), then, now, start)
		if err != nil {
			t.Fatal(err)
		}
		e := cornerError(Rescaled(got, 1/0.6, 1/0.6), truth, sceneW, sceneH)
		t.Logf("marks %.0f px beside: accepted %v, then %.2f px: %s", cornerError(start, Rescaled(truth, 0.6, 0.6), 604, 453), r.Accepted, e, r.Why)
		if r.Accepted && e > 1 || !r.Accepted && got != start {
			t.Errorf("accepted %v, %.2f px", r.Accepted, e)
		}
		if r.Why == "" || r.CorrelationAfter < littleCommon && strings.Contains(r.Why, "already fit") {
			t.Errorf("correlation %.2f and the reason %q", r.CorrelationAfter, r.Why)
		}
	}
}

// TestLittleToSee: hardly any texture under noise, and a highlight that moved.
// What is accepted must be better than the marks; Find must rather give up.
func TestLittleToSee(t *testing.T) {
	for _, v := range []struct {
		name  string
		s     scene
		bound float64 // pixels, of an accepted result
	}{{"poor", poor, 1}, {"bare", bare, 3}} {
		then := v.s.photo(same, 1, 0, 0, 4, 1)
		for _, i := range []int{4} {
			c := changes[i]
			now := later(v.s).photo(c.truth, 1, 0.5, -10, 4, uint64(i+2))
			start, _, err := Landmarks(clicks(c.truth, fourPlaces, 2, 9))
			if err != nil {
				t.Fatal(err)
			}
			got, r, err := Refine(context.Background(), then, now, start)
			if err != nil {
				t.Fatal(err)
			}
			before, after := cornerError(start, c.truth, sceneW, sceneH), cornerError(got, c.truth, sceneW, sceneH)
			found, f, err := Find(context.Background(), then, now)
			if err != nil {
				t.Fatal(err)
			}
			alone := cornerError(found, c.truth, sceneW, sceneH)
			t.Logf("%s, %-22s marks %.1f px, refined %.1f px, %v; found %.1f px, %v (correlation %.2f)", v.name, c.name, before, after, r.Accepted, alone, f.Accepted, f.CorrelationAfter)
			if r.Accepted && after > v.bound || !r.Accepted && got != start {
				t.Errorf("%s, %s: refined to %.2f px from %.2f", v.name, c.name, after, before)
			}
			if f.Accepted && alone > v.bound {
				t.Errorf("%s, %s: found %.2f px beside and accepted", v.name, c.name, alone)
			}
		}
	}
}

// TestFindUnrelated: other parts on other ground must not be laid upon one
// another, although both show a tube that runs the same way.
func TestFindUnrelated(t *testing.T) {
	var all []*image.Gray
	for i, s := range []scene{{texture: 45, tubeGrain: 12, highlight: -0.3}, {texture: 30, tubeGrain: 6, highlight: 0, seed: 40}, {texture: 8, tubeGrain: 20, highlight: 0.2, seed: 80}} {
		all = append(all, s.photo(turned(float64(4*i), 1, 0, 0, 0), 0.5, 0.3, 0, 4, uint64(i)))
	}
	for i, then := range all[:2] {
		now := all[i+1]
		got, r, err := Find(context.Background(), then, now)
		if err != nil {
			t.Fatal(err)
		}
		t.Logf("correlation %.2f, overlap %.2f", r.CorrelationAfter, r.Overlap)
		if r.Accepted || cornerError(got, same, 504, 378) > 1e-9 || r.Why == "" {
			t.Errorf("photos %d and %d: accepted %v with %.2f", i, i+1, r.Accepted, r.CorrelationAfter)
		}
	}
}

// TestOtherSizes: the photos may differ in size, and Rescaled carries the
// transform to the originals.
func TestOtherSizes(t *testing.T) {
	truth := changes[1].truth
	then, now := rich.photo(same, 0.8, 0, 0, 3, 1), later(rich).photo(truth, 0.5, 0.3, 0, 3, 2)
	got, r, err := Find(context.Background(), then, now)
	if err != nil || !r.Accepted {
		t.Fatal(r, err)
	}
	if e := cornerError(Rescaled(got, 1/0.8, 1/0.5), truth, sceneW, sceneH); e > 1 {
		t.Errorf("%.2f pixels beside", e)
	}
	if e := cornerError(Rescaled(truth, 1, 1), truth, sceneW, sceneH); e > 1e-9 {
		t.Errorf("rescaled by 1: %v", e)
	}
}

func TestRefineRefuses(t *testing.T) {
	g := rich.photo(same, 0.3, 0, 0, 3, 1)
	ctx := context.Background()
	for name, start := range map[string]Transform{"zero": {}, "not a number": {0: math.NaN(), 4: 1, 8: 1}, "mirror": {0: -1, 2: 300, 4: 1, 8: 1}, "horizon": {0: 1, 4: 1, 6: -0.01, 8: 1}} {
		if got, r, err := Refine(ctx, g, g, start); err == nil || r.Accepted || got[0] != start[0] && !math.IsNaN(start[0]) {
			t.Errorf("%s: %v, %v", name, r, err)
		}
	}
	for name, small := range map[string]*image.Gray{"none": nil, "empty": image.NewGray(image.Rectangle{}), "small": image.NewGray(image.Rect(0, 0, 900, 47))} {
		if _, _, err := Refine(ctx, g, small, same); err == nil {
			t.Errorf("%s: no error", name)
		}
		if _, _, err := Find(ctx, small, g); err == nil {
			t.Errorf("%s: found", name)
		}
	}
	flat := image.NewGray(image.Rect(0, 0, 300, 200))
	for _, other := range []*image.Gray{g, flat} {
		if got, r, err := Refine(ctx, flat, other, same); err != nil || r.Accepted || got != same {
			t.Errorf("flat: %+v, %v", r, err)
		}
		if _, r, err := Find(ctx, other, flat); err != nil || r.Accepted {
			t.Errorf("flat: found %+v, %v", r, err)
		}
	}
	if got, r, err := Refine(ctx, g, g, Transform{1, 0, 9000, 0, 1, 0, 0, 0, 1}); err != nil || r.Accepted || got[2] != 9000 {
		t.Errorf("beside one another: %+v, %v", r, err)
	}
	if _, r, err := Refine(ctx, g, g, same); err != nil || r.Accepted || r.CorrelationBefore < 0.999 {
		t.Errorf("the same photo: %+v, %v", r, err)
	}
}

func TestCancelled(t *testing.T) {
	g := rich.photo(same, 0.5, 0, 0, 3, 1)
	ctx, cancel := context.WithTimeout(context.Background(), time.Millisecond)
	defer cancel()
	<-ctx.Done()
	if _, r, err := Refine(ctx, g, g, turned(1, 1, 0, 0, 0)); !errors.Is(err, context.DeadlineExceeded) || r.Accepted {
		t.Errorf("refine: %v, %v", r, err)
	}
	if _, r, err := Find(ctx, g, g); !errors.Is(err, context.DeadlineExceeded) || r.Accepted {
		t.Errorf("find: %v, %v", r, err)
	}
}

// TestLandmarksExact: marks made by a transform of the kind fitted give that
// transform back.
func TestLandmarksExact(t *testing.T) {
	at := []scale.Point{{X: 100, Y: 80}, {X: 900, Y: 150}, {X: 700, Y: 700}, {X: 120, Y: 600}, {X: 500, Y: 300}, {X: 333, Y: 444}}
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(2, len(at)).Draw(t, "n")
		draw := func(name string, lo, hi float64) float64 { return rapid.Float64Range(lo, hi).Draw(t, name) }
		truth := turned(draw("turn", -180, 180), draw("zoom", 0.2, 5), draw("x", -500, 500), draw("y", -500, 500), 0)
		if n == 3 {
			truth = times(Transform{1, draw("shear", -0.5, 0.5), 0, 0, draw("squeeze", 0.5, 2), 0, 0, 0, 1}, truth)
		}
		if n >= 4 {
			truth = times(truth, turned(0, 1, 0, 0, draw("tilt", -30, 30)))
		}
		got, residual, err := Landmarks(clicks(truth, at[:n], 0, 0))
		if err != nil {
			t.Fatal(err)
		}
		if e := cornerError(got, truth, sceneW, sceneH); e > 1e-4 || residual > 1e-5 {
			t.Fatalf("%d marks: %v pixels beside, residual %v", n, e, residual)
		}
	})
}

func TestLandmarksRefuses(t *testing.T) {
	p := func(v ...float64) (out []Pair) { // now x, y, then x, y
		for i := 0; i+3 < len(v); i += 4 {
			out = append(out, Pair{Now: scale.Point{X: v[i], Y: v[i+1]}, Then: scale.Point{X: v[i+2], Y: v[i+3]}})
		}
		return out
	}
	for name, pairs := range map[string][]Pair{
		"none":          nil,
		"one":           p(1, 1, 2, 2),
		"one place":     p(1, 1, 2, 2, 1, 1, 9, 9),
		"one place now": p(1, 1, 2, 2, 5, 1, 2, 2),
		"on one line":   p(0, 0, 0, 0, 10, 10, 10, 10, 20, 20, 20, 20),
		"mirrored":      p(0, 0, 100, 0, 100, 0, 0, 0, 0, 100, 100, 100),
		"four, mirror":  p(0, 0, 100, 0, 100, 0, 0, 0, 100, 100, 0, 100, 0, 100, 100, 100),
		"crossed":       p(0, 0, 0, 0, 100, 0, 100, 100, 100, 100, 100, 0, 0, 100, 0, 100),
		"three of four": p(0, 0, 0, 0, 10, 0, 10, 0, 20, 0, 20, 0, 5, 9, 5, 9),
		"no number":     p(0, 0, 0, 0, math.NaN(), 0, 10, 0),
		"infinite":      p(0, 0, 0, 0, 5, 0, math.Inf(1), 0),
		"too many":      make([]Pair, MaxPairs+1),
	} {
		if got, _, err := Landmarks(pairs); err == nil {
			t.Errorf("%s: %v", name, got)
		}
	}
}

// TestResidual: more marks than needed tell their own error. Of n marks with
// an error of sigma along each axis on then, the residual has the mean square
// 2 sigma^2 (1 - 8/2n) to first order (least squares theory).
func TestResidual(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 3))
	const n, sigma, rounds = 12, 2.0, 200
	var sum float64
	for range rounds {
		var pairs []Pair
		for range n {
			now := scale.Point{X: 1000 * r.Float64(), Y: 700 * r.Float64()}
			pairs = append(pairs, Pair{Now: now, Then: scale.Point{X: now.X + sigma*r.NormFloat64(), Y: now.Y + sigma*r.NormFloat64()}})
		}
		_, residual, err := Landmarks(pairs)
		if err != nil {
			t.Fatal(err)
		}
		sum += residual * residual / rounds
	}
	if want := 2 * sigma * sigma * (1 - 8./(2*n)); math.Abs(sum-want) > 0.12*want {
		t.Errorf("mean square %.2f, want %.2f", sum, want)
	}
}
