package decide

import (
	"context"
	"strings"
	"testing"

	"fyne.io/fyne/v2"

	"forkwear/inspect"
	"forkwear/inspect/catalog"
	"forkwear/inspect/shop"
	"forkwear/ui/checkdraw"
	"forkwear/ui/place"
	"forkwear/ui/screens/screentest"
	"forkwear/ui/screens/visitbar"
)

func opened(t *testing.T) (*place.Env, inspect.ID, *Screen) {
	t.Helper()
	env := screentest.Env(t)
	id := screentest.Decided(t, env)
	return env, id, shown(t, env, id)
}

func shown(t *testing.T, env *place.Env, id inspect.ID) *Screen {
	t.Helper()
	s := New(env, place.Where{Visit: id}).(*Screen)
	env.Window.SetContent(s.Content())
	env.Window.Resize(fyne.NewSize(1190, 700))
	s.Opened()
	env.Run.Wait()
	if s.data.story == nil || len(s.rows) == 0 {
		t.Fatalf("nothing shown: %v", screentest.Told(env).Failures)
	}
	return s
}

func (s *Screen) partAt(t *testing.T, part string, leg inspect.Leg) shop.JobPart {
	t.Helper()
	for _, j := range s.data.jobs {
		for _, p := range j.Parts {
			if p.Part.ID == part && p.Assessment.Leg == leg {
				return p
			}
		}
	}
	t.Fatalf("no line for %s %s", part, leg)
	return shop.JobPart{}
}

func TestEveryPartIsInOneRow(t *testing.T) {
	_, _, s := opened(t)
	n := 0
	for _, r := range s.rows {
		n += len(r.job.Parts)
	}
	if want := len(s.data.story.Lines) + len(s.data.story.Unopened) - len(s.data.shut()); n != want {
		t.Fatalf("%d parts in %d rows, want %d", n, len(s.rows), want)
	}
	if len(s.rows) >= len(s.data.story.Lines) {
		t.Errorf("%d rows for %d parts: want kits, not parts", len(s.rows), len(s.data.story.Lines))
	}
	// What was found comes before what the level renews anyway: the sample's
	// left wiper has grade 3, its limit. The right one goes out with its kit.
	first := s.rows[0].job
	if first.Key != "kit:seal_kit" || first.Parts[0].Part.ID != "wiper" || first.Parts[0].Assessment.Leg != inspect.Left || first.Level {
		t.Errorf("first row is %+v, want the seal kit for the left wiper", first)
	}
	if n := len(s.rows); s.rows[n-1].job.Verdict == inspect.Replace {
		t.Errorf("the last row is %s", s.rows[n-1].job.Verdict)
	}
}

