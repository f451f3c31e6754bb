package words

import (
	"slices"
	"strings"

	"forkwear/inspect/shop"
	"forkwear/ui/tongue"
)

// JobName is what a line of the estimate is called towards the customer. The
// line of what a service level always renews is named after what is in it: its
// sum is theirs, not that of the whole service.
func JobName(j shop.Job) string {
	if !j.Level || len(j.Kits) == 0 {
		return j.Name
	}
	names := kitNames(j)
	switch {
	case len(names) == 0:
		return j.Name
	case len(names) > namedKits:
		return tongue.Sayf("%s: what is always renewed", j.Name)
	}
	return tongue.Sayf("%s (always renewed)", strings.Join(names, "; "))
}

// namedKits is how many kits a name of a line still holds; more are told with
// what is in its price.
const namedKits = 2

func kitNames(j shop.Job) []string {
	var names []string
	for _, k := range j.Kits {
		if k.Name != "" && !slices.Contains(names, k.Name) {
			names = append(names, k.Name)
		}
	}
	return names
}

// JobHolds tells what the price of a line is for: parts, work, or that its work
// stands in another line of the same estimate.
func JobHolds(j shop.Job, jobs []shop.Job) string {
	said := holds(j, jobs)
	if names := kitNames(j); j.Level && len(names) > namedKits {
		return tongue.Sayf("%s: %s", strings.Join(names, "; "), said)
	}
	return said
}

func holds(j shop.Job, jobs []shop.Job) string {
	minutes := j.Price.Minutes
	switch {
	case j.Shared != "" && minutes == 0:
		return tongue.Sayf("parts; the work is in the line “%s”", sharedName(j, jobs))
	case j.Shared != "":
		return tongue.Sayf("parts and about %s of work; the rest of the work is in the line “%s”", Minutes(minutes), sharedName(j, jobs))
	case minutes > 0 && len(j.Kits) > 0:
		return tongue.Sayf("parts and about %s of work", Minutes(minutes))
	case minutes > 0:
		return tongue.Sayf("about %s of work", Minutes(minutes))
	case len(j.Kits) > 0:
		return tongue.Say("parts")
	}
	return ""
}

func sharedName(j shop.Job, jobs []shop.Job) string {
	for _, o := range jobs {
		if o.Name == j.Shared && o.Key != j.Key {
			return JobName(o)
		}
	}
	return j.Shared
}
