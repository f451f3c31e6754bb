package decide

import (
	"context"
	"strings"
	"testing"

	"forkwear/inspect"
	"forkwear/inspect/catalog"
	"forkwear/inspect/shop"
	"forkwear/ui/place"
	"forkwear/ui/screens/screentest"
	"forkwear/ui/screens/visitbar"
)

func opened(t *testing.T) (*place.Env, inspect.ID, *Screen) {
	t.Helper()
	env := screentest.Env(t)
	id := screentest.Decided(t, env)
	s := New(env, place.Where{Visit: id}).(*Screen)
	env.Window.SetContent(s.Content())
	s.Opened()
	env.Run.Wait()
	if s.data.story == nil || len(s.rows) == 0 {
		t.Fatalf("nothing shown: %v", screentest.Told(env).Failures)
	}
	return env, id, s
}

func (s *Screen) at(t *testing.T, part string, leg inspect.Leg) shop.Line {
	t.Helper()
	for _, l := range s.data.story.Lines {
		if l.Assessment.Part == part && l.Assessment.Leg == leg {
			return l
		}
	}
	t.Fatalf("no line for %s %s", part, leg)
	return shop.Line{}
}

func TestEveryLineHasItsRow(t *testing.T) {
	_, _, s := opened(t)
	if len(s.rows) != len(s.data.story.Lines) {
		t.Fatalf("%d rows for %d lines", len(s.rows), len(s.data.story.Lines))
	}
	// What was found comes before what the level renews anyway: the sample's
	// left wiper has grade 3, its limit.
	if p := s.rows[0].line.Assessment; p.Part != "wiper" && !strings.Contains(p.Part, "wiper") {
		t.Errorf("first row is %s, want the wiper that failed", p.Part)
	}
}

func TestOverrideNeedsAReason(t *testing.T) {
	env, id, s := opened(t)
	l := s.rows[0].line
	s.Override(l, inspect.Reuse, "   ")
	env.Run.Wait()
	if f := screentest.Told(env).Failures; len(f) != 1 || inspect.CodeOf(f[0]) != inspect.Invalid {
		t.Fatalf("failures %v, want one refusal", f)
	}
	if c := screentest.Open(t, env, id); overrides(c) != 0 {
		t.Fatal("an override without a reason was kept")
	}
	s.Override(l, inspect.Reuse, "customer brings a new one next week")
	env.Run.Wait()
	got := s.at(t, l.Assessment.Part, l.Assessment.Leg).Assessment
	if got.Override == nil || got.InForce() != inspect.Reuse || got.Verdict != inspect.Replace {
		t.Fatalf("in force %s, reckoned %s, override %v: want reuse over replace, both on record", got.InForce(), got.Verdict, got.Override)
	}
	s.Opened() // coming back must not decide anew over it
	env.Run.Wait()
	if got := s.at(t, l.Assessment.Part, l.Assessment.Leg).Assessment; got.Override == nil {
		t.Fatal("the override is gone after the screen was opened again")
	}
}

func overrides(c *shop.Case) int {
	n := 0
	for _, a := range c.Assessments {
		if a.Override != nil {
			n++
		}
	}
	return n
}

func TestAnswerIsKeptOverAnotherVisitOfTheScreen(t *testing.T) {
	env, id, s := opened(t)
	l := s.rows[0].line
	s.Answer(l, true, "", "here")
	if len(screentest.Told(env).Failures) != 1 {
		t.Fatal("an answer of nobody was taken")
	}
	s.Answer(l, true, "First Customer", "phone")
	env.Run.Wait()
	c := screentest.Open(t, env, id)
	if len(c.Consents) != 1 || !c.Consents[0].Accepted || c.Consents[0].How != "phone" || c.Consents[0].AssessmentID != l.Assessment.ID {
		t.Fatalf("consents %+v", c.Consents)
	}
	s.Opened()
	env.Run.Wait()
	if s.at(t, l.Assessment.Part, l.Assessment.Leg).Consent == nil {
		t.Fatal("the answer is gone after the screen was opened again")
	}
}

func TestAChangedReadingIsDecidedAnew(t *testing.T) {
	env, id, s := opened(t)
	l := s.rows[0].line
	c := screentest.Open(t, env, id)
	if _, err := env.Desk.Answer(context.Background(), c, shop.Answer{Check: l.Lead.ID, Leg: l.Assessment.Leg,
		Stage: inspect.Received, Answer: inspect.Graded, Value: 4}); err != nil {
		t.Fatal(err)
	}
	s.Opened()
	env.Run.Wait()
	if got := s.at(t, l.Assessment.Part, l.Assessment.Leg).Assessment; got.ID == l.Assessment.ID {
		t.Fatal("the decision stands on a reading that was corrected")
	}
}

