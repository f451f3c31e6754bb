package shop

import (
	"context"
	"strings"

	"forkwear/inspect"
)

// TakeAnswersBack takes back answers of the customer, those of AnswerJob or a
// signature: what was answered before stands again, with who said it and when.
// Each is a record of its own that says 'taken back'; nothing is erased. All or
// none; an answer that does not stand any more, because a later one does, is
// refused.
func (d *Desk) TakeAnswersBack(ctx context.Context, c *Case, given ...inspect.Consent) error {
	newest := map[inspect.ID]inspect.ID{}
	for _, k := range inspect.Answers(c.Consents) {
		newest[k.AssessmentID] = k.ID
	}
	back := make([]inspect.Consent, 0, len(given))
	for _, k := range given {
		if newest[k.AssessmentID] != k.ID {
			return inspect.Refuse(inspect.Conflict, "this answer does not stand any more: answer the line anew")
		}
		back = append(back, inspect.Consent{ID: d.NewID(), VisitID: c.Visit.ID, AssessmentID: k.AssessmentID,
			By: d.Who(), How: inspect.TakenBack, Shown: k.Shown, At: d.Clock()})
	}
	return d.keepAnswers(ctx, c, back)
}

// AnswerOn is the customer's answer in force on a decision.
func (c *Case) AnswerOn(assessment inspect.ID) (inspect.Consent, bool) { return c.answerOn(assessment) }

// AnswersWith are the answers in force on a line, and those of the same kind on
// lines that make no sense without it: what goes when it is taken back.
func (c *Case) AnswersWith(jobs []Job, key string) []inspect.Consent {
	yes := false
	for _, j := range jobs {
		if j.Key == key && j.Answer != nil {
			yes = j.Answer.Accepted
		}
	}
	var out []inspect.Consent
	for _, i := range Together(jobs, key, !yes) {
		for _, p := range jobs[i].Parts {
			if k, ok := c.answerOn(p.Assessment.ID); ok && k.Accepted == yes {
				out = append(out, k)
			}
		}
	}
	return out
}

// Override changes a verdict with a reason; the engine's stays on record.
func (d *Desk) Override(ctx context.Context, c *Case, a inspect.Assessment, v inspect.Verdict, reason string) error {
	if strings.TrimSpace(reason) == "" {
		return inspect.Refuse(inspect.Invalid, "say why the verdict is changed: both stay on record")
	}
	return d.override(ctx, c, a, v, reason)
}

// TakeOverrideBack takes back the change of a verdict: the one before it stands
// again, or the engine's. The change stays on record beside the word that took it
// back.
func (d *Desk) TakeOverrideBack(ctx context.Context, c *Case, a inspect.Assessment) error {
	for _, now := range c.Assessments {
		if now.ID == a.ID && now.Override != nil {
			return d.override(ctx, c, a, inspect.NoOverride, inspect.TakenBack)
		}
	}
	return inspect.Refuse(inspect.Conflict, "this change of a verdict does not stand any more: look at the line again")
}

func (d *Desk) override(ctx context.Context, c *Case, a inspect.Assessment, v inspect.Verdict, reason string) error {
	o := inspect.Override{ID: d.NewID(), AssessmentID: a.ID, Verdict: v, Reason: reason, By: d.Who(), At: d.Clock()}
	if err := d.Lib.AddOverride(ctx, c.Visit.ID, o); err != nil {
		return err
	}
	var err error
	c.Assessments, err = d.Lib.LatestAssessments(ctx, c.Visit.ID)
	return err
}

// FitNew fits one part new and with it what goes out only because its kit does,
// in one transaction and with the same batch. Other parts of the kit that are
// to be replaced for a reason of their own wait for their own line. What it
// returns, the part itself first, can be given to TakeFittedBack.
func (d *Desk) FitNew(ctx context.Context, c *Case, r Renewal) ([]inspect.Fitting, error) {
	return d.renew(ctx, c, append([]Renewal{r}, d.KitMates(c, r)...))
}

// KitMates are the parts that go out with the kit of a part to fit, which has
// not been declined. They end by schedule ('with its kit').
func (d *Desk) KitMates(c *Case, r Renewal) []Renewal {
	g := grouping{desk: d, c: c, renewed: d.Catalog.Renewed(c.Visit.Level)}
	var out []Renewal
	for _, b := range g.bundles(c.Assessments) {
		if b.kit.ID == "" || b.kit.ID == soldNothing {
			continue
		}
		mine, mates := false, []Renewal(nil)
		for _, p := range g.exchange(b).Parts {
			mine = mine || p.Part.ID == r.Part && p.Assessment.Leg == r.Leg && goesOut(p.Assessment) && opened(p.Assessment)
			if p.WithKit && !p.Renewed {
				mates = append(mates, Renewal{Part: p.Part.ID, Leg: p.Assessment.Leg, End: inspect.EndSchedule, Batch: r.Batch})
			}
		}
		if mine {
			out = append(out, mates...)
		}
	}
	return out
}

// TakeFittedBack undoes a fitting of this visit: the new part never was in, and
// the old one is in as it was. Readings after the work that lay on the new part
// go back onto the old one. All or none.
func (d *Desk) TakeFittedBack(ctx context.Context, c *Case, fitted ...inspect.Fitting) error {
	var out, back []inspect.Fitting
	for _, f := range fitted {
		now, ok := c.fitting(f.ID)
		if !ok || !now.In() || now.FittedVisit != c.Visit.ID {
			return inspect.Refuse(inspect.Conflict, "the new %s is not in any more: look at the parts again", f.Part)
		}
		now.End, now.EndVisit, now.EndedOn = inspect.EndTakenBack, c.Visit.ID, d.Clock()
		now.EndHours, now.EndU = now.FittedAt, now.FittedU
		out = append(out, now)
		for _, old := range c.Fittings {
			if old.Part == f.Part && old.Leg == f.Leg && old.EndVisit == c.Visit.ID && !old.In() && old.ID != f.ID {
				old.End, old.EndVisit, old.EndHours, old.EndU = inspect.StillIn, "", 0, 0
				old.EndedOn = inspect.Fitting{}.EndedOn
				back = append(back, old)
			}
		}
	}
	if len(out) == 0 {
		return nil
	}
	return d.refit(ctx, c, append(out, back...), nil) // out first: its place must be free
}

func (c *Case) fitting(id inspect.ID) (inspect.Fitting, bool) {
	for _, f := range c.Fittings {
		if f.ID == id {
			return f, true
		}
	}
	return inspect.Fitting{}, false
}
