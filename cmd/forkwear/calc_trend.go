package main

import (
	"encoding/json"
	"fmt"
	"io"
	"strconv"
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
			data, err := wear.ReadReadings(cmd.InOrStdin(), wear.Model(model))
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
			out, err := wear.NewTrends(fit, to)
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

func writeTrendTable(w io.Writer, t wear.Trends) error {
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
			h = &wear.HoursToLimit{}
		}
		fmt.Fprintf(tw, "%s\t%s\t%s\t%s\t%s\t%s\n", u.Unit, num(u.InterceptEffect), num(u.SlopeEffect), num(h.P05), num(h.P50), num(h.P95))
	}
	for _, r := range t.Remarks {
		fmt.Fprintf(tw, "\n%s\n", r)
	}
	return tw.Flush()
}
