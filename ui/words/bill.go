package words

import (
	"fmt"
	"strings"

	"forkwear/inspect"
	"forkwear/inspect/shop"
)

// Price writes a sum of prices: "100.00 EUR", "from 100.00 EUR" where some of
// it has no price, "no price yet", "no charge".
func Price(a shop.Amount) string {
	switch {
	case a.Money.Minor == 0 && !a.Known():
		return "no price yet"
	case a.Money.Minor == 0:
		return "no charge"
	case !a.Known():
		return "from " + Money(a.Money)
	}
	return Money(a.Money)
}

// Proposed writes what the decision comes to: "5 lines to replace · from 420.00
// EUR · about 2 h of work · 3 not priced".
func Proposed(b shop.Bill) string {
	if b.Lines == 0 {
		return "Nothing to replace"
	}
	s := count(b.Lines-b.Declined, "line") + " to replace · " + Price(b.All)
	if b.Lines == b.Declined {
		return "Nothing to replace: all was declined"
	}
	if b.All.Minutes > 0 {
		s += " · about " + Minutes(b.All.Minutes) + " of work"
	}
	if b.All.Unknown > 0 {
		s += fmt.Sprintf(" · %d not priced", b.All.Unknown)
	}
	return s
}

// Agreed writes what the customer said so far: "Yes to 2, no to 1, 2 not asked
// yet · yes comes to 100.00 EUR".
func Agreed(b shop.Bill) string {
	if b.Lines == 0 {
		return ""
	}
	if b.Accepted+b.Declined == 0 {
		return "The customer has not been asked yet"
	}
	var said []string
	if b.Accepted > 0 {
		said = append(said, fmt.Sprintf("yes to %d", b.Accepted))
	}
	if b.Declined > 0 {
		said = append(said, fmt.Sprintf("no to %d", b.Declined))
	}
	s := "The customer said " + strings.Join(said, ", ")
	if left := b.Lines - b.Accepted - b.Declined; left > 0 {
		s += fmt.Sprintf(", %d not asked yet", left)
	}
	if b.Accepted > 0 {
		s += " · yes comes to " + Price(b.Yes)
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
		return "Go ahead up to " + limit + ": over it by " + Money(over) + ", ask the customer first"
	case !b.All.Known():
		return "Go ahead up to " + limit + ": not sure, prices are missing"
	}
	return "Go ahead up to " + limit + ": within it"
}

func count(n int, what string) string {
	if n == 1 {
		return "1 " + what
	}
	return fmt.Sprintf("%d %ss", n, what)
}
