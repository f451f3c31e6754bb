package report

import (
	"testing"

	"forkwear/inspect"
	"forkwear/inspect/catalog"
	"forkwear/inspect/shop"
)

// The amounts are inputs; sums by hand: 108.00 + 4.00 = 112.00, and what was
// declined stays out.
func TestCostsAreToldOnceWithTheirSum(t *testing.T) {
	part := func(id inspect.ID, v inspect.Verdict) shop.JobPart {
		return shop.JobPart{Assessment: inspect.Assessment{ID: id, Verdict: v}}
	}
	eur := func(minor int64) shop.Amount { return shop.Amount{Money: inspect.Money{Minor: minor, Currency: "EUR"}} }
	washers := shop.SoldKit{Kit: catalog.Kit{ID: "w", Name: "Crush washers"}}
	s := Source{Story: &shop.Story{Case: &shop.Case{}}, Jobs: []shop.Job{
		{Key: "kit:s", Name: "Seal kit", Verdict: inspect.Replace, Price: eur(10800), Parts: []shop.JobPart{part("a", inspect.Replace), part("b", inspect.Replace)}},
		{Key: "level", Name: "Lowers service", Level: true, Shared: "Seal kit", Kits: []shop.SoldKit{washers}, Verdict: inspect.Replace, Price: eur(400), Parts: []shop.JobPart{part("d", inspect.Replace)}},
		{Key: "part:x", Name: "Axle", Verdict: inspect.Replace, Price: eur(9900), Answer: &inspect.Consent{Accepted: false}, Parts: []shop.JobPart{part("f", inspect.Replace)}},
		{Key: "part:y", Name: "Lowers", Verdict: inspect.Reuse, Parts: []shop.JobPart{part("c", inspect.Reuse)}},
	}}
	for id, want := range map[inspect.ID]string{"a": "in: Seal kit", "b": "in: Seal kit", "d": "in: Crush washers (always renewed)", "gone": ""} {
		if got := sold(s, shop.Line{Assessment: inspect.Assessment{ID: id, Verdict: inspect.Replace}}); got != want {
			t.Errorf("%s: %q, want %q", id, got, want)
		}
	}
	rows, total := costs(s)
	if len(rows) != 3 || rows[1].Name != "Crush washers (always renewed)" || rows[1].Holds != "parts; the work is in the line “Seal kit”" || even(rows[1].Price) != "4.00 EUR" {
		t.Errorf("%+v", rows)
	}
	if total.Name != "Together, without what you declined" || even(total.Value) != "112.00 EUR" {
		t.Errorf("%+v", total)
	}
	s.Story.Case.Visit.Package = inspect.Money{Minor: 9000, Currency: "EUR"}
	s.Jobs[0].Included, s.Jobs[0].Price = true, shop.Amount{}
	s.Jobs[1].Price.Unknown = 1
	rows, total = costs(s)
	if even(total.Value) != "from 94.00 EUR" || rows[1].Price != "in the agreed price" {
		t.Errorf("with a package: %+v, %+v", rows, total)
	}
}

func TestBothLegsAreNamedOnce(t *testing.T) {
	got := bothLegs([]string{"Foam ring, left", "Axle", "Foam ring, right", "Air shaft, left"})
	if len(got) != 3 || got[0] != "Foam ring" || got[1] != "Axle" || got[2] != "Air shaft, left" {
		t.Errorf("%q", got)
	}
}
