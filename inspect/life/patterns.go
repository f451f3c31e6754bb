package life

import (
	"fmt"
	"math"
	"sort"

	"forkwear/inspect"
	"forkwear/inspect/stats"
)

// Fitting is one part's life as the patterns need it.
type Fitting struct {
	ID, Part, PartName, Sheet, ForkID string

	Hours      float64 // on the part at its end, or now
	HoursKnown bool    // false: age not known, it stays out of the sums
	EntryHours float64 // hours already on it when first seen; 0: fitted new
	End        inspect.EndReason
}

// event tells whether its life in service ended: failed in use or worn out.
func (f Fitting) event() bool {
	return f.End == inspect.EndFailed || f.End == inspect.EndWorn
}

// usable tells whether the fitting was watched over known hours.
func (f Fitting) usable() bool {
	return f.HoursKnown && f.End != inspect.EndArrival && !math.IsNaN(f.Hours) && !math.IsInf(f.Hours, 0) &&
		f.Hours >= 0 && f.EntryHours >= 0 && (f.EntryHours == 0 || f.EntryHours < f.Hours)
}

func (f Fitting) lifetime() stats.Lifetime {
	return stats.Lifetime{Time: f.Hours, Failed: f.event(), Entry: f.EntryHours}
}

// PatternRow is one part on the forks of one data sheet, against the same part
// on all sheets.
type PatternRow struct {
	Part     string  `json:"part"`
	PartName string  `json:"part_name"`
	Sheet    string  `json:"sheet"`
	Fittings int     `json:"fittings"` // used in the sums
	Forks    int     `json:"forks"`
	Hours    float64 `json:"hours"` // watched, all fittings together
	Failures int     `json:"failures"`
	Failed   int     `json:"failed"` // of Failures: in use
	Worn     int     `json:"worn"`   // of Failures: taken out for wear

	Median     *stats.Estimate `json:"median"` // Kaplan-Meier, life in service
	MedianText string          `json:"median_text"`

	Expected float64         `json:"expected"`
	Ratio    *stats.Estimate `json:"ratio"`   // failures / expected
	Against  *stats.Estimate `json:"against"` // rate here / rate of the rest; none when every failure is here
	P        *float64        `json:"p"`
	Q        *float64        `json:"q"`
	TooThin  string          `json:"too_thin"` // in words; empty: thick enough
	Remarks  []string        `json:"remarks"`

	IDs     []string `json:"fitting_ids"`  // behind the sums
	LeftOut []string `json:"left_out_ids"` // hours not known, or broken on arrival

	tongue inspect.Tongue // of Remarks, MedianText and TooThin
}

// patternLevel is the level of all limits in the owner's view.
const patternLevel = 0.95

// Patterns gives one row for each part and sheet, highest lower limit of the
// ratio first, rows without one last.
//
// Expected failures come from the pooled Nelson-Aalen hazard of the part over
// all sheets (indirect standardisation), so that they add up to the failures.
// Given all N of them, a sheet's number is binomial with probability E/N: the
// limits are Clopper-Pearson's times N/E (against the rest: as odds), p is
// central. Where forks gave several fittings of a part each, p comes from
// shuffling the sheets over the forks instead. q is Benjamini-Hochberg's over
// every row with a p.
func Patterns(fittings []Fitting) []PatternRow { return PatternsIn(nil, fittings) }

// PatternsIn is Patterns with its remarks in a tongue.
func PatternsIn(t inspect.Tongue, fittings []Fitting) []PatternRow {
	parts := map[string][]Fitting{}
	for _, f := range fittings {
		parts[f.Part] = append(parts[f.Part], f)
	}
	rows := []PatternRow{}
	for _, of := range parts {
		rows = append(rows, partRows(t, of)...)
	}
	sort.Slice(rows, func(i, j int) bool { return rows[i].before(rows[j]) })
	p, q := []*float64{}, []**float64{}
	for i := range rows {
		p, q = append(p, rows[i].P), append(q, &rows[i].Q)
	}
	if err := setQ(p, q); err != nil {
		for i := range rows {
			rows[i].Remarks = append(rows[i].Remarks, t.Sayf("no q: %v", err))
		}
	}
	return rows
}

func (r PatternRow) before(s PatternRow) bool {
	low := func(r PatternRow) float64 {
		if r.Ratio == nil || r.Ratio.Low == nil {
			return -1
		}
		return *r.Ratio.Low
	}
	if a, b := low(r), low(s); a != b {
		return a > b
	}
	if r.Part != s.Part {
		return r.Part < s.Part
	}
	return r.Sheet < s.Sheet
}

