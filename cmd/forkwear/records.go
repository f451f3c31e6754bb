package main

import (
	"context"
	"encoding/json"
	"fmt"
	"io"
	"strconv"
	"text/tabwriter"

	"github.com/spf13/cobra"

	"forkwear/inspect"
	"forkwear/inspect/shop"
	"forkwear/ui/words"
)

// recordCommands are the lists and the single records.
func recordCommands(dir *string) []*cobra.Command {
	return []*cobra.Command{
		listCommand(dir, "forks [TEXT]", "Forks, all or those that TEXT finds", listForks),
		listCommand(dir, "visits [open]", "Visits, newest first", listVisits),
		listCommand(dir, "show TICKET|ID", "One visit or one fork, whole", showRecord),
		listCommand(dir, "assess TICKET|ID", "The verdicts of a visit and their reasons, on what is known now", assessVisit),
		listCommand(dir, "patterns", "What fails, on which forks, against the rest", listPatterns),
		listCommand(dir, "due", "Forks by the day they should come again", listDue),
		reportCommand(dir),
	}
}

// answer is what a list command found: rows for people, any for programs.
type answer struct {
	head []string
	rows [][]string
	foot string
	any  any
}

// listCommand is a command that opens the library, asks, and prints.
func listCommand(dir *string, use, short string, ask func(ctx context.Context, l *library, args []string) (answer, error)) *cobra.Command {
	var asJSON bool
	c := &cobra.Command{Use: use, Short: short, Args: cobra.MaximumNArgs(1),
		RunE: func(cmd *cobra.Command, args []string) error {
			return withLibrary(cmd.Context(), *dir, func(l *library) error {
				a, err := ask(cmd.Context(), l, args)
				if err != nil {
					return err
				}
				if asJSON {
					return printJSON(cmd.OutOrStdout(), a.any)
				}
				return a.print(cmd.OutOrStdout())
			})
		}}
	c.Flags().BoolVar(&asJSON, "json", false, "print JSON for programs")
	return c
}

func withLibrary(ctx context.Context, dir string, do func(*library) error) (err error) {
	l, err := openLibrary(ctx, dir)
	if err != nil {
		return err
	}
	defer func() {
		if closing := l.Close(); err == nil {
			err = closing
		}
	}()
	return do(l)
}

func printJSON(w io.Writer, v any) error {
	e := json.NewEncoder(w)
	e.SetIndent("", "  ")
	return e.Encode(v)
}

func (a answer) print(out io.Writer) error {
	w := tabwriter.NewWriter(out, 0, 4, 2, ' ', 0)
	line := func(cells []string) {
		for i, c := range cells {
			if i > 0 {
				fmt.Fprint(w, "\t")
			}
			fmt.Fprint(w, c)
		}
		fmt.Fprintln(w)
	}
	if len(a.head) > 0 {
		line(a.head)
	}
	for _, r := range a.rows {
		line(r)
	}
	if a.foot != "" {
		fmt.Fprintln(w, a.foot)
	}
	return w.Flush()
}

func listForks(ctx context.Context, l *library, args []string) (answer, error) {
	text := ""
	if len(args) > 0 {
		text = args[0]
	}
	rows, err := l.db.FindForks(ctx, text, 1000)
	a := answer{head: []string{"TAG", "FORK", "SERIAL", "CUSTOMER", "VISITS", "LAST"}, any: rows}
	for _, r := range rows {
		a.rows = append(a.rows, []string{r.Fork.Tag, r.Fork.Label(), r.Fork.Serial, r.Customer.Name, strconv.Itoa(r.Visits), words.Date(r.LastVisit)})
	}
	return a, err
}

func listVisits(ctx context.Context, l *library, args []string) (answer, error) {
	rows, err := l.db.Visits(ctx, inspect.VisitFilter{OpenOnly: len(args) > 0 && args[0] == "open"})
	a := answer{head: []string{"TICKET", "DROPPED OFF", "FORK", "CUSTOMER", "LEVEL", "STEP", "HOURS"}, any: rows}
	for _, r := range rows {
		a.rows = append(a.rows, []string{strconv.Itoa(r.Visit.Ticket), words.Date(r.Visit.DroppedOff), r.Fork.Label(), r.Customer.Name,
			r.Visit.Level, words.Step(r.Visit.Step), words.Hours(r.Hours)})
	}
	return a, err
}

// findVisit takes a ticket number or a visit's id.
func findVisit(ctx context.Context, l *library, args []string) (*shop.Case, error) {
	if len(args) == 0 {
		return nil, usageError{fmt.Errorf("name a visit by its ticket number: forkwear visits lists them")}
	}
	if n, err := strconv.Atoi(args[0]); err == nil {
		v, err := l.db.VisitByTicket(ctx, n)
		if err != nil {
			return nil, err
		}
		return l.desk.Open(ctx, v.ID)
	}
	return l.desk.Open(ctx, inspect.ID(args[0]))
}

