package shop

import (
	"slices"
	"testing"

	"forkwear/inspect"
)

// twoHeads is a case in which two benches graded the left wiper at the same
// time, neither knowing of the other.
func twoHeads(t *testing.T) (*bench, *Case, inspect.Slot, [2]inspect.Reading) {
	t.Helper()
	b := newBench(t)
	c := b.visit("look_over", 100)
	one := b.say(c, "seals.weep", inspect.Left, inspect.Received, inspect.Graded, 1)
	two := one
	two.ID, two.Value, two.By = "id9999999", 3, "Bo"
	b.must(b.lib.AddReadings(ctx, two))
	return b, b.open(c.Visit.ID), one.Slot(), [2]inspect.Reading{one, two}
}

func TestSettle(t *testing.T) {
	for i := range 2 {
		b, c, slot, heads := twoHeads(t)
		if got := c.InConflict(); len(got) != 1 || len(got[0].Heads) != 2 || got[0].Slot != slot {
			t.Fatalf("in conflict %+v", got)
		}
		b.desk.SetWho("Cleo")
		wrote, err := b.desk.Settle(ctx, c, slot, heads[i].ID)
		b.must(err)
		for what, c := range map[string]*Case{"at once": c, "read anew": b.open(c.Visit.ID)} {
			if r := c.Current[slot]; len(c.Conflicts) != 0 || r.Value != heads[i].Value || r.By != "Cleo" {
				t.Errorf("%s: %d conflicts, in force %g by %s; want none, %g by Cleo", what, len(c.Conflicts), r.Value, r.By, heads[i].Value)
			}
		}
		if _, err := b.desk.Settle(ctx, c, slot, heads[i].ID); inspect.CodeOf(err) != inspect.Conflict {
			t.Errorf("settled twice: %v", err)
		}
		// the next answer goes on from the chosen one, without a new conflict
		next := b.say(c, "seals.weep", inspect.Left, inspect.Received, inspect.Graded, 2)
		if len(c.Conflicts) != 0 || c.Current[slot].ID != next.ID {
			t.Errorf("a correction after it: %d conflicts, in force %g", len(c.Conflicts), c.Current[slot].Value)
		}
		b.must(b.desk.Undo(ctx, c, next.ID))
		for _, r := range slices.Backward(wrote) {
			b.must(b.desk.Undo(ctx, c, r.ID))
		}
		if hs := c.Conflicts[slot]; len(hs) != 2 || hs[0].Value != heads[0].Value || hs[1].Value != heads[1].Value || c.Current[slot].Value != heads[1].Value {
			t.Errorf("undone: %+v, in force %g; want the two values again as they were", hs, c.Current[slot].Value)
		}
	}
}

// Answering the check anew ends both values as well.
func TestAnswerEndsAConflict(t *testing.T) {
	b, c, slot, _ := twoHeads(t)
	rs, err := b.desk.AnswerAll(ctx, c, Answer{Check: "seals.weep", Leg: inspect.Left, Stage: inspect.Received, Answer: inspect.Graded, Value: 2})
	b.must(err)
	if len(rs) != 2 || rs[0].Value != 2 || len(c.Conflicts) != 0 || c.Current[slot].Value != 2 {
		t.Errorf("wrote %d, %d conflicts, in force %g; want 2, none, 2", len(rs), len(c.Conflicts), c.Current[slot].Value)
	}
	for _, r := range slices.Backward(rs) {
		b.must(b.desk.Undo(ctx, c, r.ID))
	}
	if len(c.Conflicts[slot]) != 2 || c.Current[slot].Value != 3 {
		t.Error("taken back, the two values should stand against each other again")
	}
}
