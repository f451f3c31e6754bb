package patterns

import (
	"fmt"
	"strings"

	"fyne.io/fyne/v2/lang"

	"forkwear/inspect/life"
	"forkwear/ui/words"
)

// thin says that there is too little to tell; the whole reason stands behind
// the row.
func thin(r life.PatternRow) string {
	if r.TooThin == "" {
		return ""
	}
	return lang.L("too thin to tell")
}

// median is the life at which half are gone, where it can be told.
func median(r life.PatternRow) string {
	if r.Median == nil || r.TooThin != "" {
		return ""
	}
	return fmt.Sprintf(lang.L("median life %s"), r.MedianText)
}

// verdict says in words whether a row stands out, by the limits of its ratio.
func verdict(r life.PatternRow) string {
	low, high := r.Ratio.Low, r.Ratio.High
	switch {
	case r.TooThin != "":
		return lang.L("too few to tell")
	case low != nil && *low > 1:
		return lang.L("more, hardly chance")
	case high != nil && *high < 1:
		return lang.L("fewer, hardly chance")
	}
	return lang.L("may be chance")
}

// two writes two significant figures.
func two(v float64) string { return words.Decimal(fmt.Sprintf("%.2g", v)) }

// told is the row in sentences.
func told(r life.PatternRow) string {
	said := []string{fmt.Sprintf(lang.L("%s on %s, watched over %s; %d failed in use and %d taken out for wear, %s expected."),
		words.Count(r.Fittings, "fitting"), words.Count(r.Forks, "fork"), words.Hours(r.Hours), r.Failed, r.Worn, words.Fixed(r.Expected, 1))}
	if r.Ratio != nil {
		said = append(said, fmt.Sprintf(lang.L("Ratio %s."), words.Estimate(*r.Ratio)))
	}
	if r.P != nil {
		said = append(said, fmt.Sprintf(lang.L("A difference as large as this comes by chance in %s %% of shops alike."), two(100**r.P)))
	}
	for _, x := range append([]string{r.TooThin, median(r)}, r.Remarks...) {
		if x != "" {
			said = append(said, words.Sentence(x))
		}
	}
	if n := len(r.LeftOut); n > 0 {
		said = append(said, fmt.Sprintf(lang.L("%d more fittings are listed and stay out of the sums: their hours are not known, or they came broken."), n))
	}
	return strings.Join(said, " ")
}
