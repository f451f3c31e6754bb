package life

import (
	"errors"

	"forkwear/inspect"
	"forkwear/inspect/stats"
)

// Lives is the answer to "how long do they last".
type Lives struct {
	Weibull *Weibull    `json:"weibull"` // all groups together
	Groups  []GroupLife `json:"groups"`
	LogRank *LogRank    `json:"logrank"`
	Level   float64     `json:"level"`
	Remarks []string    `json:"remarks"`
}

// Weibull is a fitted life, limits by profile likelihood.
type Weibull struct {
	Shape  stats.Estimate `json:"shape"`
	Scale  stats.Estimate `json:"scale"`
	B10    stats.Estimate `json:"b10"`
	Median stats.Estimate `json:"median"`
	LogLik float64        `json:"loglik"`
	Method string         `json:"method"`
	Events int            `json:"events"`
	Units  int            `json:"units"`
}

// GroupLife is the survival curve of one group.
type GroupLife struct {
	Group      string   `json:"group"`
	Events     int      `json:"events"`
	Units      int      `json:"units"`
	Median     *float64 `json:"median"`
	MedianLow  *float64 `json:"median_low"`
	MedianHigh *float64 `json:"median_high"`
	Method     string   `json:"method"`
	Steps      []Step   `json:"steps"`
	Weibull    *Weibull `json:"weibull"` // only when asked for by group
	Remarks    []string `json:"remarks"`
}

// Step is one drop of a survival curve.
type Step struct {
	Hours    float64  `json:"hours"`
	AtRisk   *int     `json:"at_risk"`
	Events   *int     `json:"events"`
	Survival float64  `json:"survival"`
	SE       *float64 `json:"se"`
	Low      *float64 `json:"low"`
	High     *float64 `json:"high"`
}

// LogRank is the test that the groups live equally long.
type LogRank struct {
	Chi2   float64        `json:"chi2"`
	DF     int            `json:"df"`
	P      float64        `json:"p"`
	Groups []LogRankGroup `json:"groups"`
}

// LogRankGroup is one group's share in the test.
type LogRankGroup struct {
	Group    string  `json:"group"`
	Observed float64 `json:"observed"`
	Expected float64 `json:"expected"`
}

// NewLives gives the curves, the pooled Weibull life (by group too where
// asked) and the log-rank test. level is two-sided, 0 < level < 1. Records that
// cannot be are an error (stats.ErrInput); what the data are too thin for is
// nil with a remark.
func NewLives(records []Record, level float64, byGroup bool) (Lives, error) {
	return NewLivesIn(nil, records, level, byGroup)
}

// NewLivesIn is NewLives with its remarks in a tongue.
func NewLivesIn(t inspect.Tongue, records []Record, level float64, byGroup bool) (Lives, error) {
	all, names, groups, arrivals := split(records)
	out := Lives{Level: level, Groups: []GroupLife{}, Remarks: []string{}}
	if arrivals > 0 {
		left := t.Say("1 unit broken on arrival left out: state on arrival is no event")
		if arrivals > 1 {
			left = t.Sayf("%d units broken on arrival left out: state on arrival is no event", arrivals)
		}
		out.remark(left)
	}
	var err error
	if out.Weibull, err = fitWeibull(t, all.rows, level, &out.Remarks); err != nil {
		return Lives{}, err
	}
	for _, name := range names {
		g, err := groupLife(t, name, groups[name], level, byGroup)
		if err != nil {
			return Lives{}, err
		}
		out.Groups = append(out.Groups, g)
	}
	return out, out.compare(t, all, groups)
}

func (l *Lives) remark(text string) { l.Remarks = append(l.Remarks, text) }

