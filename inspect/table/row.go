package table

import (
	"math"
	"strconv"
	"strings"

	"forkwear/inspect"
)

// Row is one line by column name. The first bad cell is kept, with its line and
// column: see Err; the rest of the line then reads as it can.
type Row struct {
	Line  int
	cells map[string]string
	comma bool // a comma may stand before decimals
	err   error
}

// Err is the first refusal of the row.
func (r *Row) Err() error { return r.err }

// Has tells whether the table has a column.
func (r *Row) Has(column string) bool { _, ok := r.cells[column]; return ok }

// Text is a cell as it stands, "" where the column is not there.
func (r *Row) Text(column string) string { return r.cells[column] }

// Fail refuses a cell; only the first refusal of a row is kept.
func (r *Row) Fail(column, format string, args ...any) {
	if r.err == nil {
		r.err = inspect.Refuse(inspect.Invalid, "line %d, column %s: %w", r.Line, column, inspect.Refuse(inspect.Invalid, format, args...))
	}
}

// Number reads a cell that must hold a number of 0 or more; nil when empty.
func (r *Row) Number(column string) *float64 {
	v := r.any(column, "%q is not a number of 0 or more")
	if v != nil && *v < 0 {
		r.Fail(column, "%q is not a number of 0 or more", r.cells[column])
		return nil
	}
	return v
}

// Any reads a cell that must hold a finite number of either sign; nil when empty.
func (r *Row) Any(column string) *float64 { return r.any(column, "%q is not a number") }

func (r *Row) any(column, format string) *float64 {
	text := r.cells[column]
	if text == "" {
		return nil
	}
	typed := text
	if r.comma && strings.Count(text, ",") == 1 && !strings.Contains(text, ".") {
		typed = strings.Replace(text, ",", ".", 1)
	}
	v, err := strconv.ParseFloat(typed, 64)
	if err != nil && strings.Contains(text, ",") {
		r.Fail(column, "%q is not a number; write a point, not a comma, before decimals", text)
		return nil
	}
	if err != nil || math.IsNaN(v) || math.IsInf(v, 0) {
		r.Fail(column, format, text)
		return nil
	}
	return &v
}

// Needed reads what number found and refuses an empty cell.
func (r *Row) Needed(column string, v *float64) float64 {
	if v == nil {
		r.Fail(column, "a number is needed here")
		return 0
	}
	return *v
}

// Whole reads a whole number of least or more; missing gives when empty, and an
// empty cell is refused where missing is less than least.
func (r *Row) Whole(column string, least, missing int) int {
	text := r.cells[column]
	if text == "" && missing >= least {
		return missing
	}
	v, err := strconv.Atoi(text)
	if err != nil || v < least || v > 1e9 {
		r.Fail(column, "%q is not a whole number of %d or more", text, least)
		return 0
	}
	return v
}
