package shop

import (
	"context"

	"forkwear/inspect"
	"forkwear/inspect/catalog"
)

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
// (Together), one consent for each part that is asked for, all or none, and
// returns them for TakeAnswersBack. k says who answered,
// how and with which signature; k.Shown, where given, stands before the reason
// that was shown. What is declined although it is not safe is kept as such.
func (d *Desk) AnswerJob(ctx context.Context, c *Case, jobs []Job, key string, k inspect.Consent) (given []inspect.Consent, err error) {
	lines := Together(jobs, key, k.Accepted)
	if lines == nil {
		return nil, inspect.Refuse(inspect.NotFound, "the line %q is no longer part of the decision: look at it again", key)
	}
	for _, i := range lines {
		for _, p := range jobs[i].Parts {
			if !p.Asked {
				continue
			}
			one := k
			one.ID, one.VisitID, one.AssessmentID, one.At = d.NewID(), c.Visit.ID, p.Assessment.ID, d.Clock()
			one.Shown = shown(k.Shown, p, k.Accepted)
			given = append(given, one)
		}
	}
	return given, d.keepAnswers(ctx, c, given)
}

func (d *Desk) keepAnswers(ctx context.Context, c *Case, ks []inspect.Consent) error {
	if len(ks) == 0 {
		return nil
	}
	if err := d.Lib.AddConsents(ctx, ks...); err != nil {
		return err
	}
	c.Consents = append(c.Consents, ks...)
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
