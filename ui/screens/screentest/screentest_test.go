package screentest

import (
	"testing"

	"forkwear/inspect"
)

func TestVisitsHaveAPast(t *testing.T) {
	env := Env(t)
	c := Open(t, env, Visit(t, env))
	if len(c.Earlier) != 2 || len(c.Tray()) != 2 || c.Claim.Hours != 318 {
		t.Fatalf("earlier visits %d, tray %d, hours %g; want 2, 2, 318", len(c.Earlier), len(c.Tray()), c.Claim.Hours)
	}
	if _, ok := c.LastOf("seals.weep", inspect.Left, ""); !ok {
		t.Fatal("the left wiper has no earlier reading")
	}
	k, _ := env.Desk.Catalog.Check("seals.weep")
	tr, err := env.Desk.Trend(t.Context(), c, k, inspect.Left)
	if err != nil || tr == nil || len(tr.Points) != 3 {
		t.Fatalf("trend of the left wiper: %+v, %v; want 3 points", tr, err)
	}
	if _, _, row, then, now := c.ThenAndNow("seals.weep", inspect.Left); !then || !now || row.Hours != 212 {
		t.Fatalf("then %v at %g h, now %v; want a photo of both, then at 212 h", then, row.Hours, now)
	}
}

func TestDecidedFindsTheFailingWiper(t *testing.T) {
	env := Env(t)
	c := Open(t, env, Decided(t, env))
	for _, a := range c.Assessments {
		if a.Part == "wiper" && a.Leg == inspect.Left && a.InForce() == inspect.Replace {
			return
		}
	}
	t.Fatal("the left wiper, graded 3 with limit 3, is not to be replaced")
}

func TestCollectedIsLocked(t *testing.T) {
	env := Env(t)
	c := Open(t, env, Visit(t, env))
	old := c.Earlier[0].Row.Visit.ID
	err := Lib(env).AddReadings(t.Context(), inspect.Reading{ID: "x", VisitID: old, Check: "seals.weep", Stage: inspect.Received, Answer: inspect.Fine, At: Now})
	if inspect.CodeOf(err) != inspect.Locked {
		t.Fatalf("a reading on a collected visit: %v, want locked", err)
	}
}
