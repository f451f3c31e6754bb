package shop

import (
	"reflect"
	"slices"
	"sort"
	"testing"

	"pgregory.net/rapid"

	"forkwear/inspect"
	"forkwear/inspect/verdict"
)

// decidedWiper is a look-over with a worn left wiper, decided. The visit before
// makes the wiper a part that was in.
func decidedWiper(t *testing.T) (*bench, *Case) {
	t.Helper()
	b := newBench(t)
	b.visit("look_over", 10)
	c := b.days(60).visit("look_over", 200)
	b.say(c, "seals.weep", inspect.Left, inspect.Received, inspect.Graded, 4)
	b.must(b.desk.Decide(ctx, c, verdict.Rules{}))
	return b, c
}

// The three answers below are taken back one after the other: no, yes, none.
func TestAnswersAreTakenBackOneAfterTheOther(t *testing.T) {
	b, c := decidedWiper(t)
	answer := func(yes bool, by string) []inspect.Consent {
		b.days(1)
		ks, err := b.desk.AnswerJob(ctx, c, b.desk.Jobs(c, c.Assessments, priced), "kit:seal_kit", inspect.Consent{Accepted: yes, By: by, How: "phone"})
		b.must(err)
		return ks
	}
	says := func(what string, c *Case, yes, answered bool, by string) {
		t.Helper()
		j := find(t, b.desk.Jobs(c, c.Assessments, priced), "kit:seal_kit")
		gotYes, got := j.Answered()
		if got != answered || gotYes != yes || answered && j.Answer.By != by {
			t.Errorf("%s: yes %v, answered %v, %+v; want %v, %v by %q", what, gotYes, got, j.Answer, yes, answered, by)
		}
	}
	first, second := answer(true, "A. Rider"), answer(false, "B. Rider")
	says("second", c, false, true, "B. Rider")
	if err := b.desk.TakeAnswersBack(ctx, c, first...); inspect.CodeOf(err) != inspect.Conflict {
		t.Errorf("an answer below a later one was taken back: %v", err)
	}
	b.must(b.desk.TakeAnswersBack(ctx, c, second...))
	says("second taken back", c, true, true, "A. Rider")
	b.must(b.desk.TakeAnswersBack(ctx, c, first...))
	says("first taken back", c, false, false, "")
	says("read anew", b.open(c.Visit.ID), false, false, "")
	if err := b.desk.TakeAnswersBack(ctx, c, first...); inspect.CodeOf(err) != inspect.Conflict {
		t.Errorf("an answer was taken back twice: %v", err)
	}
	kept := b.open(c.Visit.ID).Consents
	if len(kept) != 2*(len(first)+len(second)) || kept[len(kept)-1].How != inspect.TakenBack || kept[len(kept)-1].By != "Ruth" {
		t.Errorf("on record %+v: want each answer and each taking back", kept)
	}
}

// A signature covers the answers that it was given under: one that was given
// after it and taken back changes nothing.
func TestSignatureAndTakingBack(t *testing.T) {
	b, c := decidedWiper(t)
	a := c.Assessments[0]
	b.must(b.desk.Consent(ctx, c, a, true, "A. Rider", "here", ""))
	signed, err := b.desk.Sign(ctx, c, "A. Rider", "signed on paper", nil, "all")
	b.must(err)
	b.must(b.desk.Consent(ctx, c, a, false, "A. Rider", "here", ""))
	stale := func() bool { _, s, _ := c.Signed(); return s }
	if !stale() {
		t.Error("another answer, and the signature still covers it")
	}
	b.must(b.desk.TakeAnswersBack(ctx, c, c.Consents[len(c.Consents)-1]))
	if stale() {
		t.Error("the answers are those that were signed, and the signature counts as stale")
	}
	b.must(b.desk.TakeAnswersBack(ctx, c, signed))
	if _, _, ok := c.Signed(); ok {
		t.Error("the signature was taken back and still stands")
	}
}

// Undo of a chain of answers leaves what a chain without them leaves.
func TestAnswers_TakingBackIsAStack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var all, want []inspect.Consent
		for i, n := range rapid.SliceOfN(rapid.IntRange(0, 5), 0, 12).Draw(t, "steps") {
			line := inspect.ID([]string{"a", "b", "a", "b", "a", "b"}[n])
			if n < 4 {
				k := inspect.Consent{ID: inspect.ID(rune('0' + i)), AssessmentID: line, How: "phone"}
				all, want = append(all, k), append(want, k)
				continue
			}
			all = append(all, inspect.Consent{ID: "back", AssessmentID: line, How: inspect.TakenBack})
			for j := len(want) - 1; j >= 0; j-- {
				if want[j].AssessmentID == line {
					want = slices.Delete(want, j, j+1)
					break
				}
			}
		}
		if got := inspect.Answers(all); !slices.EqualFunc(got, want, func(a, b inspect.Consent) bool { return a.ID == b.ID }) {
			t.Fatalf("in force %v, want %v", got, want)
		}
	})
}

