package visitbar

import (
	"sort"

	"forkwear/inspect/shop"
)

// scheduled is the rule that renews a part because its level always does.
const scheduled = 4

// Sorted puts the lines of one visit in the order in which they are told:
// verdicts as they come, within each what is not safe to ride first, then what
// was found, then what is renewed anyway.
func Sorted(lines []shop.Line) []shop.Line {
	out := append([]shop.Line(nil), lines...)
	first := map[string]int{}
	for i, l := range lines {
		v := string(l.Assessment.InForce())
		if _, ok := first[v]; !ok {
			first[v] = i
		}
	}
	sort.SliceStable(out, func(i, j int) bool {
		a, b := out[i].Assessment, out[j].Assessment
		if fa, fb := first[string(a.InForce())], first[string(b.InForce())]; fa != fb {
			return fa < fb
		}
		return weight(out[i]) < weight(out[j])
	})
	return out
}

func weight(l shop.Line) int {
	if l.Assessment.DoNotRide {
		return 0
	}
	for _, r := range l.Assessment.Reasons {
		if r.Decide && r.Rule == scheduled {
			return 2
		}
	}
	return 1
}
