package shop

import (
	"context"
	"testing"

	"forkwear/inspect"
)

// Preference of the bench's library: nothing is chosen.
func (l *fake) Preference(context.Context, string) (string, error) { return "", nil }

// Sums by hand: a rate of 1.10 a minute times the planned minutes of the catalog
// (60 for a lowers service, 90 for bushings).
func TestPricesOf(t *testing.T) {
	p, err := PricesFrom(cat, map[string]string{KeyCurrency: "EUR", "rules.minute_rate": "110", "price.kit.seal_kit": "4250",
		"price.kit.bath_fluid": "0", "price.job.bushing_job": "9900", "minutes.job.lowers_service": " 50 "})
	if err != nil {
		t.Fatal(err)
	}
	if p.Currency != "EUR" {
		t.Errorf("currency %q", p.Currency)
	}
	for id, want := range map[string]int64{"seal_kit": 4250, "bath_fluid": 0, soldNothing: 0} {
		if got, ok := p.OfKit(id); !ok || got != want {
			t.Errorf("kit %s: %d, %v, want %d", id, got, ok, want)
		}
	}
	for _, id := range []string{"bolt_kit", "no such kit"} {
		if got, ok := p.OfKit(id); ok {
			t.Errorf("kit %s: %d, want no price", id, got)
		}
	}
	for id, want := range map[string]int64{"lowers_service": 5500, "bushing_job": 9900, "cap_job": 2200} {
		if got, ok := p.OfJob(id); !ok || got != want {
			t.Errorf("job %s: %d, %v, want %d", id, got, ok, want)
		}
	}
	if p.Minutes("lowers_service") != 50 || p.Minutes("bushing_job") != 90 {
		t.Errorf("minutes %d and %d", p.Minutes("lowers_service"), p.Minutes("bushing_job"))
	}
	if _, ok := (Prices{}).OfJob("cap_job"); ok {
		t.Error("the zero value knows a price")
	}
}

func TestAPriceThatCannotBeReadCountsAsNotSet(t *testing.T) {
	for key, text := range map[string]string{"price.kit.seal_kit": "12.50", "price.kit.bolt_kit": "-1", "price.job.cap_job": "1e9",
		"minutes.job.cap_job": "1441", "rules.minute_rate": "NaN", "price.kit.coil": "9999999999999999999999"} {
		p, err := PricesFrom(cat, map[string]string{key: text, "price.kit.damper_kit": "700"})
		if inspect.CodeOf(err) != inspect.Invalid {
			t.Errorf("%s=%q: %v, want it told", key, text, err)
		}
		if got, ok := p.OfKit("damper_kit"); !ok || got != 700 {
			t.Errorf("%s=%q: another price became %d, %v", key, text, got, ok)
		}
		if _, ok := p.OfKit("seal_kit"); ok {
			t.Errorf("%s=%q: a price came of it", key, text)
		}
		if p.Minutes("cap_job") != 20 { // the catalog's
			t.Errorf("%s=%q: minutes %d", key, text, p.Minutes("cap_job"))
		}
	}
}

// The price that a shop sets counts in the rules that weigh it.
func TestPriceOfAPart(t *testing.T) {
	b := newBench(t)
	c := b.visit("look_over", 10)
	p, err := PricesFrom(cat, map[string]string{"price.kit.crown_assembly": "39900"})
	b.must(err)
	part, _ := cat.Part("stanchion")
	if minor, minutes := b.desk.priceOf(c, part, p); minor != 39900 || minutes != 75 {
		t.Errorf("%d and %d minutes, want that of the crown with its tubes, 39900 and 75", minor, minutes)
	}
}
