package life

import (
	"io"
	"strings"

	"forkwear/inspect"
	"forkwear/inspect/table"
)

// RecordColumns are the columns of a table of lives.
func RecordColumns() table.Columns {
	return table.Columns{Needed: []string{"hours", "failed"}, Optional: []string{"count", "entry", "last_good", "group"}}
}

// CountColumns are the columns of a table of rates: expected or exposure.
func CountColumns() table.Columns {
	return table.Columns{Needed: []string{"group", "events"}, Optional: []string{"expected", "exposure"}}
}

// ReadRecords reads a table of lives, one unit or several alike a line:
// hours,failed[,count][,entry][,last_good][,group]. Refusals name the line.
func ReadRecords(in io.Reader) ([]Record, error) {
	rows, err := table.Read(in, RecordColumns())
	if err != nil {
		return nil, err
	}
	records := make([]Record, 0, len(rows))
	for i := range rows {
		rec := readRecord(&rows[i])
		if err := rows[i].Err(); err != nil {
			return nil, err
		}
		records = append(records, rec)
	}
	return records, nil
}

func readRecord(r *table.Row) Record {
	rec := Record{
		Group:    r.Text("group"),
		Hours:    r.Needed("hours", r.Number("hours")),
		Count:    r.Whole("count", 1, 1),
		Entry:    r.Number("entry"),
		LastGood: r.Number("last_good"),
	}
	if !r.Has("group") {
		rec.Group = "all"
	}
	switch strings.ToLower(r.Text("failed")) {
	case "1", "true":
		rec.Failed = true
	case "0", "false":
	default:
		r.Fail("failed", "%q is neither 1 (failed) nor 0 (still good)", r.Text("failed"))
	}
	checkTimes(r, rec)
	return rec
}

// checkTimes compares the hours of one line with each other.
func checkTimes(r *table.Row, rec Record) {
	entry := 0.0
	if rec.Entry != nil {
		entry = *rec.Entry
	}
	switch {
	case rec.Failed && rec.Hours == 0:
		r.Fail("hours", "failed at 0 hours; a part broken from the start is not a life, leave the line out")
	case entry > 0 && entry >= rec.Hours:
		r.Fail("entry", "%g must be less than hours, %g", entry, rec.Hours)
	case rec.LastGood != nil && *rec.LastGood > rec.Hours:
		r.Fail("last_good", "%g is later than hours, %g", *rec.LastGood, rec.Hours)
	case rec.LastGood != nil && rec.Failed && *rec.LastGood < entry:
		r.Fail("last_good", "%g is before entry, %g", *rec.LastGood, entry)
	}
}

// ReadCounts reads a table of rates, one group a line: group,events,expected or
// group,events,exposure; exposures come back as expected numbers, see
// ExpectedFromExposure.
func ReadCounts(in io.Reader) ([]RateCount, error) {
	rows, err := table.Read(in, CountColumns())
	if err != nil {
		return nil, err
	}
	expected, exposure := rows[0].Has("expected"), rows[0].Has("exposure")
	if expected == exposure {
		return nil, inspect.Refuse(inspect.Invalid, "line 1: give either the column expected or the column exposure beside group and events")
	}
	column := "expected"
	if exposure {
		column = "exposure"
	}
	counts := make([]RateCount, 0, len(rows))
	for i := range rows {
		r := &rows[i]
		counts = append(counts, RateCount{Group: r.Text("group"), Events: r.Whole("events", 0, -1), Amount: r.Needed(column, r.Number(column))})
		if err := r.Err(); err != nil {
			return nil, err
		}
	}
	if exposure {
		return ExpectedFromExposure(counts)
	}
	return counts, nil
}
