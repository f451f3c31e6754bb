package words

import (
	"fmt"

	"forkwear/inspect/stats"
)

// Estimate writes a figure with its limits: "1.8 (0.9 to 3.2)". A limit that
// does not exist is left open.
func Estimate(e stats.Estimate) string {
	low, high := "…", "…"
	if e.Low != nil {
		low = fmt.Sprintf("%.2g", *e.Low)
	}
	if e.High != nil {
		high = fmt.Sprintf("%.2g", *e.High)
	}
	return fmt.Sprintf("%.2g (%s to %s)", e.Value, low, high)
}
