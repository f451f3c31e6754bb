package words

import (
	"strings"

	"forkwear/inspect"
	"forkwear/inspect/shop"
	"forkwear/inspect/verdict"
	"forkwear/ui/tongue"
)

// Stays is what happens if a part stays in, as the customer is told it at the
// counter: a chance until the next service, never a median.
func Stays(a inspect.Assessment) string {
	switch {
	case a.DoNotRide:
		return tongue.Say("If it stays: do not ride this fork.")
	case a.WearUsed != nil && a.PNow > 0.95, a.WearUsed != nil && *a.WearUsed >= 1:
		return tongue.Say("If it stays: it is past its limit already, and it will not get better by itself.")
	case a.WearUsed != nil && !a.NoTrend && a.PThen > 0 && a.Horizon > 0:
		return tongue.Sayf("If it stays: %s that it is worn out before the next service, in about %s of riding.",
			lowerFirst(verdict.ChanceIn(tongue.Say, a.PThen)), Hours(a.Horizon))
	case Routine(a):
		return tongue.Say("If it stays: nothing was found on it, but this service opens its place, and later it costs the work again.")
	case a.InForce() == inspect.Replace:
		return tongue.Say("If it stays: what was found stays as it is until the next service.")
	case a.InForce() == inspect.Measure:
		return tongue.Say("If it stays: nobody can say before it is looked at again.")
	}
	return tongue.Say("If it stays: nothing speaks against it until the next service.")
}

// StaysBeside is Stays, or "" where the sentence it would stand under has told
// the same chance already: nobody wants to be warned twice in other words.
func StaysBeside(a inspect.Assessment, said string) string {
	stays := Stays(a)
	if !a.DoNotRide && a.WearUsed != nil && a.PThen > 0 && strings.Contains(strings.ToLower(stays), strings.ToLower(verdict.ChanceIn(tongue.Say, a.PThen))) &&
		strings.Contains(strings.ToLower(said), strings.ToLower(verdict.ChanceIn(tongue.Say, a.PThen))) {
		return ""
	}
	return stays
}

// Amount writes a sum of prices; what has no price is said beside it.
func Amount(a shop.Amount) string {
	money := Money(a.Money)
	switch {
	case a.Known() && a.Money.Minor == 0:
		return tongue.Say("nothing more")
	case a.Known():
		return money
	case a.Money.Minor == 0 || money == "":
		return tongue.Say("ask us for the price")
	case a.Unknown == 1:
		return tongue.Sayf("from %s, one price is not set yet", money)
	}
	return tongue.Sayf("from %s, %d prices are not set yet", money, a.Unknown)
}

// SignedBy writes who signed, and how.
func SignedBy(by string, onPaper bool) string {
	by = strings.TrimSpace(by)
	switch {
	case by == "":
		return ""
	case onPaper:
		return tongue.Sayf("signed by %s on paper", by)
	}
	return tongue.Sayf("signed by %s", by)
}
