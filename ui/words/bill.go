package words

import (
	"strings"

	"forkwear/inspect"
	"forkwear/inspect/shop"
	"forkwear/ui/tongue"
)

// Price writes a sum of prices: "100.00 EUR", "from 100.00 EUR" where some of
// it has no price, "no price yet", "no charge".
func Price(a shop.Amount) string {
	switch {
	case a.Money.Minor == 0 && !a.Known():
		return tongue.Say("no price yet")
	case a.Money.Minor == 0:
		return tongue.Say("no charge")
	case !a.Known():
		return tongue.Sayf("from %s", Money(a.Money))
	}
	return Money(a.Money)
}

// Proposed writes what the decision comes to: "5 lines to replace · from 420.00
// EUR · about 2 h of work · 3 not priced".
func Proposed(b shop.Bill) string {
	if b.Lines == 0 {
		return tongue.Say("Nothing to replace")
	}
	if b.Lines == b.Declined {
		return tongue.Say("Nothing to replace: all was declined")
	}
	parts := []string{tongue.Sayf("%s to replace", Count(b.Lines-b.Declined, "line")), Price(b.All)}
	if b.All.Minutes > 0 {
		parts = append(parts, tongue.Sayf("about %s of work", Minutes(b.All.Minutes)))
	}
	if b.All.Unknown > 0 {
		parts = append(parts, tongue.Sayf("%d not priced", b.All.Unknown))
	}
	return strings.Join(parts, " · ")
}

// Agreed writes what the customer said so far: "Yes to 2, no to 1, 2 not asked
// yet · yes comes to 100.00 EUR".
func Agreed(b shop.Bill) string {
	if b.Lines == 0 {
		return ""
	}
	if b.Accepted+b.Declined == 0 {
		return tongue.Say("The customer has not been asked yet")
	}
	var said []string
	if b.Accepted > 0 {
		said = append(said, tongue.Sayf("yes to %d", b.Accepted))
	}
	if b.Declined > 0 {
		said = append(said, tongue.Sayf("no to %d", b.Declined))
	}
	if left := b.Lines - b.Accepted - b.Declined; left > 0 {
		said = append(said, tongue.Sayf("%d not asked yet", left))
	}
	s := tongue.Sayf("The customer said %s", strings.Join(said, ", "))
	if b.Accepted > 0 {
		s += " · " + tongue.Sayf("yes comes to %s", Price(b.Yes))
	}
	return s
}

// GoAhead compares what is proposed with the limit that the customer named; ""
// where none was named.
func GoAhead(b shop.Bill) string {
	limit := Money(b.GoAhead)
	switch {
	case limit == "" || b.Lines == 0:
		return ""
	case b.Over():
		over := inspect.Money{Minor: b.All.Money.Minor - b.GoAhead.Minor, Currency: b.GoAhead.Currency}
		return tongue.Sayf("Go ahead up to %s: over it by %s, ask the customer first", limit, Money(over))
	case !b.All.Known():
		return tongue.Sayf("Go ahead up to %s: not sure, prices are missing", limit)
	}
	return tongue.Sayf("Go ahead up to %s: within it", limit)
}
