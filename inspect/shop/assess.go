package shop

import (
	"context"
	"math"
	"slices"

	"forkwear/inspect"
	"forkwear/inspect/catalog"
	"forkwear/inspect/verdict"
)

// Assess decides every part of the fork on what is known now, without keeping
// it. Parts that no check of this visit looks at and that the level does not
// open come out as 'not opened'.
func (d *Desk) Assess(ctx context.Context, c *Case, rules verdict.Rules) ([]inspect.Assessment, error) {
	byPart := d.positionsByPart(c)
	faster, err := d.Faster(ctx, c)
	if err != nil {
		return nil, err
	}
	prices, err := d.Prices(ctx)
	if err != nil && inspect.CodeOf(err) != inspect.Invalid { // one that can't be read counts as not set
		return nil, err
	}
	var as []inspect.Assessment
	for _, p := range catalog.PartPositions(d.Catalog, c.Sheet) {
		in, err := d.input(ctx, c, p, byPart[position{p.Part.ID, p.Leg}], rules)
		if err != nil {
			return nil, err
		}
		for i := range in.Findings {
			in.Findings[i].Faster = whyFaster(d.Catalog.Tongue, faster, in.Findings[i])
		}
		in.Price, in.Minutes = d.priceOf(c, p.Part, prices)
		a := verdict.Decide(in, rules)
		a.ID, a.VisitID, a.By, a.At = d.NewID(), c.Visit.ID, d.Who(), d.Clock()
		a.Sheet, a.Catalog, a.SheetHash = c.Sheet.ID, d.Catalog.Hash, d.Catalog.Hash
		if f, ok := c.Fitting(p.Part.ID, p.Leg); ok {
			a.FittingID = f.ID
			a.TNow = math.Max(0, c.Claim.Hours-f.FittedAt)
		}
		as = append(as, a)
	}
	return as, nil
}

// Decide assesses and keeps every decision that is not the one on record; older
// rounds stay on record. A part that nothing changed for keeps its decision, and
// with it the override and the customer's answer. Where the grounds changed and
// the part still is to be replaced, a customer's no goes on to the new decision:
// it is asked again, but nothing is renewed against it meanwhile.
func (d *Desk) Decide(ctx context.Context, c *Case, rules verdict.Rules) error {
	as, err := d.Assess(ctx, c, rules)
	if err != nil {
		return err
	}
	kept := map[position]inspect.Assessment{}
	for _, a := range c.Assessments {
		kept[position{a.Part, a.Leg}] = a
	}
	var changed []inspect.Assessment
	var no []inspect.Consent
	for _, a := range as {
		old, had := kept[position{a.Part, a.Leg}]
		if had && saysSame(old, a) {
			continue
		}
		changed = append(changed, a)
		if k, ok := c.answerOn(old.ID); had && ok && !k.Accepted && a.Verdict == inspect.Replace {
			k.ID, k.AssessmentID = d.NewID(), a.ID
			no = append(no, k)
		}
	}
	if len(changed) == 0 {
		return nil
	}
	if err := d.Lib.AddAssessments(ctx, changed...); err != nil {
		return err
	}
	if err := d.keepAnswers(ctx, c, no); err != nil {
		return err
	}
	c.Assessments, err = d.Lib.LatestAssessments(ctx, c.Visit.ID)
	return err
}

// saysSame tells whether two decisions say the same on the same readings.
func saysSame(a, b inspect.Assessment) bool {
	return a.Verdict == b.Verdict && a.Remedy == b.Remedy && a.DoNotRide == b.DoNotRide && a.NoPhoto == b.NoPhoto &&
		a.NotOpened == b.NotOpened && a.Baseline == b.Baseline && a.LeadCheck == b.LeadCheck && a.FittingID == b.FittingID &&
		slices.Equal(a.ReadingIDs, b.ReadingIDs) && slices.Equal(a.Reasons, b.Reasons)
}

// answerOn is the customer's newest answer on a decision that was not taken back.
func (c *Case) answerOn(assessment inspect.ID) (inspect.Consent, bool) {
	var out inspect.Consent
	for _, k := range inspect.Answers(c.Consents) {
		if k.AssessmentID == assessment && !k.At.Before(out.At) {
			out = k
		}
	}
	return out, out.ID != ""
}

