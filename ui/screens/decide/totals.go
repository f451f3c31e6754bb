package decide

import (
	"fmt"
	"strings"

	"forkwear/inspect"
	"forkwear/inspect/catalog"
	"forkwear/inspect/shop"
	"forkwear/ui/words"
)

// Totals is what the decision comes to. What is sold as one kit counts once,
// however many of its parts go out.
type Totals struct {
	Parts, Answered, Accepted int
	All, Yes                  inspect.Money
	NoPrice                   int // kits and parts whose price is not known
	Minutes                   int
}

// TotalsOf reckons the totals of the lines whose verdict in force is replace.
func TotalsOf(lines []shop.Line, currency string, minutes func(job string) int) Totals {
	t := Totals{All: inspect.Money{Currency: currency}, Yes: inspect.Money{Currency: currency}}
	all, yes, jobs := map[string]bool{}, map[string]bool{}, map[string]bool{}
	for _, l := range lines {
		if l.Assessment.InForce() != inspect.Replace {
			continue
		}
		t.Parts++
		key := soldAs(l)
		if !all[key] {
			all[key] = true
			t.All.Minor += l.Kit.Price
			if l.Kit.Price == 0 {
				t.NoPrice++
			}
		}
		if !jobs[l.Kit.Job] {
			jobs[l.Kit.Job] = true
			t.Minutes += minutes(l.Kit.Job)
		}
		if l.Consent == nil {
			continue
		}
		t.Answered++
		if !l.Consent.Accepted {
			continue
		}
		t.Accepted++
		if !yes[key] {
			yes[key] = true
			t.Yes.Minor += l.Kit.Price
		}
	}
	return t
}

// soldAs names what is paid once: a kit and a joint assembly cover both legs,
// a loose tube and a part that is sold alone are paid for each leg.
func soldAs(l shop.Line) string {
	switch {
	case l.Kit.ID == "":
		return l.Part.ID + "|" + string(l.Assessment.Leg)
	case l.Kit.Kind == "part" || l.Kit.ID == l.Part.SoldAsLoose:
		return l.Kit.ID + "|" + string(l.Assessment.Leg)
	}
	return l.Kit.ID
}

// String writes the totals in one line.
func (t Totals) String() string {
	if t.Parts == 0 {
		return "Nothing to replace"
	}
	parts := []string{fmt.Sprintf("%d to replace", t.Parts)}
	if m := words.Money(t.All); m != "" {
		parts[0] += ", " + m
	}
	accepted := fmt.Sprintf("customer said yes to %d of %d", t.Accepted, t.Parts)
	if m := words.Money(t.Yes); m != "" {
		accepted += ", " + m
	}
	parts = append(parts, accepted)
	if t.Minutes > 0 {
		parts = append(parts, "about "+words.Minutes(t.Minutes)+" of work")
	}
	if t.NoPrice > 0 {
		parts = append(parts, fmt.Sprintf("%d not priced", t.NoPrice))
	}
	return strings.Join(parts, "  ·  ")
}

func minutesOf(c *catalog.Catalog) func(string) int {
	return func(job string) int {
		j, _ := c.Job(job)
		return j.Minutes
	}
}
