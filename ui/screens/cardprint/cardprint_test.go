package cardprint

import (
	"context"
	"math"
	"testing"

	"forkwear/inspect"
	"forkwear/ui/screens/screentest"
)

// A line of 98.5 mm of 100 mm is 98.5 % (arithmetic).
func TestFactor(t *testing.T) {
	ctx := context.Background()
	lib := screentest.Env(t).Desk.Lib
	if f, err := Factor(ctx, lib); err != nil || f != 1 {
		t.Fatalf("nothing kept: %v %v", f, err)
	}
	kept, err := FromLine(98.5)
	if err != nil || Line(kept) != "98.5" {
		t.Fatalf("%q %q %v", kept, Line(kept), err)
	}
	if err := lib.PutPreference(ctx, Key, kept); err != nil {
		t.Fatal(err)
	}
	if f, err := Factor(ctx, lib); err != nil || math.Abs(f-0.985) > 1e-12 {
		t.Fatalf("%v %v", f, err)
	}
	if kept, err := FromLine(100); err != nil || kept != "" || Line("") != "" {
		t.Errorf("a true print keeps %q, %v", kept, err)
	}
	for _, mm := range []float64{0, -98, 84.9, 115.1, math.NaN(), math.Inf(1)} {
		if kept, err := FromLine(mm); err == nil {
			t.Errorf("%v mm keeps %q", mm, kept)
		}
	}
	for _, kept := range []string{"x", "NaN", "0", "98.5", "-1"} {
		if f, err := Parse(kept); f != 1 || inspect.CodeOf(err) != inspect.Invalid {
			t.Errorf("%q: %v %v", kept, f, err)
		}
	}
}
