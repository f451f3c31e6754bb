package report

import (
	"math"
	"sort"
	"strings"

	"forkwear/inspect"
	"forkwear/ui/tongue"
	"forkwear/ui/words"
)

// cost is one line of the estimate as the customer reads it.
type cost struct{ Name, Holds, Price, Answer string }

// costs lists what is sold and done, each with what its price is for, and what
// it comes to without the lines that were declined.
func costs(s Source) (out []cost, total fact) {
	c := s.Story.Case
	sum := c.Visit.Package.Minor
	currency, unknown, declined := c.Visit.Package.Currency, 0, false
	if sum > 0 {
		out = append(out, cost{Name: c.Level.Name, Holds: tongue.Say("agreed at drop-off"), Price: kept(words.Money(c.Visit.Package))})
	}
	for _, j := range s.Jobs {
		if j.Verdict != inspect.Replace {
			continue
		}
		k := cost{Name: words.JobName(j), Holds: words.JobHolds(j, s.Jobs), Price: kept(words.Price(j.Price)), Answer: answer(j.Answer)}
		if j.Included {
			k.Price = tongue.Say("in the agreed price")
		}
		out = append(out, k)
		if yes, answered := j.Answered(); answered && !yes {
			declined = true
			continue
		}
		unknown += j.Price.Unknown
		if j.Price.Money.Currency != "" {
			currency = j.Price.Money.Currency
		}
		if sum > math.MaxInt64-j.Price.Money.Minor {
			unknown++ // no sum that is told would be true
			continue
		}
		sum += j.Price.Money.Minor
	}
	total.Name = tongue.Say("Together")
	if declined {
		total.Name = tongue.Say("Together, without what you declined")
	}
	total.Value = together(sum, currency, unknown)
	return out, total
}

func together(sum int64, currency string, unknown int) string {
	money := words.Money(inspect.Money{Minor: sum, Currency: currency})
	switch {
	case sum == 0 && unknown > 0:
		return tongue.Say("no price yet")
	case unknown > 0:
		return kept(tongue.Sayf("from %s", money))
	case sum == 0:
		return tongue.Say("no charge")
	}
	return kept(money)
}

// ordered puts what is sold together one after the other, as in the estimate.
func ordered(s Source) Source {
	at := map[inspect.ID]int{}
	for i, j := range s.Jobs {
		for _, p := range j.Parts {
			at[p.Assessment.ID] = i
		}
	}
	st := *s.Story
	st.Lines = append(st.Lines[:0:0], st.Lines...)
	place := func(i int) int {
		a := st.Lines[i].Assessment
		n, sold := at[a.ID]
		switch {
		case a.InForce() != inspect.Replace:
			return len(s.Jobs) + 1
		case !sold:
			return len(s.Jobs)
		}
		return n
	}
	if s.Jobs != nil {
		keys := map[inspect.ID]int{}
		for i, l := range st.Lines {
			keys[l.Assessment.ID] = place(i)
		}
		sort.SliceStable(st.Lines, func(i, k int) bool { return keys[st.Lines[i].Assessment.ID] < keys[st.Lines[k].Assessment.ID] })
	}
	s.Story = &st
	return s
}

// joined makes one card of the two legs where both say the same and neither has
// a photo or a wear line of its own.
func joined(cards []card) []card {
	var out []card
	for _, k := range cards {
		n := len(out) - 1
		if n >= 0 && out[n].same(k) {
			out[n].Part = k.name + ", " + tongue.Sayf("%s and %s", words.Leg(out[n].leg), words.Leg(k.leg))
			out[n].leg = inspect.Whole
			continue
		}
		out = append(out, k)
	}
	return out
}

func (k card) same(o card) bool {
	bare := func(k card) bool { return k.Then == nil && k.Now == nil && k.Line == nil && k.leg != inspect.Whole }
	return bare(k) && bare(o) && k.name == o.name && k.leg != o.leg && k.Verdict == o.Verdict && k.Sentence == o.Sentence &&
		k.Chance == o.Chance && k.Why == o.Why && k.LineSays == o.LineSays && k.Answer == o.Answer && k.Done == o.Done
}

// alike is a group of parts of which the same is said and nothing was measured.
type alike struct {
	Note  string
	Parts []string
}

// grouped takes the parts of which nothing but the same sentence is told out of
// the table: nine times 'nothing found' is one paragraph.
func grouped(all []reused) (table []reused, same []alike) {
	at := map[string]int{}
	for _, r := range all {
		if r.Used != nil || r.Left != "–" {
			table = append(table, r)
			continue
		}
		i, ok := at[r.Note]
		if !ok {
			i = len(same)
			at[r.Note] = i
			same = append(same, alike{Note: r.Note})
		}
		same[i].Parts = append(same[i].Parts, r.Part)
	}
	for i := range same {
		same[i].Parts = bothLegs(same[i].Parts)
	}
	return table, same
}

// bothLegs names a part once where both legs are listed.
func bothLegs(parts []string) []string {
	left, right := ", "+words.Leg(inspect.Left), ", "+words.Leg(inspect.Right)
	have := map[string]bool{}
	for _, p := range parts {
		have[p] = true
	}
	var out []string
	for _, p := range parts {
		switch base, leg := cutLeg(p, left, right); {
		case leg == left && have[base+right]:
			out = append(out, base)
		case leg == right && have[base+left]:
		default:
			out = append(out, p)
		}
	}
	return out
}

func cutLeg(part, left, right string) (base, leg string) {
	for _, l := range []string{left, right} {
		if b, ok := strings.CutSuffix(part, l); ok {
			return b, l
		}
	}
	return part, ""
}
