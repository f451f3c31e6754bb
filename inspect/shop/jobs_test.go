package shop

import (
	"fmt"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"forkwear/inspect"
	"forkwear/inspect/catalog"
	"forkwear/inspect/verdict"
)

var priced, _ = PricesFrom(cat, map[string]string{KeyCurrency: "EUR", "rules.minute_rate": "100",
	"price.kit.seal_kit": "4000", "price.kit.bolt_kit": "600", "price.kit.crush_washers": "300", "price.kit.top_cap_part": "2500", "price.kit.crown_assembly": "40000",
	"price.kit.tube_assembly": "18000", "price.kit.bushing_set": "5000", "price.kit.bath_fluid": "900"})

func goes(part string, leg inspect.Leg, rule int) inspect.Assessment {
	remedy := "replace"
	if rule == 2 {
		remedy = "renew_kit"
	}
	return inspect.Assessment{ID: inspect.ID(part + "|" + string(leg)), Part: part, Leg: leg, Verdict: inspect.Replace, Remedy: remedy,
		Reasons: []inspect.Reason{{Rule: rule, Plain: part + " goes", Decide: true}}}
}

func stays(part string, leg inspect.Leg, v inspect.Verdict) inspect.Assessment {
	return inspect.Assessment{ID: inspect.ID(part + "|" + string(leg)), Part: part, Leg: leg, Verdict: v, Remedy: "nothing",
		Reasons: []inspect.Reason{{Rule: 8, Plain: part + " stays", Decide: true}}}
}

func shut(a inspect.Assessment) inspect.Assessment { a.NotOpened = true; return a }

// upright is a case of an upright fork with a single crown at a level.
func upright(t testing.TB, level string) (*Desk, *Case) {
	b := newBench(t)
	c := b.visit(level, 100)
	return b.desk, c
}

func find(t testing.TB, jobs []Job, key string) Job {
	t.Helper()
	for _, j := range jobs {
		if j.Key == key {
			return j
		}
	}
	var keys []string
	for _, j := range jobs {
		keys = append(keys, j.Key)
	}
	t.Fatalf("no line %q among %q", key, keys)
	return Job{}
}

func partNames(ps []JobPart, pick func(JobPart) bool) (out []string) {
	for _, p := range ps {
		if pick(p) {
			out = append(out, p.Part.ID+"|"+string(p.Assessment.Leg))
		}
	}
	return out
}

// One wiper asks, and the kit that is bought covers both legs: by the catalog a
// seal kit is wipers and foam rings for the fork. Its parts are renewed with it,
// those that nobody opened too.
func TestAKitIsOneLine(t *testing.T) {
	d, c := upright(t, "look_over")
	jobs := d.Jobs(c, []inspect.Assessment{goes("wiper", inspect.Left, 3), stays("wiper", inspect.Right, inspect.Measure),
		shut(stays("foam_ring", inspect.Left, inspect.Reuse)), shut(stays("bath", inspect.Left, inspect.Reuse))}, priced)
	if len(jobs) != 1 {
		t.Fatalf("%d lines, want one: what is not opened has none of its own", len(jobs))
	}
	j := find(t, jobs, "kit:seal_kit")
	if j.Verdict != inspect.Replace || j.Why != "wiper goes" || j.Level {
		t.Errorf("%+v", j)
	}
	if got := partNames(j.Parts, func(p JobPart) bool { return p.WithKit }); !slices.Equal(got, []string{"wiper|right", "foam_ring|left"}) {
		t.Errorf("with the kit: %v", got)
	}
	if j.Price.Money.Minor != 4000+6000 || !j.Price.Known() || j.Price.Minutes != 60 { // kit and 60 minutes at 1.00
		t.Errorf("price %+v", j.Price)
	}
}

// A single crown has its tubes pressed in: one assembly for both, and once. A
// dual crown's tubes are loose: one each, with the work for each.
func TestPressedAndLooseTubes(t *testing.T) {
	d, c := upright(t, "look_over")
	as := []inspect.Assessment{goes("stanchion", inspect.Left, 1), goes("stanchion", inspect.Right, 3)}
	as[0].DoNotRide = true
	if j := d.Jobs(c, as, priced); len(j) != 1 || j[0].Price.Money.Minor != 40000+7500 || !j[0].DoNotRide {
		t.Errorf("pressed tubes: %+v", j)
	}
	c.Sheet.Crown = "dual"
	jobs := d.Jobs(c, as, priced)
	if len(jobs) != 2 {
		t.Fatalf("%d lines for two loose tubes", len(jobs))
	}
	for _, j := range jobs {
		if j.Price.Money.Minor != 18000+6000 || j.Shared != "" {
			t.Errorf("%s: %+v", j.Key, j.Price)
		}
	}
	if !jobs[0].DoNotRide || jobs[1].DoNotRide {
		t.Error("what is not safe to ride comes first, and only that is marked")
	}
}

