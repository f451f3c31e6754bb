package words

import (
	"forkwear/inspect"
	"forkwear/inspect/verdict"
	"forkwear/ui/tongue"
)

// IfItStays is what happens if a part stays in, in one sentence for the
// customer. It promises nothing that was not reckoned.
func IfItStays(a inspect.Assessment) string {
	switch {
	case a.DoNotRide:
		return tongue.Say("If it stays: the fork is not to be ridden as it is.")
	case a.Baseline:
		return tongue.Say("If it stays: this is its first reading, the next one tells how fast it goes.")
	case a.WearUsed != nil && a.PNow > 0.95, a.WearUsed != nil && *a.WearUsed >= 1:
		return tongue.Say("If it stays: it is past its limit already, and it will not get better by itself.")
	case a.WearUsed != nil && a.PThen > 0 && a.Horizon > 0:
		return tongue.Sayf("If it stays: %s that it is worn out before this is opened again, in about %s of riding.",
			lowerFirst(verdict.ChanceIn(tongue.Say, a.PThen)), Hours(a.Horizon))
	case a.InForce() == inspect.Replace:
		return tongue.Say("If it stays: what was found stays as it is, and it is looked at again when this is next opened.")
	}
	return tongue.Say("If it stays: nothing speaks against it until this is opened again.")
}

func lowerFirst(s string) string {
	if s == "" || s[0] < 'A' || s[0] > 'Z' {
		return s
	}
	return string(s[0]+'a'-'A') + s[1:]
}

// Certainty writes how sure a likely cause is.
func Certainty(c string) string {
	switch c {
	case "strong":
		return tongue.Say("Very likely")
	case "medium":
		return tongue.Say("Likely")
	}
	return tongue.Say("Possible")
}

// ConsentLine writes the customer's answer as it is kept.
func ConsentLine(k inspect.Consent) string {
	s := tongue.Say("No, leave it")
	if k.Accepted {
		s = tongue.Say("Yes, renew it")
	}
	if k.By != "" {
		s += " · " + k.By
	}
	if k.How != "" {
		s += " · " + tongue.Say(k.How)
	}
	return s + " · " + DateTime(k.At)
}

// Meaning is what a failing check means, for the customer. Said as it is where
// the part is past its limit or was found so; where it only will not last, as
// what is to come.
func Meaning(a inspect.Assessment, fails string) string {
	if fails == "" || a.WearUsed == nil || *a.WearUsed >= 1 || a.PNow > 0.5 {
		return fails
	}
	return tongue.Sayf("Once it is worn out: %s", fails)
}
