package report

import (
	"strings"

	"forkwear/inspect"
	"forkwear/inspect/shop"
	"forkwear/ui/tongue"
	"forkwear/ui/words"
)

// price is what a part costs to renew, told once for all that is sold and done
// with it: the other parts name what they go with. Without the lines of the
// decision it is the catalog's.
func price(s Source, l shop.Line) string {
	if l.Assessment.InForce() != inspect.Replace {
		return ""
	}
	if s.Jobs == nil {
		return catalogPrice(s.Story.Case, l)
	}
	for _, j := range s.Jobs {
		for i, p := range j.Parts {
			switch {
			case p.Assessment.ID != l.Assessment.ID || j.Verdict != inspect.Replace:
			case i > 0:
				return tongue.Sayf("in the price of: %s", j.Name)
			case j.Included:
				return tongue.Sayf("%s, in the agreed price", j.Name)
			case j.Price.Money.Minor > 0:
				return j.Name + ", " + kept(words.Price(j.Price))
			}
		}
	}
	return ""
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
