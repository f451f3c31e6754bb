package marks

import (
	"fmt"
	"math"

	"forkwear/inspect"
	"forkwear/ui/words"
)

// Value writes a measure with half of its 95 % range: "12.3 ± 0.5 mm". The
// larger half counts where the range is uneven.
func Value(m inspect.PhotoMeasure) string {
	half := math.Max(m.High-m.Value, m.Value-m.Low)
	unit := m.Unit
	if unit == "mm2" {
		unit = "mm²"
	}
	if !(half > 0) || math.IsInf(half, 0) {
		return fmt.Sprintf("%s %s", words.Fixed(m.Value, 1), unit)
	}
	digits := int(math.Max(0, math.Min(3, 1-math.Floor(math.Log10(half)))))
	if digits > 1 && half >= 0.2 { // a tenth of a mm is enough to read
		digits = 1
	}
	return fmt.Sprintf("%s ± %s %s", words.Fixed(m.Value, digits), words.Fixed(half, digits), unit)
}