// Work that several lines share counts once, with the first that stands; when
// that is declined the next carries it.
func TestSharedWorkCountsOnce(t *testing.T) {
	d, c := upright(t, "look_over")
	as := []inspect.Assessment{goes("wiper", inspect.Left, 3), goes("foot_bolt", inspect.Right, 3)}
	jobs := d.Jobs(c, as, priced)
	if jobs[0].Price.Money.Minor != 10000 || jobs[1].Price.Money.Minor != 600 || jobs[1].Shared != jobs[0].Name {
		t.Fatalf("%+v and %+v", jobs[0].Price, jobs[1].Price)
	}
	c.Consents = []inspect.Consent{{ID: "1", AssessmentID: as[0].ID, Accepted: false, At: c.Visit.DroppedOff}}
	jobs = d.Jobs(c, as, priced)
	if bolts := find(t, jobs, "kit:bolt_kit"); bolts.Price.Money.Minor != 6600 || bolts.Shared != "" {
		t.Errorf("alone: %+v", bolts.Price)
	}
	if b := d.Bill(c, jobs, priced); b.Lines != 2 || b.Declined != 1 || b.All.Money.Minor != 6600 || b.Yes.Money.Minor != 0 {
		t.Errorf("%+v", b)
	}
}

// What its level always renews is one line; where a finding asks for the same
// kit, the finding's line has it.
func TestLevelRenews(t *testing.T) {
	d, c := upright(t, "full")
	as := []inspect.Assessment{goes("wiper", inspect.Left, 4), goes("wiper", inspect.Right, 4), goes("foam_ring", inspect.Left, 4),
		goes("crush_washer", inspect.Left, 4), stays("foot_bolt", inspect.Left, inspect.Reuse)}
	jobs := d.Jobs(c, as, priced)
	if len(jobs) != 2 || !jobs[0].Level || jobs[0].Name != c.Level.Name || len(jobs[0].Kits) != 2 || len(jobs[0].Work) != 1 || jobs[1].Verdict != inspect.Reuse {
		t.Fatalf("%+v", jobs)
	}
	if jobs[0].Price.Money.Minor != 4000+300+6000 {
		t.Errorf("price %+v", jobs[0].Price)
	}
	as[0] = goes("wiper", inspect.Left, 3)
	jobs = d.Jobs(c, as, priced)
	if len(jobs) != 3 || jobs[0].Key != "kit:seal_kit" || !jobs[1].Level || len(jobs[1].Kits) != 1 {
		t.Fatalf("%+v", jobs)
	}
	c.Visit.Package = inspect.Money{Minor: 15000, Currency: "EUR"}
	jobs = d.Jobs(c, as, priced)
	if b := d.Bill(c, jobs, priced); b.All.Money.Minor != 15000 || !jobs[0].Included || !jobs[1].Included {
		t.Errorf("the agreed price has both: %+v", b)
	}
	jobs = d.Jobs(c, append(as, goes("bushings", inspect.Left, 3)), priced)
	if b := d.Bill(c, jobs, priced); b.All.Money.Minor != 15000+5000+9000 { // set, and 90 minutes
		t.Errorf("bushings come on top: %+v", b.All)
	}
}

// A stripped thread is reworked and not bought: it is a line of its own, and
// nothing goes out with it.
func TestReworkBuysNothing(t *testing.T) {
	d, c := upright(t, "look_over")
	a := goes("brake_mount", inspect.Whole, 1)
	a.Remedy, a.DoNotRide = "rework", true
	jobs := d.Jobs(c, []inspect.Assessment{a, stays("lowers", inspect.Whole, inspect.Reuse)}, priced)
	if len(jobs) != 2 || len(jobs[0].Kits) != 0 || jobs[0].Price.Unknown != 1 || jobs[1].Verdict != inspect.Reuse {
		t.Fatalf("%+v", jobs)
	}
}

// An override to reuse stands against the kit.
func TestAPersonsWordStandsAgainstTheKit(t *testing.T) {
	d, c := upright(t, "look_over")
	kept := goes("wiper", inspect.Right, 3)
	kept.Override = &inspect.Override{Verdict: inspect.Reuse, Reason: "new last week"}
	j := find(t, d.Jobs(c, []inspect.Assessment{goes("wiper", inspect.Left, 3), kept}, priced), "kit:seal_kit")
	if got := partNames(j.Parts, func(p JobPart) bool { return p.WithKit }); got != nil {
		t.Errorf("%v goes out against a person's word", got)
	}
}

