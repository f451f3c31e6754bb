package report

import (
	"math"
	"strings"

	"forkwear/inspect"
	"forkwear/inspect/shop"
	"forkwear/inspect/verdict"
	"forkwear/ui/tongue"
	"forkwear/ui/words"
)

func cardOf(s Source, l shop.Line, a *album) card {
	as := l.Assessment
	k := card{Verdict: as.InForce(), Word: words.Verdict(as.InForce()), Part: words.PartAt(partName(l), as.Leg),
		Sentence: l.Sentence, Chance: chance(l), Sold: sold(s, l), Price: price(s, l), Answer: answer(l.Consent), name: partName(l), leg: as.Leg}
	if s.Jobs != nil || as.InForce() == inspect.Measure { // the table of costs has it; nobody is asked what to measure
		k.Answer, k.Price = "", ""
	}
	if as.InForce() == inspect.Replace && !words.Routine(as) && !strings.Contains(l.Sentence, l.Lead.Fails) {
		k.Why = words.Meaning(as, l.Lead.Fails)
	}
	if l.Renewed {
		k.Done = tongue.Say("Fitted new during this visit.")
	}
	if l.Then != nil {
		k.Then = a.take(*l.Then, tongue.Say("Then"), hoursOf(l.ThenVisit))
	}
	if l.Now != nil {
		k.Now = a.take(*l.Now, tongue.Say("Now"), &s.Story.Case.Claim.Hours)
	}
	if words.Routine(as) { // nothing was found: no sentence may sound as if
		k.Chance = ""
		return k
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
	likely := verdict.ChanceIn(tongue.Say, a.PThen)
	if strings.Contains(l.Sentence, likely) {
		return ""
	}
	said := tongue.Sayf("%s that it wears out before the next service.", likely)
	if a.PThen > 0.98 {
		said = tongue.Sayf("%s that it does not last until the next service.", likely)
	}
	if a.PriorOnly {
		said += " " + tongue.Say("This rests on the typical life of such a part.")
	}
	return said
}

func answer(k *inspect.Consent) string {
	if k == nil {
		return tongue.Say("not asked yet")
	}
	s := tongue.Say("yes")
	if !k.Accepted {
		s = tongue.Say("no")
	}
	for _, w := range []string{k.By, tongue.Say(k.How), words.Date(k.At)} {
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
		r.Note, r.Left = tongue.Say("Renewed with its kit."), tongue.SayAs("part", "new")
		return r
	}
	if a.WearUsed != nil && !math.IsNaN(*a.WearUsed) {
		u := math.Max(0, *a.WearUsed)
		r.Used, r.UsedWord = &u, words.Share(u)
	}
	if w := words.Remedy(a.Remedy); w != "" && a.WearUsed != nil && *a.WearUsed >= 1 {
		r.Left, r.remedied = w, true
		return r
	}
	switch {
	case l.Part.NoLife:
		r.Left = "–"
	case a.Baseline:
		r.Left = tongue.Say("baseline taken")
	case a.NoTrend:
		r.Left = tongue.Say("no wear seen yet")
	case a.HoursLeft != nil:
		unit := "h"
		if byMonths(l) {
			unit = words.UnitWord("months")
		}
		r.Left = tongue.Sayf("%.0f to %.0f%s%s", math.Max(0, a.HoursLeft.P05), a.HoursLeft.P95, words.Thin, unit)
		if a.PriorOnly {
			r.Left = tongue.Sayf("%s, by typical life", r.Left)
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
