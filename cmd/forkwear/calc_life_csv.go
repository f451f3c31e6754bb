package main

import (
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"math"
	"strconv"
	"strings"

	"forkwear/inspect/life"
)

// lifeRow is one line of CSV by column name; the first bad cell is kept, with
// its line and column, and the rest of the line then reads as zeros.
type lifeRow struct {
	line  int
	cells map[string]string
	err   error
}

func (r *lifeRow) fail(column, format string, args ...any) {
	if r.err == nil {
		r.err = fmt.Errorf("line %d, column %s: %s", r.line, column, fmt.Sprintf(format, args...))
	}
}

// number reads a cell that must hold a number of 0 or more; nil when empty.
func (r *lifeRow) number(column string) *float64 {
	text := r.cells[column]
	if text == "" {
		return nil
	}
	v, err := strconv.ParseFloat(text, 64)
	if err != nil && strings.Contains(text, ",") {
		r.fail(column, "%q is not a number; write a point, not a comma, before decimals", text)
		return nil
	}
	if err != nil || math.IsNaN(v) || math.IsInf(v, 0) || v < 0 {
		r.fail(column, "%q is not a number of 0 or more", text)
		return nil
	}
	return &v
}

// needed reads a number that may not be empty.
func (r *lifeRow) needed(column string) float64 {
	v := r.number(column)
	if v == nil {
		r.fail(column, "a number is needed here")
		return 0
	}
	return *v
}

// whole reads a whole number of least or more; missing gives when empty.
func (r *lifeRow) whole(column string, least, missing int) int {
	text := r.cells[column]
	if text == "" && missing >= least {
		return missing
	}
	v, err := strconv.Atoi(text)
	if err != nil || v < least || v > 1e9 {
		r.fail(column, "%q is not a whole number of %d or more", text, least)
		return 0
	}
	return v
}

// readLifeTable reads CSV with a header: the needed columns and any of the
// optional ones, in any order. Cells left off at the end of a line are empty.
func readLifeTable(in io.Reader, needed, optional []string) ([]lifeRow, error) {
	c := csv.NewReader(in)
	c.FieldsPerRecord = -1
	c.TrimLeadingSpace = true
	head, err := c.Read()
	if errors.Is(err, io.EOF) {
		return nil, fmt.Errorf("nothing to read: the first line must name the columns %s", strings.Join(needed, ","))
	}
	if err != nil {
		return nil, fmt.Errorf("the CSV cannot be read: %w", err)
	}
	if head, err = lifeHeader(head, needed, optional); err != nil {
		return nil, err
	}
	var rows []lifeRow
	for {
		cells, err := c.Read()
		if errors.Is(err, io.EOF) {
			break
		}
		if err != nil {
			return nil, fmt.Errorf("the CSV cannot be read: %w", err)
		}
		line, _ := c.FieldPos(0)
		if len(cells) > len(head) {
			return nil, fmt.Errorf("line %d: %d cells, but the header names %d columns", line, len(cells), len(head))
		}
		row := lifeRow{line: line, cells: map[string]string{}}
		for i, name := range head {
			row.cells[name] = ""
			if i < len(cells) {
				row.cells[name] = strings.TrimSpace(cells[i])
			}
		}
		rows = append(rows, row)
	}
	if len(rows) == 0 {
		return nil, errors.New("there is a header but no line of data below it")
	}
	return rows, nil
}

// lifeHeader checks the names of the columns and returns them tidied.
func lifeHeader(head, needed, optional []string) ([]string, error) {
	all := strings.Join(append(append([]string{}, needed...), optional...), ", ")
	known, seen := map[string]bool{}, map[string]bool{}
	for _, name := range append(append([]string{}, needed...), optional...) {
		known[name] = true
	}
	out := make([]string, len(head))
	for i, name := range head {
		name = strings.ToLower(strings.TrimSpace(strings.TrimPrefix(name, "\ufeff")))
		switch {
		case strings.ContainsAny(name, ";\t"):
			return nil, fmt.Errorf("line 1, column %d: separate the columns with commas", i+1)
		case !known[name]:
			return nil, fmt.Errorf("line 1, column %d: %q is not a column here; the first line names the columns: %s", i+1, name, all)
		case seen[name]:
			return nil, fmt.Errorf("line 1, column %d: %q stands there twice", i+1, name)
		}
		seen[name] = true
		out[i] = name
	}
	for _, name := range needed {
		if !seen[name] {
			return nil, fmt.Errorf("line 1: column %s is missing; the columns are: %s", name, all)
		}
	}
	return out, nil
}

// readLifeRecords reads the lines of `calc life`.
func readLifeRecords(in io.Reader) ([]life.Record, error) {
	rows, err := readLifeTable(in, []string{"hours", "failed"}, []string{"count", "entry", "last_good", "group"})
	if err != nil {
		return nil, err
	}
	records := make([]life.Record, 0, len(rows))
	for _, r := range rows {
		rec := life.Record{
			Group:    r.cells["group"],
			Hours:    r.needed("hours"),
			Count:    r.whole("count", 1, 1),
			Entry:    r.number("entry"),
			LastGood: r.number("last_good"),
		}
		if _, grouped := r.cells["group"]; !grouped {
			rec.Group = "all"
		}
		switch strings.ToLower(r.cells["failed"]) {
		case "1", "true":
			rec.Failed = true
		case "0", "false":
		default:
			r.fail("failed", "%q is neither 1 (failed) nor 0 (still good)", r.cells["failed"])
		}
		r.checkTimes(rec)
		if r.err != nil {
			return nil, r.err
		}
		records = append(records, rec)
	}
	return records, nil
}

// checkTimes compares the hours of one line with each other.
func (r *lifeRow) checkTimes(rec life.Record) {
	entry := 0.0
	if rec.Entry != nil {
		entry = *rec.Entry
	}
	switch {
	case rec.Failed && rec.Hours == 0:
		r.fail("hours", "failed at 0 hours; a part broken from the start is not a life, leave the line out")
	case entry > 0 && entry >= rec.Hours:
		r.fail("entry", "%g must be less than hours, %g", entry, rec.Hours)
	case rec.LastGood != nil && *rec.LastGood > rec.Hours:
		r.fail("last_good", "%g is later than hours, %g", *rec.LastGood, rec.Hours)
	case rec.LastGood != nil && rec.Failed && *rec.LastGood < entry:
		r.fail("last_good", "%g is before entry, %g", *rec.LastGood, entry)
	}
}

// readRateCounts reads the lines of `calc rates`; exposures come back as
// expected numbers.
func readRateCounts(in io.Reader) ([]life.RateCount, error) {
	rows, err := readLifeTable(in, []string{"group", "events"}, []string{"expected", "exposure"})
	if err != nil {
		return nil, err
	}
	_, expected := rows[0].cells["expected"]
	_, exposure := rows[0].cells["exposure"]
	if expected == exposure {
		return nil, errors.New("line 1: give either the column expected or the column exposure beside group and events")
	}
	column := "expected"
	if exposure {
		column = "exposure"
	}
	counts := make([]life.RateCount, 0, len(rows))
	for _, r := range rows {
		counts = append(counts, life.RateCount{Group: r.cells["group"],
			Events: r.whole("events", 0, -1), Amount: r.needed(column)})
		if r.err != nil {
			return nil, r.err
		}
	}
	if exposure {
		return life.ExpectedFromExposure(counts)
	}
	return counts, nil
}