// By the catalog the wipers come out to reach the bushings.
func TestBushingsNeedTheSeals(t *testing.T) {
	d, c := upright(t, "look_over")
	jobs := d.Jobs(c, []inspect.Assessment{goes("wiper", inspect.Left, 3), goes("bushings", inspect.Left, 3)}, priced)
	if b := find(t, jobs, "kit:bushing_set"); !slices.Equal(b.Needs, []string{"kit:seal_kit"}) {
		t.Fatalf("bushings need %v", b.Needs)
	}
	for _, tc := range []struct {
		key  string
		yes  bool
		want int
	}{{"kit:bushing_set", true, 2}, {"kit:bushing_set", false, 1}, {"kit:seal_kit", true, 1}, {"kit:seal_kit", false, 2}, {"gone", true, 0}} {
		if got := Together(jobs, tc.key, tc.yes); len(got) != tc.want {
			t.Errorf("%s %v answers %v, want %d lines", tc.key, tc.yes, got, tc.want)
		}
	}
}

// A declined line that is not safe is on record as such; a part that goes out
// with its kit ends by schedule (domain: S by schedule, with its kit).
func TestAnswerAndRenewWithKit(t *testing.T) {
	b := newBench(t)
	c := b.visit("look_over", 200)
	b.say(c, "seals.weep", inspect.Left, inspect.Received, inspect.Graded, 4)
	b.must(b.desk.Decide(ctx, c, verdict.Rules{}))
	jobs := b.desk.Jobs(c, c.Assessments, priced)
	who := inspect.Consent{Accepted: false, By: "A. Rider", How: "phone", Shown: "Seal kit, 100.00 EUR"}
	writes := b.lib.consentWrites
	_, err := b.desk.AnswerJob(ctx, c, jobs, "kit:seal_kit", who)
	b.must(err)
	if n := b.lib.consentWrites - writes; n != 1 {
		t.Errorf("the answer is kept in %d transactions, want one", n)
	}
	if n, err := b.desk.RenewDecided(ctx, c); err != nil || n != 0 {
		t.Fatalf("declined, and %d renewed, %v", n, err)
	}
	if _, err := b.desk.AnswerJob(ctx, c, jobs, "kit:none", who); inspect.CodeOf(err) != inspect.NotFound {
		t.Error("an answer to a line that is gone was kept")
	}
	b.days(1)
	who.Accepted = true
	_, err = b.desk.AnswerJob(ctx, c, jobs, "kit:seal_kit", who)
	b.must(err)
	if j := find(t, b.desk.Jobs(c, c.Assessments, priced), "kit:seal_kit"); j.Answer == nil || !j.Answer.Accepted || j.Answer.By != "A. Rider" {
		t.Errorf("answer %+v, want the newest", j.Answer)
	}
	if n, err := b.desk.RenewDecided(ctx, c); err != nil || n != 4 { // two wipers, two foam rings
		t.Fatalf("%d renewed, %v", n, err)
	}
	for _, f := range c.Fittings {
		if f.Part == "wiper" && f.Leg == inspect.Right && !f.In() && f.End != inspect.EndSchedule {
			t.Errorf("the right wiper ended as %q", f.End)
		}
	}
	unsafe := goes("axle", inspect.Whole, 1)
	unsafe.DoNotRide = true
	if got := shown("", JobPart{Assessment: unsafe, Says: "Stripped."}, false); got != "Stripped. (declined although told: do not ride)" {
		t.Errorf("kept as %q", got)
	}
}

// drawn is any set of decisions on an upright fork.
func drawn(t *rapid.T, d *Desk, c *Case) []inspect.Assessment {
	var as []inspect.Assessment
	for _, p := range catalog.PartPositions(cat, c.Sheet) {
		id, leg := p.Part.ID, p.Leg
		var a inspect.Assessment
		switch rapid.IntRange(0, 5).Draw(t, "what") {
		case 0:
			a = stays(id, leg, inspect.Reuse)
		case 1:
			a = stays(id, leg, inspect.Measure)
		case 2:
			a = shut(stays(id, leg, inspect.Reuse))
		case 3:
			a = goes(id, leg, 4)
		case 4:
			a = goes(id, leg, 3)
		case 5:
			a = goes(id, leg, 1)
			a.Remedy, a.DoNotRide = rapid.SampledFrom([]string{"replace", "rework"}).Draw(t, "remedy"), true
		}
		as = append(as, a)
	}
	return as
}

