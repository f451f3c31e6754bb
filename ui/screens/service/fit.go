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
	for _, k := range inspect.Answers(c.Consents) { // oldest first: the newest answer counts
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
