package patterns

import (
	"testing"
	"time"

	"forkwear/inspect"
	"forkwear/inspect/life"
	"forkwear/ui/place"
	"forkwear/ui/screens/screentest"
)

// Counts by hand from the fittings below: a seal kit is wipers and foam rings
// of both legs and is bought once; what the fork came with was not bought here.
func TestStockCountsWhatIsSold(t *testing.T) {
	env := screentest.Env(t)
	s := New(env, place.Where{Name: place.Patterns}).(*Screen)
	now := time.Date(2026, 11, 25, 9, 0, 0, 0, time.UTC)
	s.data = loaded{fittings: map[string]fitted{}, ended: map[spot]bool{}}
	n := 0
	put := func(visit inspect.ID, part string, leg inspect.Leg, day time.Time, renewed bool) {
		n++
		f := inspect.Fitting{ForkID: "f1", Part: part, Leg: leg, FittedVisit: visit, FittedOn: day}
		s.data.fittings[string(rune('a'+n))] = fitted{life: life.Fitting{}, at: f, fork: inspect.Fork{ID: "f1"}}
		if renewed {
			s.data.ended[spot{"f1", part, leg, visit}] = true
		}
	}
	for _, part := range []string{"wiper", "foam_ring"} {
		for _, leg := range []inspect.Leg{inspect.Left, inspect.Right} {
			put("v1", part, leg, now.AddDate(0, -2, 0), true)
			put("v2", part, leg, now.AddDate(0, -2, 3), true)
			put("v0", part, leg, now.AddDate(0, -3, 0), false) // as it came
			put("v9", part, leg, now.AddDate(-2, 0, 0), true)  // too long ago
		}
	}
	got := s.sold(now)
	if len(got) != 1 || got[0].times != 2 || got[0].most != 2 || got[0].forks != 1 || !got[0].last.Equal(now.AddDate(0, -2, 3)) {
		t.Fatalf("%+v", got)
	}
	if kit, _ := env.Desk.Catalog.Kit("seal_kit"); got[0].name != kit.Name {
		t.Errorf("sold as %q, want %q", got[0].name, kit.Name)
	}
}
