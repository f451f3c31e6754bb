package handback

import (
	"fmt"

	"fyne.io/fyne/v2/lang"

	"forkwear/inspect"
	"forkwear/inspect/catalog"
	"forkwear/inspect/shop"
	"forkwear/ui/words"
)

// missing lists what is not there yet before a fork goes back. It forbids
// nothing: the technician may still hand it over.
func missing(c *shop.Case, safety []catalog.Task, done map[string]bool, renewed func(a inspect.Assessment) bool) []string {
	var out []string
	open := 0
	for _, k := range safety {
		if !done[k.ID] {
			open++
		}
	}
	if open > 0 {
		out = append(out, fmt.Sprintf(lang.L("safety list: %d of %d still to tick"), open, len(safety)))
	}
	found, left := 0, 0
	for _, st := range c.Settings {
		if st.Moment == "found" {
			found++
		} else {
			left++
		}
	}
	if found > 0 && left == 0 {
		out = append(out, lang.L("settings as left: none written down"))
	}
	if len(c.Assessments) == 0 {
		out = append(out, lang.L("no part has a verdict"))
	}
	unfit, unsafe := 0, 0
	for _, a := range c.Assessments {
		if a.NotOpened || renewed(a) {
			continue
		}
		if a.DoNotRide {
			unsafe++
		}
		if a.InForce() == inspect.Replace && !declined(c, a.ID) {
			unfit++
		}
	}
	if unfit > 0 {
		out = append(out, fmt.Sprintf(lang.L("%s to replace, neither renewed nor declined"), words.Count(unfit, "part")))
	}
	if unsafe > 0 {
		out = append(out, fmt.Sprintf(lang.L("do not ride: %s"), words.Count(unsafe, "part")))
	}
	return out
}

// declined tells whether the customer said no to a line; a yes that was not
// fitted is still missing.
func declined(c *shop.Case, a inspect.ID) bool {
	k, ok := c.AnswerOn(a)
	return ok && !k.Accepted
}