func TestOverridesAreTakenBackOneAfterTheOther(t *testing.T) {
	b, c := decidedWiper(t)
	at := slices.IndexFunc(c.Assessments, func(a inspect.Assessment) bool { return a.Part == "wiper" && a.Leg == inspect.Left })
	now := func() inspect.Assessment { return c.Assessments[at] }
	b.must(b.desk.Override(ctx, c, now(), inspect.Reuse, "one"))
	b.must(b.desk.Override(ctx, c, now(), inspect.Measure, "two"))
	b.must(b.desk.TakeOverrideBack(ctx, c, now()))
	if now().InForce() != inspect.Reuse || now().Override.Reason != "one" {
		t.Errorf("in force %s, want reuse, as the first change said", now().InForce())
	}
	b.must(b.desk.TakeOverrideBack(ctx, c, now()))
	if now().Override != nil || now().InForce() != inspect.Replace {
		t.Errorf("in force %s, want replace, as reckoned", now().InForce())
	}
	if err := b.desk.TakeOverrideBack(ctx, c, now()); inspect.CodeOf(err) != inspect.Conflict {
		t.Errorf("nothing was left to take back: %v", err)
	}
}

// A fitting that is taken back leaves the parts, the readings in force and the
// trend as they were; a reading after the work goes back onto the old part.
func TestFittingIsTakenBack(t *testing.T) {
	b, c := decidedWiper(t)
	after := b.say(c, "seals.weep", inspect.Left, inspect.AfterWork, inspect.Graded, 1)
	before := sorted(c.Fittings)
	fitted, err := b.desk.FitNew(ctx, c, Renewal{Part: "wiper", Leg: inspect.Left, Batch: "L-7"})
	b.must(err)
	if len(fitted) != 4 || fitted[0].Part != "wiper" || fitted[0].Leg != inspect.Left { // two wipers, two foam rings: the seal kit
		t.Fatalf("fitted %+v, want the left wiper and three mates of its kit", fitted)
	}
	for _, f := range c.Fittings {
		if f.EndVisit == c.Visit.ID {
			if want := map[bool]inspect.EndReason{true: inspect.EndWorn, false: inspect.EndSchedule}[f.Part == "wiper" && f.Leg == inspect.Left]; f.End != want {
				t.Errorf("%s %s ended as %q, want %q", f.Part, f.Leg, f.End, want)
			}
		}
		if f.FittedVisit == c.Visit.ID && f.Batch != "L-7" {
			t.Errorf("%s %s has batch %q", f.Part, f.Leg, f.Batch)
		}
	}
	if on := c.Current[after.Slot()].FittingID; on != fitted[0].ID {
		t.Fatalf("the reading after the work lies on %q, want the new part", on)
	}
	b.days(1)
	b.must(b.desk.TakeFittedBack(ctx, c, fitted...))
	for what, c := range map[string]*Case{"at once": c, "read anew": b.open(c.Visit.ID)} {
		if got := sorted(c.Fittings); !reflect.DeepEqual(got, before) {
			t.Errorf("%s: parts\n%+v\nwant those before the work\n%+v", what, got, before)
		}
		if c.Renewed("wiper", inspect.Left) {
			t.Errorf("%s: the wiper still counts as renewed", what)
		}
		if r := c.Current[after.Slot()]; r.FittingID != after.FittingID || r.Value != 1 {
			t.Errorf("%s: the reading after the work lies on %q, want the old part", what, r.FittingID)
		}
	}
	if err := b.desk.TakeFittedBack(ctx, c, fitted...); inspect.CodeOf(err) != inspect.Conflict {
		t.Errorf("taken back twice: %v", err)
	}
	again, err := b.desk.FitDecided(ctx, c)
	if err != nil || len(again) != 4 {
		t.Errorf("%d fitted after the undo, %v: want the same four", len(again), err)
	}
}

func sorted(fs []inspect.Fitting) []inspect.Fitting {
	fs = slices.Clone(fs)
	sort.Slice(fs, func(i, j int) bool { return fs[i].ID < fs[j].ID })
	return fs
}

// A part that was not known before: its place is empty again, and a reading
// after the work lies on no part.
func TestFittingWithoutAnOldPartIsTakenBack(t *testing.T) {
	b, c := decidedWiper(t)
	b.lib.fittings = slices.DeleteFunc(b.lib.fittings, func(f inspect.Fitting) bool { return f.Part == "wiper" })
	c = b.open(c.Visit.ID)
	fitted, err := b.desk.FitNew(ctx, c, Renewal{Part: "wiper", Leg: inspect.Left})
	b.must(err)
	r := b.say(c, "seals.weep", inspect.Left, inspect.AfterWork, inspect.Graded, 0)
	if r.FittingID != fitted[0].ID {
		t.Fatalf("read on %q", r.FittingID)
	}
	b.must(b.desk.TakeFittedBack(ctx, c, fitted...))
	if on := c.Current[r.Slot()].FittingID; on != "" {
		t.Errorf("the reading lies on %q, want none", on)
	}
}
