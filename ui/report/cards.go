package report

import (
	"fmt"
	"math"
	"strings"

	"forkwear/inspect"
	"forkwear/inspect/shop"
	"forkwear/inspect/verdict"
	"forkwear/ui/words"
)

func cardOf(s Source, l shop.Line, a *album) card {
	as := l.Assessment
	k := card{Verdict: as.InForce(), Word: words.Verdict(as.InForce()), Part: words.PartAt(partName(l), as.Leg),
		Sentence: l.Sentence, Chance: chance(l), Price: price(s, l), Answer: answer(l.Consent)}
	if as.InForce() == inspect.Replace && !strings.Contains(l.Sentence, l.Lead.Fails) {
		k.Why = l.Lead.Fails
	}
	if l.Renewed {
		k.Done = "Fitted new during this visit."
	}
	if l.Then != nil {
		k.Then = a.take(*l.Then, "Then", hoursOf(l.ThenVisit))
	}
	if l.Now != nil {
		k.Now = a.take(*l.Now, "Now", &s.Story.Case.Claim.Hours)
	}
	k.Line, k.LineSays = lineOf(l)
	return k
}

func hoursOf(v *inspect.VisitRow) *float64 {
	if v == nil {
		return nil
	}
	return &v.Hours
}

// chance says the chance not to last, unless the sentence has said it, or
// nothing but the limit stands behind it.
func chance(l shop.Line) string {
	a := l.Assessment
	if a.WearUsed == nil || a.NoTrend || a.Baseline || l.Part.NoLife || a.S == [3]float64{} || math.IsNaN(a.PThen) {
		return ""
	}
	said := verdict.Chance(a.PThen)
	if a.PThen > 0.98 {
		said += " that it does not last until the next service."
	} else {
		said += " that it wears out before the next service."
	}
	if strings.Contains(l.Sentence, verdict.Chance(a.PThen)) {
		return ""
	}
	if a.PriorOnly {
		said += " This rests on the typical life of such a part."
	}
	return said
}

func answer(k *inspect.Consent) string {
	if k == nil {
		return "not asked yet"
	}
	s := "yes"
	if !k.Accepted {
		s = "no"
	}
	for _, w := range []string{k.By, k.How, words.Date(k.At)} {
		if w != "" && w != "–" {
			s += ", " + w
		}
	}
	return s
}

func reusedOf(l shop.Line) reused {
	a := l.Assessment
	r := reused{Part: words.PartAt(partName(l), a.Leg), Note: l.Sentence, UsedWord: "–", Left: "–"}
	if l.Renewed { // nothing spoke against it, but its kit was renewed
		r.Note, r.Left = "Renewed with its kit.", "new"
		return r
	}
	if a.WearUsed != nil && !math.IsNaN(*a.WearUsed) {
		u := math.Max(0, *a.WearUsed)
		r.Used, r.UsedWord = &u, words.Share(u)
	}
	switch {
	case l.Part.NoLife:
		r.Left = "never told for this part"
	case a.Baseline:
		r.Left = "baseline taken"
	case a.NoTrend:
		r.Left = "no wear seen yet"
	case a.HoursLeft != nil:
		unit := "h"
		if byMonths(l) {
			unit = "months"
		}
		r.Left = fmt.Sprintf("%.0f to %.0f%s%s", math.Max(0, a.HoursLeft.P05), a.HoursLeft.P95, words.Thin, unit)
		if a.PriorOnly {
			r.Left += ", by typical life"
		}
	}
	return r
}

func partName(l shop.Line) string {
	if l.Part.Name != "" {
		return l.Part.Name
	}
	return l.Assessment.Part
}