// The lines hold every opened part once; the bill is the sum of the distinct
// kits and the distinct work, and what the lines add comes to the same; whatever
// is answered in whatever order, nothing is accepted that needs what is declined.
func TestJobsAndBillHoldTogether(t *testing.T) {
	d, base := upright(t, "full")
	rapid.Check(t, func(t *rapid.T) {
		c := *base
		c.Visit.Level = rapid.SampledFrom([]string{"look_over", "lowers", "damper", "full"}).Draw(t, "level")
		c.Sheet.Crown = rapid.SampledFrom([]string{"single", "dual"}).Draw(t, "crown")
		as := drawn(t, d, &c)
		jobs := d.Jobs(&c, as, priced)
		once(t, as, jobs)
		for n := rapid.IntRange(0, 6).Draw(t, "answers"); n > 0; n-- {
			j := rapid.SampledFrom(jobs).Draw(t, "line")
			yes := rapid.Bool().Draw(t, "yes")
			for _, i := range Together(jobs, j.Key, yes) {
				for _, p := range jobs[i].Parts {
					if p.Asked {
						c.Consents = append(c.Consents, inspect.Consent{ID: "k", AssessmentID: p.Assessment.ID, Accepted: yes})
					}
				}
			}
			jobs = d.Jobs(&c, as, priced)
		}
		sound(t, jobs)
		b := d.Bill(&c, jobs, priced)
		var adds int64
		want := reckon(jobs, func(j Job) bool { yes, a := j.Answered(); return yes || !a })
		for _, j := range jobs {
			if yes, a := j.Answered(); j.Verdict == inspect.Replace && (yes || !a) {
				adds += j.Price.Money.Minor
			}
		}
		if b.All.Money.Minor != want || adds != want {
			t.Fatalf("bill %d, lines %d, want %d", b.All.Money.Minor, adds, want)
		}
		if got := reckon(jobs, func(j Job) bool { yes, _ := j.Answered(); return yes }); b.Yes.Money.Minor != got || b.Yes.Money.Minor > b.All.Money.Minor {
			t.Fatalf("accepted %d, want %d of %d", b.Yes.Money.Minor, got, b.All.Money.Minor)
		}
	})
}

func once(t *rapid.T, as []inspect.Assessment, jobs []Job) {
	seen := map[inspect.ID]int{}
	for _, j := range jobs {
		for _, p := range j.Parts {
			seen[p.Assessment.ID]++
		}
	}
	for _, a := range as {
		if n := seen[a.ID]; n > 1 || n == 0 && !a.NotOpened {
			t.Fatalf("%s is in %d lines", a.ID, n)
		}
	}
}

func sound(t *rapid.T, jobs []Job) {
	byKey := map[string]Job{}
	for _, j := range jobs {
		byKey[j.Key] = j
	}
	if len(byKey) != len(jobs) {
		t.Fatal("two lines have one key")
	}
	for _, j := range jobs {
		for _, n := range j.Needs {
			yes, _ := j.Answered()
			if other, answered := byKey[n].Answered(); yes && answered && !other {
				t.Fatalf("%s is accepted and %s, which it needs, declined", j.Key, n)
			}
		}
	}
}

// reckon is the sum written another way: sets of names.
func reckon(jobs []Job, in func(Job) bool) int64 {
	names := map[string]int64{}
	for _, j := range jobs {
		if j.Verdict != inspect.Replace || !in(j) {
			continue
		}
		for _, k := range j.Kits {
			minor, _ := priced.OfKit(k.ID)
			names[fmt.Sprint("kit ", k.ID, k.Leg)] = minor
		}
		for _, w := range j.Work {
			minor, _ := priced.OfJob(w.ID)
			names[fmt.Sprint("work ", w.ID, w.Leg)] = minor
		}
	}
	sum := int64(0)
	for _, m := range names {
		sum += m
	}
	return sum
}

func TestOverGoAhead(t *testing.T) {
	for name, tc := range map[string]struct {
		all, limit int64
		want       bool
	}{"no limit": {9000, 0, false}, "within": {9000, 9000, false}, "over": {9001, 9000, true}} {
		b := Bill{All: Amount{Money: inspect.Money{Minor: tc.all}}, GoAhead: inspect.Money{Minor: tc.limit}}
		if b.Over() != tc.want {
			t.Errorf("%s: %v", name, b.Over())
		}
	}
}
