package wear

import (
	"math"

	"forkwear/inspect"
)

// Trends is the answer to "how fast do they wear": a fit of FitREML, shaped for
// JSON. What does not exist is nil.
type Trends struct {
	Fixed       Fixed       `json:"fixed"`
	SDIntercept *float64    `json:"sd_intercept"`
	SDSlope     *float64    `json:"sd_slope"`
	Correlation *float64    `json:"correlation"`
	SDResidual  *float64    `json:"sd_residual"`
	Criterion   *float64    `json:"reml_criterion"`
	Singular    bool        `json:"singular"`
	Units       []UnitTrend `json:"units"`
	Method      string      `json:"method"`
	Model       string      `json:"model"`
	Readings    int         `json:"readings"`
	Limit       *float64    `json:"limit"`
	Remarks     []string    `json:"remarks"`
}

// Fixed is the line of the group, without a slope in the level model.
type Fixed struct {
	Intercept TrendEstimate  `json:"intercept"`
	Slope     *TrendEstimate `json:"slope"`
}

// TrendEstimate is a value with its standard error.
type TrendEstimate struct {
	Value *float64 `json:"value"`
	SE    *float64 `json:"se"`
}

// UnitTrend is one unit against its group.
type UnitTrend struct {
	Unit            string        `json:"unit"`
	InterceptEffect *float64      `json:"intercept_effect"`
	SlopeEffect     *float64      `json:"slope_effect"`
	HoursToLimit    *HoursToLimit `json:"hours_to_limit"`
	Readings        int           `json:"readings"`
	LastHours       *float64      `json:"last_hours"`
}

// HoursToLimit counts from the unit's last reading.
type HoursToLimit struct {
	P05     *float64 `json:"p05"`
	P50     *float64 `json:"p50"`
	P95     *float64 `json:"p95"`
	Over    bool     `json:"over"`
	NoTrend bool     `json:"no_trend"`
}

// finiteOrNil keeps NaN and Inf out of JSON.
func finiteOrNil(v float64) *float64 {
	if math.IsNaN(v) || math.IsInf(v, 0) {
		return nil
	}
	return &v
}

// NewTrends puts a fit and, where limit is not nil, the hours to it in the form
// that is shown. limit is in the unit of the values. Refused: a limit that is no
// number.
func NewTrends(f Fit, limit *float64) (Trends, error) { return NewTrendsIn(nil, f, limit) }

// NewTrendsIn is NewTrends with its remarks in a tongue.
func NewTrendsIn(t inspect.Tongue, f Fit, limit *float64) (Trends, error) {
	line := f.Model == Line
	out := Trends{SDIntercept: finiteOrNil(f.SDIntercept), Correlation: finiteOrNil(f.Correlation),
		SDResidual: finiteOrNil(f.SDResidual), Criterion: finiteOrNil(f.Criterion), Singular: f.Singular,
		Method: f.Method, Model: string(f.Model), Readings: f.Readings, Limit: limit, Units: []UnitTrend{}, Remarks: []string{}}
	for _, r := range f.Remarks {
		out.Remarks = append(out.Remarks, t.Say(r))
	}
	out.Fixed.Intercept = TrendEstimate{finiteOrNil(f.Intercept.Value), finiteOrNil(f.Intercept.SE)}
	if line {
		out.Fixed.Slope = &TrendEstimate{finiteOrNil(f.Slope.Value), finiteOrNil(f.Slope.SE)}
		out.SDSlope = finiteOrNil(f.SDSlope)
	}
	if limit != nil && finiteOrNil(*limit) == nil {
		return out, inspect.Refuse(inspect.Invalid, "the limit is %g: give a number", *limit)
	}
	if limit != nil && !line {
		out.Remarks = append(out.Remarks, t.Say("the level model has no slope, so there are no hours to the limit"))
	}
	for _, e := range f.Units {
		u := UnitTrend{Unit: e.Unit, InterceptEffect: finiteOrNil(e.Intercept), Readings: e.Readings, LastHours: finiteOrNil(e.LastHours)}
		if line {
			u.SlopeEffect = finiteOrNil(e.Slope)
		}
		if line && limit != nil {
			h, err := hoursToLimit(f, e, *limit)
			if err != nil {
				return out, err
			}
			u.HoursToLimit = h
		}
		out.Units = append(out.Units, u)
	}
	return out, nil
}

// hoursToLimit counts from the unit's last reading. A limit above the group's
// starting level is reached from below, one under it from above.
func hoursToLimit(f Fit, e UnitEffect, limit float64) (*HoursToLimit, error) {
	p, err := f.Posterior(e.Unit)
	if err != nil {
		return nil, err
	}
	h, err := p.Toward(limit, limit >= f.Intercept.Value).HoursLeft(e.LastHours)
	if err != nil {
		return nil, err
	}
	return &HoursToLimit{P05: finiteOrNil(h.P05), P50: finiteOrNil(h.P50), P95: finiteOrNil(h.P95), Over: h.Over, NoTrend: h.NoTrend}, nil
}
