package main

import (
	"encoding/csv"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"math"
	"strconv"
	"strings"
	"text/tabwriter"

	"github.com/spf13/cobra"

	"forkwear/inspect/wear"
)

// trendCommand is `forkwear calc trend`: wear trends of units that borrow from
// their kin, by plain REML, from CSV on standard input.
func trendCommand() *cobra.Command {
	var (
		model  string
		limit  float64
		asJSON bool
	)
	cmd := &cobra.Command{
		Use:   "trend < FILE.csv",
		Short: "Wear trend of units and hours to a limit (unit,hours,value[,sd])",
		Long: `Fits value = (b0 + a) + (b1 + s) hours + e, each unit with its own a and s, by
restricted maximum likelihood without any prior. The CSV has a header line with
unit, hours, value and, where known, sd: the measurement's standard uncertainty.
Hours to the limit count from a unit's last reading.`,
		Args: cobra.NoArgs,
		RunE: func(cmd *cobra.Command, _ []string) error {
			data, err := readTrend(cmd.InOrStdin(), wear.Model(model) == wear.Level)
			if err != nil {
				return err
			}
			fit, err := wear.FitREML(data, wear.Model(model))
			if err != nil {
				return err
			}
			var to *float64
			if cmd.Flags().Changed("limit") {
				to = &limit
			}
			out, err := trendResult(fit, to)
			if err != nil {
				return err
			}
			if asJSON {
				enc := json.NewEncoder(cmd.OutOrStdout())
				enc.SetIndent("", "  ")
				enc.SetEscapeHTML(false)
				return enc.Encode(out)
			}
			return writeTrendTable(cmd.OutOrStdout(), out)
		},
	}
	cmd.Flags().StringVar(&model, "model", string(wear.Line), "line (level and slope differ) or level (no slope)")
	cmd.Flags().Float64Var(&limit, "limit", 0, "limit in the unit of value, for hours to the limit")
	cmd.Flags().BoolVar(&asJSON, "json", false, "write JSON")
	return cmd
}

// readTrend reads unit,hours,value[,sd] with a header, columns in any order.
// The level model needs no hours.
func readTrend(r io.Reader, hoursOptional bool) (wear.Data, error) {
	in := csv.NewReader(r)
	in.TrimLeadingSpace = true
	head, err := in.Read()
	if errors.Is(err, io.EOF) {
		return wear.Data{}, errors.New("the input is empty: give CSV with the header unit,hours,value")
	}
	if err != nil {
		return wear.Data{}, fmt.Errorf("the CSV header cannot be read: %w", err)
	}
	col := map[string]int{}
	for i, name := range head {
		col[strings.ToLower(strings.TrimSpace(strings.TrimPrefix(name, "\ufeff")))] = i
	}
	for _, name := range []string{"unit", "hours", "value"} {
		if _, ok := col[name]; !ok && !(name == "hours" && hoursOptional) {
			return wear.Data{}, fmt.Errorf("the CSV has no column %q: its header must have unit,hours,value", name)
		}
	}
	var data wear.Data
	for {
		rec, err := in.Read()
		if errors.Is(err, io.EOF) {
			return data, nil
		}
		if err != nil {
			return wear.Data{}, fmt.Errorf("the CSV cannot be read: %w", err)
		}
		line, _ := in.FieldPos(0)
		o, err := trendRow(rec, col, line)
		if err != nil {
			return wear.Data{}, err
		}
		data.Observations = append(data.Observations, o)
	}
}

func trendRow(rec []string, col map[string]int, line int) (wear.Observation, error) {
	o := wear.Observation{Unit: strings.TrimSpace(rec[col["unit"]])}
	if o.Unit == "" {
		return o, fmt.Errorf("line %d has no unit: name it", line)
	}
	for _, c := range []struct {
		name     string
		to       *float64
		optional bool
	}{{"hours", &o.Hours, false}, {"value", &o.Value, false}, {"sd", &o.U, true}} {
		i, ok := col[c.name]
		if !ok {
			continue
		}
		text := strings.TrimSpace(rec[i])
		if text == "" && c.optional {
			continue
		}
		v, err := strconv.ParseFloat(text, 64)
		if err != nil || math.IsNaN(v) || math.IsInf(v, 0) {
			return o, fmt.Errorf("line %d: %s is %q: give a number", line, c.name, text)
		}
		if v < 0 && c.name != "value" {
			return o, fmt.Errorf("line %d: %s is %q: give a number of 0 or more", line, c.name, text)
		}
		*c.to = v
	}
	return o, nil
}

// trendJSON is the stable form of `calc trend`; what does not exist is null.
type trendJSON struct {
	Fixed struct {
		Intercept trendEstimate  `json:"intercept"`
		Slope     *trendEstimate `json:"slope"`
	} `json:"fixed"`
	SDIntercept *float64    `json:"sd_intercept"`
	SDSlope     *float64    `json:"sd_slope"`
	Correlation *float64    `json:"correlation"`
	SDResidual  *float64    `json:"sd_residual"`
	Criterion   *float64    `json:"reml_criterion"`
	Singular    bool        `json:"singular"`
	Units       []trendUnit `json:"units"`
	Method      string      `json:"method"`
	Model       string      `json:"model"`
	Readings    int         `json:"readings"`
	Limit       *float64    `json:"limit"`
	Remarks     []string    `json:"remarks"`
}

