package words

import (
	"strings"
	"testing"

	"forkwear/inspect"
	"forkwear/inspect/shop"
)

func TestStays(t *testing.T) {
	used, over := 0.7, 1.1
	for _, c := range []struct {
		a    inspect.Assessment
		want string
	}{
		// product.md's own example of a chance: one in four.
		{inspect.Assessment{WearUsed: &used, PThen: .25, Horizon: 60}, "about one chance in four that it is worn out before the next service"},
		{inspect.Assessment{WearUsed: &used, PThen: .25, Horizon: 60, DoNotRide: true}, "do not ride"},
		{inspect.Assessment{WearUsed: &over, PThen: .99, Horizon: 60}, "past its limit"},
		{inspect.Assessment{Verdict: inspect.Replace}, "stays as it is"},
		{inspect.Assessment{Verdict: inspect.Measure}, "before it is looked at again"},
		{inspect.Assessment{WearUsed: &used, PThen: .25, Horizon: 60, NoTrend: true, Verdict: inspect.Reuse}, "nothing speaks against it"},
	} {
		if got := StaysBeside(c.a, "It leaks."); got != Stays(c.a) {
			t.Errorf("beside another sentence: %q", got)
		}
		if got := Stays(c.a); !strings.Contains(got, c.want) || strings.Contains(got, "median") {
			t.Errorf("%q, want %q in it", got, c.want)
		}
	}
}

func TestAChanceIsToldOnce(t *testing.T) {
	used := 0.7
	a := inspect.Assessment{WearUsed: &used, PThen: .25, Horizon: 60}
	if got := StaysBeside(a, "About one chance in four that it is worn out before the next service in 60 h."); got != "" {
		t.Errorf("told twice: %q", got)
	}
	a.DoNotRide = true
	if got := StaysBeside(a, "About one chance in four that it is worn out."); got != Stays(a) {
		t.Errorf("the warning not to ride is gone: %q", got)
	}
}

func TestAmount(t *testing.T) {
	eur := func(n int64) inspect.Money { return inspect.Money{Minor: n, Currency: "EUR"} }
	for want, a := range map[string]shop.Amount{
		"nothing more":         {Money: eur(0)},
		"ask us for the price": {Money: eur(0), Unknown: 2},
		"not set yet":          {Money: eur(990), Unknown: 1},
		"9.90":                 {Money: eur(990)},
	} {
		if got := Amount(a); !strings.Contains(got, want) {
			t.Errorf("%q, want %q in it", got, want)
		}
	}
}

func TestSignedBy(t *testing.T) {
	if got := SignedBy(" ", true); got != "" {
		t.Errorf("nobody signed: %q", got)
	}
	if got := SignedBy("Ada", true); got != "signed by Ada on paper" {
		t.Error(got)
	}
}
