package shop

import (
	"context"

	"forkwear/inspect"
	"forkwear/inspect/catalog"
)

// Bill is what the lines to replace come to.
type Bill struct {
	Lines, Accepted, Declined int
	All                       Amount // everything that was not declined
	Yes                       Amount // what the customer said yes to
	GoAhead                   inspect.Money
}

// Over reports that what is proposed is beyond 'go ahead up to'; only where the
// customer named a limit.
func (b Bill) Over() bool { return b.GoAhead.Minor > 0 && b.All.Money.Minor > b.GoAhead.Minor }

// Bill sums the lines to replace. An agreed package price stands for what the
// service level always renews and for the work that it does anyway.
func (d *Desk) Bill(c *Case, jobs []Job, p Prices) Bill {
	b := Bill{GoAhead: c.Visit.GoAhead}
	for _, j := range jobs {
		if j.Verdict != inspect.Replace {
			continue
		}
		b.Lines++
		if yes, answered := j.Answered(); answered && yes {
			b.Accepted++
		} else if answered {
			b.Declined++
		}
	}
	b.All = Total(c, jobs, p, func(j Job) bool { yes, answered := j.Answered(); return yes || !answered })
	b.Yes = Total(c, jobs, p, func(j Job) bool { yes, _ := j.Answered(); return yes })
	return b
}

// Total is the sum of the distinct kits and of the distinct work of the lines
// to replace that 'in' picks, with the agreed package price.
func Total(c *Case, jobs []Job, p Prices, in func(Job) bool) Amount {
	t := newTally(c, p)
	t.sum.Money.Minor = c.Visit.Package.Minor
	for _, j := range jobs {
		if j.Verdict == inspect.Replace && in(j) {
			t.take(j, "")
		}
	}
	return t.sum
}

// price says what each line adds to the bill: those that stand, in their order,
// then the declined ones and those that are not asked, as if they came on top.
func price(c *Case, jobs []Job, p Prices) {
	standing := newTally(c, p)
	var later []int
	for i := range jobs {
		j := &jobs[i]
		if yes, answered := j.Answered(); j.Verdict != inspect.Replace || answered && !yes {
			later = append(later, i)
			continue
		}
		standing.sum = Amount{Money: inspect.Money{Currency: p.Currency}}
		j.Shared = standing.take(*j, j.Name)
		j.Price, j.Included = standing.sum, standing.included(*j)
	}
	for _, i := range later {
		j, on := &jobs[i], standing.copied()
		j.Shared = on.take(*j, j.Name)
		j.Price, j.Included = on.sum, on.included(*j)
	}
}

// tally sums kits and work, each once.
type tally struct {
	p        Prices
	packaged bool
	sum      Amount
	kits     map[string]bool
	work     map[string]string // who carries it
}

func newTally(c *Case, p Prices) *tally {
	return &tally{p: p, packaged: c.Visit.Package.Minor > 0, sum: Amount{Money: inspect.Money{Currency: p.Currency}},
		kits: map[string]bool{}, work: map[string]string{}}
}

func (t *tally) copied() *tally {
	n := &tally{p: t.p, packaged: t.packaged, sum: Amount{Money: inspect.Money{Currency: t.p.Currency}},
		kits: map[string]bool{}, work: map[string]string{}}
	for k := range t.kits {
		n.kits[k] = true
	}
	for k, v := range t.work {
		n.work[k] = v
	}
	return n
}

// take adds what is new of a line and names who carries its work already. A
// line that sells nothing and has no planned work has no price that is known.
func (t *tally) take(j Job, by string) (shared string) {
	if len(j.Kits) == 0 && len(j.Work) == 0 {
		t.sum.Unknown++
	}
	for _, k := range j.Kits {
		if id := k.ID + "|" + string(k.Leg); !t.kits[id] {
			t.kits[id] = true
			if !t.packaged || !k.included {
				t.sum.add(t.p.OfKit(k.ID))
			}
		}
	}
	for _, w := range j.Work {
		id := w.ID + "|" + string(w.Leg)
		if who, had := t.work[id]; had {
			shared = who
			continue
		}
		t.work[id] = by
		t.sum.Minutes += t.p.Minutes(w.ID)
		if !t.packaged || !w.included {
			t.sum.add(t.p.OfJob(w.ID))
		}
	}
	return shared
}

// included tells a line that the agreed package price covers in whole.
func (t *tally) included(j Job) bool {
	if !t.packaged || len(j.Kits) == 0 {
		return false
	}
	for _, k := range j.Kits {
		if !k.included {
			return false
		}
	}
	for _, w := range j.Work {
		if !w.included {
			return false
		}
	}
	return true
}

