package service

import (
	"sort"

	"forkwear/inspect"
	"forkwear/inspect/shop"
)

// fitState is where a part stands that the decision puts out.
type fitState int

const (
	waits    fitState = iota // no answer of the customer yet
	agreed                   // the customer said yes
	declined                 // the customer said no
	fitted                   // the new one is in
)

// toFit lists what the decision puts out, what is not safe first, with where
// each stands.
func toFit(c *shop.Case) (as []inspect.Assessment, states []fitState) {
	answers := map[inspect.ID]fitState{}
	for _, k := range c.Consents { // oldest first: the newest answer counts
		answers[k.AssessmentID] = declined
		if k.Accepted {
			answers[k.AssessmentID] = agreed
		}
	}
	all := append([]inspect.Assessment(nil), c.Assessments...)
	sort.SliceStable(all, func(i, j int) bool { return all[i].DoNotRide && !all[j].DoNotRide })
	for _, a := range all {
		if a.InForce() != inspect.Replace || a.NotOpened {
			continue
		}
		st := answers[a.ID]
		if c.Renewed(a.Part, a.Leg) {
			st = fitted
		}
		as, states = append(as, a), append(states, st)
	}
	return as, states
}

// endOf reads the reason that a part goes out from the rule that decided: rules
// 1 and 2 are a failure, 4 is the schedule; at the first visit it is what the
// fork came with. It is the reason that Desk.RenewDecided gives.
func endOf(c *shop.Case, a inspect.Assessment) inspect.EndReason {
	if a.Override != nil && a.Verdict != inspect.Replace {
		return inspect.EndOverride
	}
	end := inspect.EndWorn
	for _, r := range a.Reasons {
		switch {
		case r.Decide && r.Rule <= 2:
			end = inspect.EndFailed
		case r.Decide && r.Rule == 4:
			end = inspect.EndSchedule
		}
	}
	if len(c.Earlier) == 0 && end != inspect.EndSchedule {
		end = inspect.EndArrival
	}
	return end
}