type trendEstimate struct {
	Value *float64 `json:"value"`
	SE    *float64 `json:"se"`
}

type trendUnit struct {
	Unit            string      `json:"unit"`
	InterceptEffect *float64    `json:"intercept_effect"`
	SlopeEffect     *float64    `json:"slope_effect"`
	HoursToLimit    *trendHours `json:"hours_to_limit"`
	Readings        int         `json:"readings"`
	LastHours       *float64    `json:"last_hours"`
}

type trendHours struct {
	P05     *float64 `json:"p05"`
	P50     *float64 `json:"p50"`
	P95     *float64 `json:"p95"`
	Over    bool     `json:"over"`
	NoTrend bool     `json:"no_trend"`
}

// finiteOrNull keeps NaN and Inf out of JSON.
func finiteOrNull(v float64) *float64 {
	if math.IsNaN(v) || math.IsInf(v, 0) {
		return nil
	}
	return &v
}

func trendResult(f wear.Fit, limit *float64) (trendJSON, error) {
	line := f.Model == wear.Line
	out := trendJSON{SDIntercept: finiteOrNull(f.SDIntercept), Correlation: finiteOrNull(f.Correlation),
		SDResidual: finiteOrNull(f.SDResidual), Criterion: finiteOrNull(f.Criterion), Singular: f.Singular,
		Method: f.Method, Model: string(f.Model), Readings: f.Readings, Limit: limit, Units: []trendUnit{}, Remarks: []string{}}
	out.Remarks = append(out.Remarks, f.Remarks...)
	out.Fixed.Intercept = trendEstimate{finiteOrNull(f.Intercept.Value), finiteOrNull(f.Intercept.SE)}
	if line {
		out.Fixed.Slope = &trendEstimate{finiteOrNull(f.Slope.Value), finiteOrNull(f.Slope.SE)}
		out.SDSlope = finiteOrNull(f.SDSlope)
	}
	if limit != nil && finiteOrNull(*limit) == nil {
		return out, fmt.Errorf("the limit is %g: give a number", *limit)
	}
	if limit != nil && !line {
		out.Remarks = append(out.Remarks, "the level model has no slope, so there are no hours to the limit")
	}
	for _, e := range f.Units {
		u := trendUnit{Unit: e.Unit, InterceptEffect: finiteOrNull(e.Intercept), Readings: e.Readings, LastHours: finiteOrNull(e.LastHours)}
		if line {
			u.SlopeEffect = finiteOrNull(e.Slope)
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
func hoursToLimit(f wear.Fit, e wear.UnitEffect, limit float64) (*trendHours, error) {
	p, err := f.Posterior(e.Unit)
	if err != nil {
		return nil, err
	}
	h, err := p.Toward(limit, limit >= f.Intercept.Value).HoursLeft(e.LastHours)
	if err != nil {
		return nil, err
	}
	return &trendHours{P05: finiteOrNull(h.P05), P50: finiteOrNull(h.P50), P95: finiteOrNull(h.P95), Over: h.Over, NoTrend: h.NoTrend}, nil
}

func writeTrendTable(w io.Writer, t trendJSON) error {
	tw := tabwriter.NewWriter(w, 0, 4, 2, ' ', 0)
	num := func(v *float64) string {
		if v == nil {
			return "-"
		}
		return strconv.FormatFloat(*v, 'g', 6, 64)
	}
	fmt.Fprintf(tw, "intercept\t%s\t± %s\n", num(t.Fixed.Intercept.Value), num(t.Fixed.Intercept.SE))
	if s := t.Fixed.Slope; s != nil {
		fmt.Fprintf(tw, "slope per hour\t%s\t± %s\n", num(s.Value), num(s.SE))
	}
	fmt.Fprintf(tw, "sd between units, level\t%s\n", num(t.SDIntercept))
	fmt.Fprintf(tw, "sd between units, slope\t%s\n", num(t.SDSlope))
	fmt.Fprintf(tw, "correlation\t%s\n", num(t.Correlation))
	fmt.Fprintf(tw, "sd of readings\t%s\n", num(t.SDResidual))
	fmt.Fprintf(tw, "REML criterion\t%s\n\n", num(t.Criterion))
	fmt.Fprintln(tw, "unit\tlevel effect\tslope effect\thours to limit: 5 %\t50 %\t95 %")
	for _, u := range t.Units {
		h := u.HoursToLimit
		if h == nil {
			h = &trendHours{}
		}
		fmt.Fprintf(tw, "%s\t%s\t%s\t%s\t%s\t%s\n", u.Unit, num(u.InterceptEffect), num(u.SlopeEffect), num(h.P05), num(h.P50), num(h.P95))
	}
	for _, r := range t.Remarks {
		fmt.Fprintf(tw, "\n%s\n", r)
	}
	return tw.Flush()
}