// fitWeibull returns nil and a remark where no fit exists.
func fitWeibull(t inspect.Tongue, rows []stats.Lifetime, level float64, remarks *[]string) (*Weibull, error) {
	f, err := stats.Weibull(rows, level)
	if errors.Is(err, stats.ErrInput) {
		return nil, err
	}
	if err != nil {
		*remarks = append(*remarks, t.Sayf("no Weibull life: %v", err))
		return nil, nil
	}
	if f.Events < ThinEvents {
		*remarks = append(*remarks, t.Sayf("too thin (%d events): the Weibull figures are a rough guide only", f.Events))
	}
	if f.B10.Low == nil || f.B10.High == nil || f.Median.High == nil || f.Shape.Low == nil || f.Shape.High == nil {
		*remarks = append(*remarks, t.Say("the data do not set every limit of the Weibull life; those are left empty"))
	}
	return &Weibull{Shape: f.Shape, Scale: f.Scale, B10: f.B10, Median: f.Median,
		LogLik: f.LogLik, Method: f.Method, Events: f.Events, Units: f.Units}, nil
}

func groupLife(t inspect.Tongue, name string, s *sample, level float64, byGroup bool) (GroupLife, error) {
	g := GroupLife{Group: name, Steps: []Step{}, Remarks: []string{}}
	for _, r := range s.rows {
		n := max(r.Count, 1)
		g.Units += n
		if r.Failed {
			g.Events += n
		}
	}
	if err := g.setCurve(t, s, level); err != nil {
		return GroupLife{}, err
	}
	if g.Events < ThinEvents {
		g.remark(t.Sayf("too thin (%d events)", g.Events))
	}
	if !byGroup {
		return g, nil
	}
	var err error
	g.Weibull, err = fitWeibull(t, s.rows, level, &g.Remarks)
	return g, err
}

func (g *GroupLife) remark(text string) { g.Remarks = append(g.Remarks, text) }

func (g *GroupLife) setCurve(t inspect.Tongue, s *sample, level float64) error {
	if s.ranged && s.entry {
		g.Method = "none"
		g.remark(t.Say("no curve: failures known between two hours and delayed entry together; the Weibull life uses both"))
		return nil
	}
	curve, err := stats.Curve{}, error(nil)
	if s.ranged {
		curve, err = stats.Turnbull(s.rows)
	} else {
		curve, err = stats.KaplanMeier(s.rows, level, 0)
	}
	if err != nil {
		return err
	}
	g.Method, g.Median, g.MedianLow, g.MedianHigh = curve.Method, curve.Median, curve.MedianLow, curve.MedianHigh
	for _, c := range curve.Steps {
		g.Steps = append(g.Steps, Step{c.Time, c.AtRisk, c.Events, c.Survival, c.SE, c.Low, c.High})
		if s.entry && c.AtRisk != nil && *c.AtRisk < ThinEvents && len(g.Steps) == 1 {
			g.remark(t.Sayf("only %d at risk at the first step, because the others were first seen later: the curve starts shakily", *c.AtRisk))
		}
	}
	if g.Median == nil {
		g.remark(t.Say("no median: the curve does not come down to one half"))
	}
	return nil
}

// compare adds the log-rank test where there is something to compare.
func (l *Lives) compare(t inspect.Tongue, all sample, groups map[string]*sample) error {
	if len(groups) < 2 {
		return nil
	}
	if all.ranged {
		l.remark(t.Say("no log-rank test: it needs the hour of each failure, and some are known only between two hours"))
		return nil
	}
	rows := map[string][]stats.Lifetime{}
	for name, s := range groups {
		rows[name] = s.rows
	}
	r, err := stats.LogRank(rows)
	if errors.Is(err, stats.ErrTooFew) {
		l.remark(t.Sayf("no log-rank test: %v", err))
		return nil
	}
	if err != nil {
		return err
	}
	l.LogRank = &LogRank{Chi2: r.Chi2, DF: r.DF, P: r.P}
	for i, name := range r.Groups {
		l.LogRank.Groups = append(l.LogRank.Groups, LogRankGroup{name, r.Observed[i], r.Expected[i]})
	}
	return nil
}
