package settings

import (
	"testing"

	"forkwear/inspect/shop"
	"forkwear/ui/screens/screentest"
)

// Amounts as people type them, in minor units by hand.
func TestPriceAsTyped(t *testing.T) {
	for text, want := range map[string]string{"": "", "12": "1200", "12.5": "1250", "12.50": "1250", "12,50": "1250", "0": "0", "0,99": "99"} {
		if got, err := readPrice(text); err != nil || got != want {
			t.Errorf("%q: %q, %v, want %q", text, got, err, want)
		}
	}
	for _, text := range []string{"1.250", "12,505", "twelve", "-3", "99999999999", "NaN", "1e99", "12 EUR net"} {
		if got, err := readPrice(text); err == nil {
			t.Errorf("%q was read as %q", text, got)
		}
	}
}

func TestEveryPriceHasItsField(t *testing.T) {
	env := screentest.Env(t)
	s := open(t, env)
	for _, k := range shop.PriceKeys(env.Desk.Catalog) {
		if s.entries[k.Key] == nil {
			t.Errorf("%s has no field", k.Key)
		}
	}
}

// A price is kept when its field is left; work without a price shows what its
// minutes come to: 60 minutes of a lowers service at 1.10.
func TestPricesAreKept(t *testing.T) {
	env := screentest.Env(t)
	s := open(t, env)
	leave(env, s, "price.kit.seal_kit", "42,50")
	if got := kept1(t, env, "price.kit.seal_kit"); got != "4250" {
		t.Errorf("kept as %q", got)
	}
	if got := s.entries["price.job.lowers_service"].PlaceHolder; got != "not set" {
		t.Errorf("without a rate the field says %q", got)
	}
	leave(env, s, "rules.minute_rate", "1,10")
	if got := s.entries["price.job.lowers_service"].PlaceHolder; got != "66.00" {
		t.Errorf("the field says %q, want 66.00", got)
	}
	leave(env, s, "minutes.job.lowers_service", "50")
	if got := s.entries["price.job.lowers_service"].PlaceHolder; got != "55.00" {
		t.Errorf("the field says %q, want 55.00", got)
	}
	leave(env, s, "price.kit.coil", "much")
	if e := s.entries["price.kit.coil"]; !e.refused.Visible() || kept1(t, env, "price.kit.coil") != "" {
		t.Error("a word was taken for a price")
	}
}

func TestTheKeyLeadsToThePrices(t *testing.T) {
	env := screentest.Env(t)
	s := open(t, env)
	s.toPrices()
	if y := s.page.Offset.Y; y <= 0 || y > s.prices.box.Position().Y+1 {
		t.Errorf("scrolled to %g, the prices stand at %g", y, s.prices.box.Position().Y)
	}
}
