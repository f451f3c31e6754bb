package report

import (
	"testing"

	"forkwear/inspect"
	"forkwear/inspect/shop"
)

func TestPriceOfALineIsToldOnce(t *testing.T) {
	part := func(id inspect.ID, v inspect.Verdict) shop.JobPart {
		return shop.JobPart{Assessment: inspect.Assessment{ID: id, Verdict: v}}
	}
	eur := shop.Amount{Money: inspect.Money{Minor: 10800, Currency: "EUR"}}
	some := eur
	some.Unknown = 1
	s := Source{Story: &shop.Story{Case: &shop.Case{}}, Jobs: []shop.Job{
		{Name: "Seal kit", Verdict: inspect.Replace, Price: eur, Parts: []shop.JobPart{part("a", inspect.Replace), part("b", inspect.Replace), part("c", inspect.Reuse)}},
		{Name: "Full service", Verdict: inspect.Replace, Included: true, Parts: []shop.JobPart{part("d", inspect.Replace)}},
		{Name: "Bumpers", Verdict: inspect.Replace, Price: some, Parts: []shop.JobPart{part("e", inspect.Replace)}},
		{Name: "Axle", Verdict: inspect.Replace, Price: shop.Amount{Unknown: 1}, Parts: []shop.JobPart{part("f", inspect.Replace)}},
	}}
	for id, want := range map[inspect.ID]string{"a": "Seal kit, 108.00\u00a0EUR", "b": "in the price of: Seal kit", "d": "Full service, in the agreed price",
		"e": "Bumpers, from\u00a0108.00\u00a0EUR", "f": "", "gone": ""} {
		if got := price(s, shop.Line{Assessment: inspect.Assessment{ID: id, Verdict: inspect.Replace}}); got != want {
			t.Errorf("%s: %q, want %q", id, got, want)
		}
	}
	if got := price(s, shop.Line{Assessment: inspect.Assessment{ID: "c", Verdict: inspect.Reuse}}); got != "" {
		t.Errorf("what goes back in costs %q", got)
	}
}