// partRows makes the rows of one part.
func partRows(t inspect.Tongue, of []Fitting) []PatternRow {
	sort.Slice(of, func(i, j int) bool { return of[i].ID < of[j].ID })
	var pooled []stats.Lifetime
	var used []Fitting
	total := 0
	for _, f := range of {
		if f.usable() {
			used = append(used, f)
			pooled = append(pooled, f.lifetime())
			if f.event() {
				total++
			}
		}
	}
	hazard, err := stats.NelsonAalen(pooled)
	if err != nil {
		hazard = stats.Hazard{} // nothing usable: nothing is expected
	}
	bySheet := map[string][]Fitting{}
	for _, f := range of {
		bySheet[f.Sheet] = append(bySheet[f.Sheet], f)
	}
	var rows []PatternRow
	shuffled := shuffle(used, hazard)
	for sheet, own := range bySheet {
		r := newPatternRow(t, own, hazard)
		r.compare(total, len(bySheet), shuffled[sheet])
		rows = append(rows, r)
	}
	return rows
}

// newPatternRow sums the fittings of one part and sheet.
func newPatternRow(t inspect.Tongue, own []Fitting, hazard stats.Hazard) PatternRow {
	r := PatternRow{Part: own[0].Part, PartName: own[0].PartName, Sheet: own[0].Sheet,
		Remarks: []string{}, IDs: []string{}, LeftOut: []string{}, tongue: t}
	forks := map[string]bool{}
	var rows []stats.Lifetime
	for _, f := range own {
		if !f.usable() {
			r.LeftOut = append(r.LeftOut, f.ID)
			continue
		}
		r.IDs = append(r.IDs, f.ID)
		forks[f.ForkID] = true
		rows = append(rows, f.lifetime())
		r.Hours += f.Hours - f.EntryHours
		r.Expected += hazard.Expected(f.EntryHours, f.Hours)
		switch f.End {
		case inspect.EndFailed:
			r.Failed++
		case inspect.EndWorn:
			r.Worn++
		}
	}
	r.Fittings, r.Forks, r.Failures = len(r.IDs), len(forks), r.Failed+r.Worn
	if n := len(r.LeftOut); n > 0 {
		r.Remarks = append(r.Remarks, r.tongue.Sayf("left out, for their hours are not known or they came broken: %d", n))
	}
	r.setMedian(rows)
	return r
}

// setMedian gives the median life in service, or says why there is none.
func (r *PatternRow) setMedian(rows []stats.Lifetime) {
	if r.Failures < ThinEvents {
		r.MedianText = r.tongue.Sayf("too thin (events: %d)", r.Failures)
		r.TooThin = r.tongue.Sayf("too thin: %d events, at least %d are needed", r.Failures, ThinEvents)
		return
	}
	late := 0
	for _, l := range rows {
		if l.Entry > 0 {
			late = ThinEvents // a left-truncated curve starts where 5 are at risk
		}
	}
	curve, err := stats.KaplanMeier(rows, patternLevel, late)
	if err != nil {
		r.MedianText = r.tongue.Sayf("no median: %v", err)
		return
	}
	if late > 0 && len(curve.Steps) > 0 {
		r.Remarks = append(r.Remarks, r.tongue.Sayf("some were first seen used: the curve starts at %.0f h", curve.Steps[0].Time))
	}
	if curve.Median == nil {
		r.MedianText = r.tongue.Say("not reached: more than half last longer than was watched")
		return
	}
	r.Median = &stats.Estimate{Value: *curve.Median, Low: curve.MedianLow, High: curve.MedianHigh}
	r.MedianText = r.tongue.Sayf("%.0f h (%s to %s)", *curve.Median, limitText(r.tongue, curve.MedianLow), limitText(r.tongue, curve.MedianHigh))
}

func limitText(t inspect.Tongue, v *float64) string {
	if v == nil {
		return t.Say("no limit")
	}
	return fmt.Sprintf("%.0f", *v)
}

// compare sets ratio, limits and p, given all failures of the part.
func (r *PatternRow) compare(total, sheets int, shuffled *float64) {
	share := 0.0
	if total > 0 {
		share = r.Expected / float64(total)
	}
	switch {
	case sheets < 2 || share >= 1-1e-12:
		r.Remarks = append(r.Remarks, r.tongue.Say("no other sheet has this part under the same hours: nothing to compare with"))
		return
	case share <= 0:
		r.Remarks = append(r.Remarks, r.tongue.Say("nothing was expected over these hours: no ratio"))
		return
	}
	low, high, err := stats.ClopperPearson(r.Failures, total, patternLevel)
	if err != nil {
		return
	}
	observed := float64(r.Failures) / float64(total)
	r.Ratio = &stats.Estimate{Value: observed / share, Low: pointer(low / share), High: pointer(high / share)}
	odds := func(v float64) float64 { return v / (1 - v) / (share / (1 - share)) }
	if r.Failures < total { // with every failure here the rest's rate is 0
		r.Against = &stats.Estimate{Value: odds(observed), Low: pointer(odds(low)), High: pointer(odds(high))}
	}
	r.P = shuffled
	if shuffled != nil {
		r.Remarks = append(r.Remarks, r.tongue.Sayf("some forks gave several fittings: p from %d shuffles of the sheets over the forks", shuffles))
		return
	}
	if p, err := stats.BinomialP(r.Failures, total, share); err == nil {
		r.P = &p
	}
}

func pointer(v float64) *float64 { return &v }