// Causes ties the findings of one leg together.
func (d *Desk) Causes(c *Case) []catalog.FoundCause {
	return catalog.Causes(d.Catalog, c.Sheet, c.Evidence())
}

type position struct {
	part string
	leg  inspect.Leg
}

func (d *Desk) positionsByPart(c *Case) map[position][]catalog.Position {
	lines := map[string][]catalog.Position{}
	seen := map[string]bool{}
	add := func(ps []catalog.Position, need bool) {
		for _, p := range ps {
			if need && !c.Answered(p) {
				continue
			}
			id := p.Check.ID + "|" + string(p.Leg) + "|" + string(p.Stage)
			if seen[id] {
				continue
			}
			seen[id] = true
			lines[p.Check.Part] = append(lines[p.Check.Part], p)
		}
	}
	for _, st := range []inspect.Stage{inspect.Received, inspect.Stripped} {
		add(d.Positions(c, st), false)
		add(catalog.AllPositions(d.Catalog, c.Sheet, st), true)
	}
	out := map[position][]catalog.Position{}
	for _, at := range catalog.PartPositions(d.Catalog, c.Sheet) {
		for _, p := range lines[at.Part.ID] {
			if p.Leg == at.Leg || p.Leg == inspect.Whole || at.Leg == inspect.Whole {
				id := position{at.Part.ID, at.Leg}
				out[id] = append(out[id], p)
			}
		}
	}
	return out
}

func (d *Desk) input(ctx context.Context, c *Case, at catalog.PartAt, lines []catalog.Position, rules verdict.Rules) (verdict.Input, error) {
	in := verdict.Input{Part: at.Part, Leg: at.Leg, Horizon: d.horizon(c, at.Part.ID), Gauges: d.Catalog.Instruments, Tongue: d.Catalog.Tongue}
	if door, ok := d.Catalog.Level(at.Part.Door); ok {
		in.NextDoor = door.Name
	}
	in.HorizonU = horizonShare * in.Horizon
	in.Opened = len(lines) > 0
	for _, id := range d.Catalog.Renewed(c.Visit.Level) {
		in.Renewed = in.Renewed || id == at.Part.ID
	}
	in.Opened = in.Opened || in.Renewed
	in.DueYears = d.dueByYears(c, at)
	done := map[string]bool{}
	for _, p := range lines {
		id := p.Check.ID + string(p.Leg)
		if done[id] { // asked at two stages: one finding, the stripped one before the received
			continue
		}
		done[id] = true
		f, err := d.finding(ctx, c, at, p, rules)
		if err != nil {
			return in, err
		}
		if life := p.Check.LifeFor(c.Sheet); p.Check.Grows == catalog.ByHours && life > 0 && (in.LifeNew == 0 || life < in.LifeNew) {
			in.LifeNew = life
		}
		in.Findings = append(in.Findings, f)
	}
	return in, d.unseen(ctx, c, at, done, rules, &in)
}

// unseen adds what the checks that were not asked this time still say: a
// do-not-ride finding of an earlier visit that stands, and, for a part that was
// not opened, the forecast of its trends.
func (d *Desk) unseen(ctx context.Context, c *Case, at catalog.PartAt, done map[string]bool, rules verdict.Rules, in *verdict.Input) error {
	opened := in.Opened
	for _, k := range d.Catalog.ChecksOf(at.Part.ID) {
		if !d.Catalog.Applies(k, c.Sheet) {
			continue
		}
		for _, leg := range c.Sheet.LegsOf(k.Legs) {
			if done[k.ID+string(leg)] || leg != at.Leg && leg != inspect.Whole && at.Leg != inspect.Whole {
				continue
			}
			f := verdict.Finding{Check: k, Leg: leg}
			if r, ok := c.standing(k, at, leg); ok {
				f.Reading, f.IDs, f.Carried, f.Doubt = &r, []inspect.ID{r.ID}, true, doubted(r)
				in.Opened = true
			} else if !opened {
				if err := d.wearOf(ctx, c, at, &f, rules); err != nil {
					return err
				}
				f.IDs = nil
			}
			if f.Reading != nil || f.Wear != nil {
				in.Findings = append(in.Findings, f)
			}
		}
	}
	return nil
}
