package main

import (
	"encoding/json"
	"fmt"
	"io"
	"strings"
	"text/tabwriter"

	"github.com/spf13/cobra"

	"forkwear/inspect/life"
	"forkwear/inspect/stats"
)

// lifeCommands are `forkwear calc life` and `forkwear calc rates`: CSV on
// standard input, a table or JSON out.
func lifeCommands() []*cobra.Command {
	return []*cobra.Command{lifeCommand(), ratesCommand()}
}

func lifeCommand() *cobra.Command {
	var level float64
	var byGroup, asJSON bool
	cmd := &cobra.Command{
		Use:   "life",
		Short: "How long parts last: survival curve, Weibull life, log-rank test",
		Long: `Reads CSV from standard input with a header line:

  hours,failed[,count][,entry][,last_good][,group]

hours      hours on the unit when it failed or was last seen good
failed     1 failed, 0 still good
count      how many alike (1)
entry      hours on it when watching began (from new)
last_good  hours at which a failed one was last seen good
group      name of the group it belongs to`,
		Args: cobra.NoArgs,
		RunE: func(cmd *cobra.Command, _ []string) error {
			records, err := life.ReadRecords(cmd.InOrStdin())
			if err != nil {
				return err
			}
			lives, err := life.NewLives(records, level, byGroup)
			if err != nil {
				return err
			}
			if asJSON {
				return writeLifeJSON(cmd.OutOrStdout(), lives)
			}
			return writeLivesTable(cmd.OutOrStdout(), lives)
		},
	}
	cmd.Flags().Float64Var(&level, "level", 0.95, "confidence level of the limits")
	cmd.Flags().BoolVar(&byGroup, "by-group", false, "a Weibull life for each group as well")
	cmd.Flags().BoolVar(&asJSON, "json", false, "write JSON")
	return cmd
}

func ratesCommand() *cobra.Command {
	var level float64
	var asJSON bool
	cmd := &cobra.Command{
		Use:   "rates",
		Short: "Failures of groups against what was to be expected",
		Long: `Reads CSV from standard input with a header line:

  group,events,expected    events beside their expected number, or
  group,events,exposure    beside hours, services ...; expected is then
                           exposure x all events / all exposure`,
		Args: cobra.NoArgs,
		RunE: func(cmd *cobra.Command, _ []string) error {
			rows, err := life.ReadCounts(cmd.InOrStdin())
			if err != nil {
				return err
			}
			rates, err := life.NewRates(rows, level)
			if err != nil {
				return err
			}
			if asJSON {
				return writeLifeJSON(cmd.OutOrStdout(), rates)
			}
			return writeRatesTable(cmd.OutOrStdout(), rates)
		},
	}
	cmd.Flags().Float64Var(&level, "level", 0.95, "confidence level of the limits")
	cmd.Flags().BoolVar(&asJSON, "json", false, "write JSON")
	return cmd
}

func writeLifeJSON(w io.Writer, v any) error {
	enc := json.NewEncoder(w)
	enc.SetIndent("", "  ")
	enc.SetEscapeHTML(false)
	return enc.Encode(v)
}

func writeLivesTable(w io.Writer, l life.Lives) error {
	t := tabwriter.NewWriter(w, 0, 0, 2, ' ', 0)
	if l.Weibull != nil {
		writeWeibull(t, "Weibull life, all together", *l.Weibull, l.Level)
	}
	for _, g := range l.Groups {
		fmt.Fprintf(t, "%s: %d of %d failed, median %s h (%s to %s)\n", groupTitle(g.Group), g.Events, g.Units,
			figure(g.Median), figure(g.MedianLow), figure(g.MedianHigh))
		fmt.Fprintf(t, "%s\n", g.Method)
		if len(g.Steps) > 0 {
			fmt.Fprintf(t, "hours\tat risk\tfailed\tsurvival\tse\tlow\thigh\n")
		}
		for _, s := range g.Steps {
			fmt.Fprintf(t, "%.6g\t%s\t%s\t%.4f\t%s\t%s\t%s\n", s.Hours, whole(s.AtRisk), whole(s.Events),
				s.Survival, figure(s.SE), figure(s.Low), figure(s.High))
		}
		if g.Weibull != nil {
			writeWeibull(t, "Weibull life, "+groupTitle(g.Group), *g.Weibull, l.Level)
		}
		writeRemarks(t, g.Remarks)
		fmt.Fprintln(t)
	}
	if r := l.LogRank; r != nil {
		fmt.Fprintf(t, "Log-rank test: chi2 %.4g, %d df, p %.3g\n", r.Chi2, r.DF, r.P)
	}
	writeRemarks(t, l.Remarks)
	return t.Flush()
}

func writeWeibull(w io.Writer, title string, f life.Weibull, level float64) {
	fmt.Fprintf(w, "%s: %d of %d failed; %s, %g %%\n", title, f.Events, f.Units, f.Method, level*100)
	fmt.Fprintf(w, "\tvalue\tlow\thigh\n")
	for _, row := range []struct {
		name string
		e    stats.Estimate
	}{{"shape", f.Shape}, {"scale, h", f.Scale}, {"B10, h", f.B10}, {"median, h", f.Median}} {
		fmt.Fprintf(w, "%s\t%.5g\t%s\t%s\n", row.name, row.e.Value, figure(row.e.Low), figure(row.e.High))
	}
	fmt.Fprintf(w, "log-likelihood\t%.6g\n\n", f.LogLik)
}

func writeRatesTable(w io.Writer, r life.Rates) error {
	t := tabwriter.NewWriter(w, 0, 0, 2, ' ', 0)
	fmt.Fprintf(t, "%s, %g %%\n", r.Method, r.Level*100)
	fmt.Fprintf(t, "group\tevents\texpected\tratio\tlow\thigh\tp\tq\n")
	for _, g := range r.Groups {
		fmt.Fprintf(t, "%s\t%d\t%.4g\t%s\t%s\t%s\t%s\t%s\n", g.Group, g.Events, g.Expected,
			figure(g.Ratio), figure(g.Low), figure(g.High), figure(g.P), figure(g.Q))
	}
	writeRemarks(t, r.Remarks)
	return t.Flush()
}

func writeRemarks(w io.Writer, remarks []string) {
	for _, r := range remarks {
		fmt.Fprintf(w, "note: %s\n", r)
	}
}

// figure writes a number that may not exist.
func figure(v *float64) string {
	if v == nil {
		return "-"
	}
	return fmt.Sprintf("%.4g", *v)
}

func whole(v *int) string {
	if v == nil {
		return "-"
	}
	return fmt.Sprint(*v)
}

func groupTitle(group string) string {
	if strings.TrimSpace(group) == "" {
		return "no group"
	}
	return group
}