func TestOpenRowShowsOneAtATime(t *testing.T) {
	_, _, s := opened(t)
	s.OpenRow(0)
	s.OpenRow(1)
	if s.rows[0].inside.Visible() || !s.rows[1].inside.Visible() {
		t.Fatal("want the second row open alone")
	}
	s.OpenRow(1)
	s.OpenRow(99)
	if s.rows[1].inside.Visible() {
		t.Fatal("a second press should close the row")
	}
}

func TestGoOnMovesTheVisit(t *testing.T) {
	env, id, s := opened(t)
	s.GoOn()
	env.Run.Wait()
	if v := screentest.Open(t, env, id).Visit; v.Step != inspect.StepService {
		t.Fatalf("step %s, want service", v.Step)
	}
	gone := screentest.Told(env).Gone
	if len(gone) != 1 || gone[0].Name != place.Service || gone[0].Visit != id {
		t.Fatalf("went to %+v", gone)
	}
}

func TestReportGoesByItsEnding(t *testing.T) {
	env, id, _ := opened(t)
	visitbar.WriteReport(env, id, "/tmp/a.txt")
	visitbar.WriteReport(env, id, "/tmp/a.PDF")
	env.Run.Wait()
	told := screentest.Told(env)
	if len(told.Reports) != 1 || told.Reports[0] != "/tmp/a.PDF" || len(told.Failures) != 1 {
		t.Fatalf("reports %v, failures %v", told.Reports, told.Failures)
	}
}

// Sums by hand: one kit of 4200 for two parts, one part of 1500 for each leg.
func TestTotalsCountAKitOnce(t *testing.T) {
	kit := catalog.Kit{ID: "k", Kind: "kit", Price: 4200, Job: "j"}
	one := catalog.Kit{ID: "p", Kind: "part", Price: 1500, Job: "j"}
	line := func(k catalog.Kit, leg inspect.Leg, yes *bool) shop.Line {
		l := shop.Line{Kit: k, Assessment: inspect.Assessment{Verdict: inspect.Replace, Leg: leg}}
		if yes != nil {
			l.Consent = &inspect.Consent{Accepted: *yes}
		}
		return l
	}
	yes, no := true, false
	lines := []shop.Line{line(kit, inspect.Left, &yes), line(kit, inspect.Right, &no), line(one, inspect.Left, &yes),
		line(one, inspect.Right, nil), line(catalog.Kit{}, inspect.Whole, nil),
		{Kit: kit, Assessment: inspect.Assessment{Verdict: inspect.Reuse}}}
	got := TotalsOf(lines, "EUR", func(job string) int { return map[string]int{"j": 40}[job] })
	want := Totals{Parts: 5, Answered: 3, Accepted: 2, All: inspect.Money{Minor: 7200, Currency: "EUR"},
		Yes: inspect.Money{Minor: 5700, Currency: "EUR"}, NoPrice: 1, Minutes: 40}
	if got != want {
		t.Fatalf("got %+v, want %+v", got, want)
	}
	if s := got.String(); !strings.Contains(s, "72.00 EUR") || !strings.Contains(s, "57.00 EUR") {
		t.Errorf("written %q", s)
	}
}

func TestNothingDecidedIsSaid(t *testing.T) {
	env := screentest.Env(t)
	s := New(env, place.Where{Visit: "none"}).(*Screen)
	s.Opened()
	env.Run.Wait()
	if len(screentest.Told(env).Failures) != 1 {
		t.Fatal("a visit that is not there was not told")
	}
}

func TestPhotoIsMissedOnlyOfWhatWasFound(t *testing.T) {
	asks, quiet := catalog.Check{ID: "a", Photo: true}, catalog.Check{ID: "b"}
	by := func(v inspect.Verdict, rule int, lead catalog.Check, now *inspect.Photo) shop.Line {
		return shop.Line{Lead: lead, Now: now, Assessment: inspect.Assessment{Verdict: v, NoPhoto: true,
			Reasons: []inspect.Reason{{Rule: rule, Decide: true}}}}
	}
	for name, c := range map[string]struct {
		l    shop.Line
		want bool
	}{
		"found":           {by(inspect.Replace, 2, asks, nil), true},
		"found and taken": {by(inspect.Replace, 2, asks, &inspect.Photo{}), false},
		"forecast":        {by(inspect.Replace, 5, asks, nil), false},
		"asks for none":   {by(inspect.Replace, 3, quiet, nil), false},
		"goes back in":    {by(inspect.Reuse, 3, asks, nil), false},
	} {
		if got := photoWanted(c.l); got != c.want {
			t.Errorf("%s: %v, want %v", name, got, c.want)
		}
	}
}
