package report

import (
	"strings"

	"forkwear/inspect"
	"forkwear/inspect/shop"
	"forkwear/ui/tongue"
	"forkwear/ui/words"
)

// sold names the line of the estimate in which a part is renewed; the price
// stands there, once for all that is sold and done with it.
func sold(s Source, l shop.Line) string {
	if l.Assessment.InForce() != inspect.Replace {
		return ""
	}
	for _, j := range s.Jobs {
		for _, p := range j.Parts {
			if p.Assessment.ID == l.Assessment.ID && j.Verdict == inspect.Replace {
				if name := words.JobName(j); name != words.PartAt(partName(l), l.Assessment.Leg) {
					return tongue.Sayf("in: %s", name)
				}
				return ""
			}
		}
	}
	return ""
}

// price is the catalog's price of a part's kit; only where the lines of the
// decision, which have the shop's, are not there.
func price(s Source, l shop.Line) string {
	if l.Assessment.InForce() != inspect.Replace {
		return ""
	}
	return catalogPrice(s.Story.Case, l)
}

func catalogPrice(c *shop.Case, l shop.Line) string {
	if l.Kit.Price <= 0 {
		return ""
	}
	currency := c.Visit.Package.Currency
	if currency == "" {
		currency = c.Visit.GoAhead.Currency
	}
	p := kept(strings.TrimSpace(words.Money(inspect.Money{Minor: l.Kit.Price, Currency: currency})))
	if l.Kit.Name != "" {
		p = l.Kit.Name + ", " + p
	}
	return p
}

// kept keeps an amount and its currency on one line.
func kept(s string) string { return strings.ReplaceAll(s, " ", "\u00a0") }
