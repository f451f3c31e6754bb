package words

import (
	"fmt"

	"forkwear/inspect/stats"
	"forkwear/ui/tongue"
)

// Estimate writes a figure with its limits: "1.8 (0.9 to 3.2)". A limit that
// does not exist is left open.
func Estimate(e stats.Estimate) string {
	low, high := "…", "…"
	if e.Low != nil {
		low = rough(*e.Low)
	}
	if e.High != nil {
		high = rough(*e.High)
	}
	return tongue.Sayf("%s (%s to %s)", rough(e.Value), low, high)
}

func rough(v float64) string { return Decimal(fmt.Sprintf("%.2g", v)) }