func showRecord(ctx context.Context, l *library, args []string) (answer, error) {
	c, err := findVisit(ctx, l, args)
	if inspect.CodeOf(err) == inspect.NotFound && len(args) > 0 {
		return showFork(ctx, l, inspect.ID(args[0]), err)
	}
	if err != nil {
		return answer{}, err
	}
	a := answer{any: c}
	a.rows = append(a.rows, []string{fmt.Sprintf("Visit %d", c.Visit.Ticket), c.Fork.Label(), c.Customer.Name, words.Date(c.Visit.DroppedOff), c.Level.Name, words.Step(c.Visit.Step)},
		[]string{"Riding hours", words.Measured(c.Claim.Hours, c.Claim.U, "h")})
	for _, s := range c.Complaints {
		a.rows = append(a.rows, []string{"Complaint", s.Symptom, words.Leg(s.Leg), s.Since})
	}
	for _, st := range inspect.Stages() {
		for _, r := range c.Readings {
			k, ok := l.desk.Catalog.Check(r.Check)
			if now, in := c.Current[r.Slot()]; !ok || !in || now.ID != r.ID || r.Stage != st {
				continue
			}
			a.rows = append(a.rows, []string{words.Stage(st), words.PartAt(k.Name, r.Leg), r.Point, words.Reading(k, r)})
		}
	}
	for _, p := range c.Photos {
		a.rows = append(a.rows, []string{"Photo", p.FileName, words.PhotoDate(p), p.Check})
	}
	return a, nil
}

func showFork(ctx context.Context, l *library, id inspect.ID, notVisit error) (answer, error) {
	f, err := l.db.Fork(ctx, id)
	if err != nil {
		return answer{}, notVisit
	}
	visits, err := l.db.Visits(ctx, inspect.VisitFilter{ForkID: id})
	if err != nil {
		return answer{}, err
	}
	fits, err := l.db.Fittings(ctx, inspect.FittingFilter{ForkID: id})
	a := answer{any: map[string]any{"fork": f, "visits": visits, "fittings": fits}}
	a.rows = append(a.rows, []string{"Fork", f.Label(), f.Serial, f.Tag})
	for _, v := range visits {
		a.rows = append(a.rows, []string{fmt.Sprintf("Visit %d", v.Visit.Ticket), words.Date(v.Visit.DroppedOff), words.Hours(v.Hours), v.Visit.Level})
	}
	return a, err
}

func assessVisit(ctx context.Context, l *library, args []string) (answer, error) {
	c, err := findVisit(ctx, l, args)
	if err != nil {
		return answer{}, err
	}
	as := c.Assessments
	if !c.Visit.Closed() {
		rules, err := l.desk.Rules(ctx)
		if err != nil {
			return answer{}, err
		}
		if as, err = l.desk.Assess(ctx, c, rules); err != nil {
			return answer{}, err
		}
	}
	if as == nil {
		as = []inspect.Assessment{}
	}
	a := answer{head: []string{"PART", "VERDICT", "REMEDY", "WEAR USED", "HOURS LEFT", "REASON"}, any: as}
	unopened := 0
	for _, x := range as {
		if x.NotOpened {
			unopened++
			continue
		}
		a.rows = append(a.rows, assessmentRow(l, x))
	}
	a.foot = fmt.Sprintf("%d parts were not opened this time.", unopened)
	return a, nil
}

func assessmentRow(l *library, x inspect.Assessment) []string {
	p, _ := l.desk.Catalog.Part(x.Part)
	lead, _ := l.desk.Catalog.Check(x.LeadCheck)
	used, reason := "–", ""
	if x.WearUsed != nil {
		used = words.Share(*x.WearUsed)
	}
	for _, r := range x.Reasons {
		if r.Decide {
			reason = r.Plain
		}
	}
	v := words.Verdict(x.InForce())
	if x.DoNotRide {
		v += " (do not ride)"
	}
	return []string{words.PartAt(p.Name, x.Leg), v, words.Remedy(x.Remedy), used, words.LeftOf(lead, x.HoursLeft), reason}
}

func listPatterns(ctx context.Context, l *library, _ []string) (answer, error) {
	rows, err := l.desk.Patterns(ctx)
	a := answer{head: []string{"PART", "DATA SHEET", "FITTINGS", "HOURS", "FAILED OR WORN", "EXPECTED", "RATIO (95 %)", "MEDIAN LIFE"}, any: rows}
	for _, r := range rows {
		ratio := "–"
		if r.Ratio != nil {
			ratio = words.Estimate(*r.Ratio)
		}
		if r.TooThin != "" {
			ratio += " " + r.TooThin
		}
		a.rows = append(a.rows, []string{r.PartName, r.Sheet, strconv.Itoa(r.Fittings), fmt.Sprintf("%.0f", r.Hours), strconv.Itoa(r.Failures),
			fmt.Sprintf("%.1f", r.Expected), ratio, r.MedianText})
	}
	return a, err
}

func listDue(ctx context.Context, l *library, _ []string) (answer, error) {
	rows, err := l.desk.Due(ctx)
	a := answer{head: []string{"ON", "BY", "FORK", "CUSTOMER", "PHONE", "H A WEEK"}, any: rows}
	for _, r := range rows {
		a.rows = append(a.rows, []string{words.Date(r.On), r.By, r.Row.Fork.Label(), r.Row.Customer.Name, r.Row.Customer.Phone, fmt.Sprintf("%.1f", r.PerWeek)})
	}
	return a, err
}
