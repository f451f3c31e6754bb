package main

import (
	"encoding/json"
	"fmt"
	"io"
	"strconv"
	"text/tabwriter"

	"forkwear/inspect/measure"
)

// benchPrint writes the result of a bench sum as JSON or as a table.
func benchPrint(w io.Writer, result any, asJSON bool) error {
	if asJSON {
		enc := json.NewEncoder(w)
		enc.SetEscapeHTML(false)
		enc.SetIndent("", "  ")
		return enc.Encode(result)
	}
	t := &benchTable{tab: tabwriter.NewWriter(w, 0, 0, 2, ' ', 0)}
	switch r := result.(type) {
	case measure.Sum:
		t.sum(r)
		t.inputs(r.Inputs, r.Formula, r.Remarks)
	case measure.HoldSum:
		t.line("finding", r.Finding)
		t.sum(r.Sum)
		t.line("of the start, per 24 h", benchDigits(r.PercentPerDay)+" %")
		t.line("shown if nothing was lost", benchDigits(r.P2Expected)+" bar")
		t.line("second reading, as at the start", benchDigits(r.P2AtStart)+" bar")
		t.inputs(r.Inputs, r.Formula, r.Remarks)
	case measure.BathSum:
		t.line("finding", r.Finding)
		t.sum(r.Sum)
		t.line("expected out", benchDigits(r.ExpectedOut)+" mL")
		t.inputs(r.Inputs, r.Formula, r.Remarks)
	case measure.TubeSum:
		t.sum(r.Sum)
		t.pair("ovality", r.Ovality, r.OvalityU)
		t.pair("taper", r.Taper, r.TaperU)
		t.pair("worn", r.Worn, r.WornU)
		t.inputs(r.Inputs, r.Formula, r.Remarks)
	case measure.Conformance:
		t.conform(r)
	case measure.FitSum:
		t.fit(r)
	default:
		return fmt.Errorf("the result %T has no table: use --json", result)
	}
	return t.end()
}

// benchTable writes label and text side by side, and keeps the first error.
type benchTable struct {
	tab *tabwriter.Writer
	err error
}

func (t *benchTable) line(label, text string) {
	if t.err == nil {
		_, t.err = fmt.Fprintf(t.tab, "%s\t%s\n", label, text)
	}
}

func (t *benchTable) end() error {
	if t.err != nil {
		return t.err
	}
	return t.tab.Flush()
}

func (t *benchTable) sum(s measure.Sum) {
	if s.Value == nil {
		t.line("result", "none")
		return
	}
	t.line("result", benchDigits(*s.Value)+" "+s.Unit)
	if s.U != nil {
		t.line("standard uncertainty", benchDigits(*s.U)+" "+s.Unit)
	}
	if s.Low != nil && s.High != nil {
		t.line("95 % limits", benchDigits(*s.Low)+" to "+benchDigits(*s.High)+" "+s.Unit)
	}
}

func (t *benchTable) pair(label string, value, u *float64) {
	switch {
	case value == nil:
		t.line(label, "not known")
	case u == nil:
		t.line(label, benchDigits(*value)+" mm")
	default:
		t.line(label, benchDigits(*value)+" mm, u "+benchDigits(*u))
	}
}

func (t *benchTable) conform(c measure.Conformance) {
	t.line("decision", string(c.Decision))
	t.line("chance to be within", benchDigits(c.PConform))
	for _, p := range []struct {
		label string
		p     *float64
	}{{"chance to be over", c.POver}, {"chance to be under", c.PUnder}} {
		if p.p == nil {
			t.line(p.label, "no such limit")
			continue
		}
		t.line(p.label, benchDigits(*p.p))
	}
	t.inputs(c.Inputs, c.Formula, c.Remarks)
}

func (t *benchTable) fit(f measure.FitSum) {
	for _, l := range []struct {
		label  string
		limits *measure.Limits
	}{{"hole", f.Hole}, {"shaft", f.Shaft}} {
		if l.limits != nil {
			t.line(l.label, fmt.Sprintf("%+g to %+g µm", l.limits.Lower, l.limits.Upper))
		}
	}
	if f.Clearance != nil && f.Kind != nil {
		t.line("clearance", fmt.Sprintf("%g to %g µm (%s)", f.Clearance.Min, f.Clearance.Max, *f.Kind))
	}
	t.inputs(f.Inputs, f.Formula, f.Remarks)
}

// inputs writes what went in, how it was reckoned, and what to mind.
func (t *benchTable) inputs(inputs []measure.Input, formula string, remarks []string) {
	for _, in := range inputs {
		text := benchDigits(in.Value) + " " + in.Unit
		if in.U != nil {
			text += ", u " + benchDigits(*in.U)
		}
		t.line("  from "+in.Name, text)
	}
	t.line("formula", formula)
	for _, r := range remarks {
		t.line("note", r)
	}
}

// benchDigits shows five figures, and all of a diameter's.
func benchDigits(x float64) string {
	if x == 0 {
		return "0"
	}
	return strconv.FormatFloat(x, 'g', 5, 64)
}