func TestOverrideNeedsAReason(t *testing.T) {
	env, id, s := opened(t)
	p := s.rows[0].job.Parts[0]
	s.Override(p, inspect.Reuse, "   ")
	env.Run.Wait()
	if f := screentest.Told(env).Failures; len(f) != 1 || inspect.CodeOf(f[0]) != inspect.Invalid {
		t.Fatalf("failures %v, want one refusal", f)
	}
	if c := screentest.Open(t, env, id); overrides(c) != 0 {
		t.Fatal("an override without a reason was kept")
	}
	s.Override(p, inspect.Reuse, "customer brings a new one next week")
	env.Run.Wait()
	got := s.partAt(t, p.Part.ID, p.Assessment.Leg).Assessment
	if got.Override == nil || got.InForce() != inspect.Reuse || got.Verdict != inspect.Replace {
		t.Fatalf("in force %s, reckoned %s, override %v: want reuse over replace, both on record", got.InForce(), got.Verdict, got.Override)
	}
	s.Opened() // coming back must not decide anew over it
	env.Run.Wait()
	if got := s.partAt(t, p.Part.ID, p.Assessment.Leg).Assessment; got.Override == nil {
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
	j := s.rows[0].job
	s.Answer(j, true, "", "here")
	if len(screentest.Told(env).Failures) != 1 {
		t.Fatal("an answer of nobody was taken")
	}
	s.Answer(j, true, "First Customer", "phone")
	env.Run.Wait()
	asked := map[inspect.ID]bool{}
	for _, p := range j.Parts {
		if p.Asked {
			asked[p.Assessment.ID] = true
		}
	}
	c := screentest.Open(t, env, id)
	if len(c.Consents) != len(asked) {
		t.Fatalf("%d answers for %d parts that are asked for", len(c.Consents), len(asked))
	}
	for _, k := range c.Consents {
		if !k.Accepted || k.How != "phone" || k.By != "First Customer" || !asked[k.AssessmentID] || !strings.HasPrefix(k.Shown, j.Name+", ") {
			t.Errorf("kept %+v", k)
		}
	}
	s.Opened()
	env.Run.Wait()
	if yes, answered := s.rows[0].job.Answered(); !yes || !answered || s.data.bill.Accepted != 1 {
		t.Fatal("the answer is gone after the screen was opened again")
	}
}

func TestAChangedReadingIsDecidedAnew(t *testing.T) {
	env, id, s := opened(t)
	p := s.rows[0].job.Parts[0]
	c := screentest.Open(t, env, id)
	if _, err := env.Desk.Answer(context.Background(), c, shop.Answer{Check: s.data.lines[p.Assessment.ID].Lead.ID, Leg: p.Assessment.Leg,
		Stage: inspect.Received, Answer: inspect.Graded, Value: 4}); err != nil {
		t.Fatal(err)
	}
	s.Opened()
	env.Run.Wait()
	if got := s.partAt(t, p.Part.ID, p.Assessment.Leg).Assessment; got.ID == p.Assessment.ID {
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

// The whole screen by keys: choose, open, change a verdict, leave.
func TestKeys(t *testing.T) {
	env, _, s := opened(t)
	key := func(n fyne.KeyName) { s.TypedKey(&fyne.KeyEvent{Name: n}) }
	key(fyne.KeyUp)
	key(fyne.KeyDown)
	key(fyne.KeyDown)
	if s.chosen() != 2 || !s.rows[2].chosen || s.rows[0].chosen {
		t.Fatalf("row %d is chosen, want the third", s.chosen())
	}
	key(fyne.KeyReturn)
	if s.open != s.rows[2].job.Key {
		t.Fatal("Enter does not open the chosen row")
	}
	s.TypedRune('O')
	if env.Window.Canvas().Focused() != s.rows[2].reason {
		t.Fatal("O does not go to the reason")
	}
	env.Window.Canvas().Unfocus()
	key(fyne.KeyHome)
	s.TypedRune('a')
	if env.Window.Canvas().Focused() != s.rows[0].who || s.open != s.rows[0].job.Key {
		t.Fatal("A does not open the answer of the chosen row")
	}
	env.Window.Canvas().Unfocus()
	key(fyne.KeyEscape)
	if s.open != "" {
		t.Fatal("Escape does not close the row")
	}
	key(fyne.KeyEnd)
	key(fyne.KeyDown)
	if s.chosen() != len(s.rows)-1 {
		t.Fatal("down past the end")
	}
	s.TypedRune('c')
	s.TypedRune('g')
	env.Run.Wait()
	gone := screentest.Told(env).Gone
	if len(gone) != 2 || gone[0].Name != place.Counter || gone[1].Name != place.Service {
		t.Fatalf("went to %+v", gone)
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

// pricedVisit is a decided visit with prices and a limit of the customer.
func pricedVisit(t *testing.T, env *place.Env, limit int64) inspect.ID {
	t.Helper()
	ctx := context.Background()
	for key, v := range map[string]string{shop.KeyCurrency: "EUR", "rules.minute_rate": "110", "price.kit.seal_kit": "4200", "price.kit.bolt_kit": "690",
		"price.kit.air_kit": "2950", "price.kit.damper_kit": "3900"} {
		if err := env.Desk.Lib.PutPreference(ctx, key, v); err != nil {
			t.Fatal(err)
		}
	}
	id := screentest.Decided(t, env)
	v := screentest.Open(t, env, id).Visit
	v.GoAhead = inspect.Money{Minor: limit, Currency: "EUR"}
	if err := env.Desk.Lib.SaveVisit(ctx, v); err != nil {
		t.Fatal(err)
	}
	return id
}

// The seal kit at 42.00 and an hour of a lowers service at 1.10 a minute are
// 108.00 by hand, more than the customer's 100.00.
func TestTotalsAndTheLimit(t *testing.T) {
	env := screentest.Env(t)
	s := shown(t, env, pricedVisit(t, env, 10000))
	if got := s.rows[0].job.Price.Money.Minor; got != 10800 {
		t.Errorf("the seal kit comes to %d, want 10800", got)
	}
	if !s.data.bill.Over() {
		t.Errorf("%+v is not over the limit", s.data.bill)
	}
	s.Answer(s.rows[0].job, true, "First Customer", "here")
	env.Run.Wait()
	if got := s.data.bill.Yes.Money.Minor; got != 10800 {
		t.Errorf("the yes comes to %d, want 10800", got)
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

// Without a trend the drawing of the check stands in an open row.
func TestDrawingWhereThereIsNoTrend(t *testing.T) {
	_, _, s := opened(t)
	for i, r := range s.rows {
		if s.trend(r.job) != nil || s.lead(r.job).Lead.Drawing == "" {
			continue
		}
		s.OpenRow(i)
		if !holds(r.inside, func(o fyne.CanvasObject) bool { d, ok := o.(*checkdraw.Drawing); return ok && d.Visible() }) {
			t.Errorf("%s: no drawing", r.job.Key)
		}
		return
	}
	t.Skip("every line of the sample has a trend")
}

func holds(o fyne.CanvasObject, is func(fyne.CanvasObject) bool) bool {
	if is(o) {
		return true
	}
	if c, ok := o.(*fyne.Container); ok {
		for _, x := range c.Objects {
			if holds(x, is) {
				return true
			}
		}
	}
	return false
}

// A line that is opened by its key comes into sight, its head first.
func TestAnOpenedRowIsInSight(t *testing.T) {
	_, _, s := opened(t)
	d := fyne.CurrentApp().Driver()
	for _, i := range []int{len(s.rows) - 1, 2, 0} {
		s.OpenRow(i)
		top := d.AbsolutePositionForObject(s.rows[i]).Y
		if head := top + 44; top < 0 || head > 600 {
			t.Errorf("row %d: its head stands at %.0f of 700", i, top)
		}
	}
}