// needs fills what each line needs: what the catalog says of its kits, and what
// a strong cause ties together, both ways. Only lines to replace need others.
func (g *grouping) needs(jobs []Job) {
	byKit, byPart := map[string]string{}, map[position]string{}
	for _, j := range jobs {
		if j.Verdict != inspect.Replace {
			continue
		}
		for _, k := range j.Kits {
			byKit[k.ID] = j.Key
		}
		for _, p := range j.Parts {
			if p.Asked {
				byPart[position{p.Part.ID, p.Assessment.Leg}] = j.Key
			}
		}
	}
	need := map[string]map[string]bool{}
	tie := func(a, b string) {
		if a != "" && b != "" && a != b {
			if need[a] == nil {
				need[a] = map[string]bool{}
			}
			need[a][b] = true
		}
	}
	for id, key := range byKit {
		k, _ := g.desk.Catalog.Kit(id)
		for _, other := range k.Needs {
			tie(key, byKit[other])
		}
	}
	for _, f := range g.desk.Causes(g.c) {
		if f.Cause.Certainty != "strong" {
			continue
		}
		keys := g.tied(f, byPart)
		for _, a := range keys {
			for _, b := range keys {
				tie(a, b)
			}
		}
	}
	for i := range jobs {
		for _, other := range jobs { // in the order of the lines
			if need[jobs[i].Key][other.Key] && jobs[i].Verdict == inspect.Replace {
				jobs[i].Needs = append(jobs[i].Needs, other.Key)
			}
		}
	}
}

// tied are the lines of the parts that the findings of a cause are about.
func (g *grouping) tied(f catalog.FoundCause, byPart map[position]string) []string {
	var keys []string
	for _, text := range f.Cause.Findings {
		cond, err := catalog.ParseCondition(text)
		if err != nil {
			continue
		}
		for _, t := range cond.Terms {
			k, ok := g.desk.Catalog.Check(t.ID)
			if t.Kind != catalog.OfCheck || !ok {
				continue
			}
			for _, leg := range []inspect.Leg{inspect.Whole, inspect.Left, inspect.Right} {
				if leg == f.Leg || leg == inspect.Whole || f.Leg == inspect.Whole {
					if key := byPart[position{k.Part, leg}]; key != "" {
						keys = append(keys, key)
					}
				}
			}
		}
	}
	return keys
}

// Together are the places of the lines that an answer to one line answers too,
// that line first: a yes says yes to all that it needs, a no says no to all that
// need it. An unknown key gives none.
func Together(jobs []Job, key string, yes bool) []int {
	at := map[string]int{}
	for i, j := range jobs {
		at[j.Key] = i
	}
	start, ok := at[key]
	if !ok {
		return nil
	}
	out, seen := []int{start}, map[int]bool{start: true}
	for n := 0; n < len(out); n++ {
		for i, j := range jobs {
			from, to := jobs[out[n]], j
			if !yes {
				from, to = j, jobs[out[n]]
			}
			for _, need := range from.Needs {
				if need == to.Key && !seen[i] {
					seen[i] = true
					out = append(out, i)
				}
			}
		}
	}
	return out
}

// AnswerJob keeps the customer's answer on a line and on all that go with it
// (Together), one consent for each part that is asked for. k says who answered,
// how and with which signature; k.Shown, where given, stands before the reason
// that was shown. What is declined although it is not safe is kept as such.
func (d *Desk) AnswerJob(ctx context.Context, c *Case, jobs []Job, key string, k inspect.Consent) error {
	lines := Together(jobs, key, k.Accepted)
	if lines == nil {
		return inspect.Refuse(inspect.NotFound, "the line %q is no longer part of the decision: look at it again", key)
	}
	for _, i := range lines {
		for _, p := range jobs[i].Parts {
			if !p.Asked {
				continue
			}
			one := k
			one.ID, one.VisitID, one.AssessmentID, one.At = d.NewID(), c.Visit.ID, p.Assessment.ID, d.Clock()
			one.Shown = shown(k.Shown, p, k.Accepted)
			if err := d.Lib.AddConsent(ctx, one); err != nil {
				return err
			}
			c.Consents = append(c.Consents, one)
		}
	}
	return nil
}

func shown(before string, p JobPart, yes bool) string {
	s := p.Says
	if before != "" {
		s = before + ": " + s
	}
	switch {
	case p.Assessment.DoNotRide && yes:
		s += " (told: do not ride)"
	case p.Assessment.DoNotRide:
		s += " (declined although told: do not ride)"
	}
	return s
}

// withKit are the parts that go out only because their kit does, for the lines
// that the customer has not declined. They end by schedule ('with its kit').
func (d *Desk) withKit(c *Case) []Renewal {
	var out []Renewal
	for _, j := range d.Jobs(c, c.Assessments, Prices{}) {
		if yes, answered := j.Answered(); j.Verdict != inspect.Replace || answered && !yes {
			continue
		}
		for _, p := range j.Parts {
			if p.WithKit && !p.Renewed {
				out = append(out, Renewal{Part: p.Part.ID, Leg: p.Assessment.Leg, End: inspect.EndSchedule})
			}
		}
	}
	return out
}
