package words

import (
	"strings"
	"testing"

	"forkwear/inspect/catalog"
	"forkwear/inspect/shop"
)

// The line of what is always renewed is named after its kits, and every price
// says whether work is in it; the wording is our own.
func TestJobSaysWhatItsPriceIsFor(t *testing.T) {
	sold := func(name string) shop.SoldKit { return shop.SoldKit{Kit: catalog.Kit{Name: name}} }
	seal := shop.Job{Key: "kit:seal", Name: "Seal kit", Kits: []shop.SoldKit{sold("Seal kit")}, Price: shop.Amount{Minutes: 60}}
	level := shop.Job{Key: "level", Name: "Lowers service", Level: true, Shared: "Seal kit", Kits: []shop.SoldKit{sold("Crush washers"), sold("Crush washers"), sold("Bath fluid")}}
	work := shop.Job{Key: "level2", Name: "Look-over", Level: true, Price: shop.Amount{Minutes: 30}}
	jobs := []shop.Job{seal, level, work}
	for _, c := range []struct {
		j           shop.Job
		name, holds string
	}{
		{seal, "Seal kit", "parts and about 1 h of work"},
		{level, "Crush washers; Bath fluid (always renewed)", "parts; the work is in the line “Seal kit”"},
		{shop.Job{Name: "Full service", Level: true, Kits: []shop.SoldKit{sold("A"), sold("B"), sold("C")}, Price: shop.Amount{Minutes: 90}},
			"Full service: what is always renewed", "A; B; C: parts and about 1 h 30 min of work"},
		{work, "Look-over", "about 30 min of work"},
		{shop.Job{Name: "Axle"}, "Axle", ""},
	} {
		if got := plainSpaces(JobName(c.j)); got != c.name {
			t.Errorf("name %q, want %q", got, c.name)
		}
		if got := plainSpaces(JobHolds(c.j, jobs)); got != c.holds {
			t.Errorf("%s holds %q, want %q", c.name, got, c.holds)
		}
	}
	seal.Shared, level.Shared = "Lowers service", ""
	if got := plainSpaces(JobHolds(seal, []shop.Job{seal, level})); got != "parts and about 1 h of work; the rest of the work is in the line “Crush washers; Bath fluid (always renewed)”" {
		t.Errorf("%q", got)
	}
}

func plainSpaces(s string) string { return strings.ReplaceAll(s, Thin, " ") }
