package store

import (
	"database/sql"
	"encoding/json"
	"math"
	"strings"
	"time"

	"forkwear/inspect"
)

// column ties one field of a record to its column or columns: value gives what
// is written, into is where reading puts it, and done carries it to the field.
type column struct {
	names []string
	value func() ([]any, error)
	into  []any
	done  func() error
}

// columns are the columns of one record, in one order for writing and reading.
type columns []column

func (cs columns) names() []string {
	var out []string
	for _, c := range cs {
		out = append(out, c.names...)
	}
	return out
}

// of gives every name the alias of its table, for a query over several tables.
func (cs columns) of(alias string) columns {
	for i := range cs {
		for j, n := range cs[i].names {
			cs[i].names[j] = alias + "." + n
		}
	}
	return cs
}

func (cs columns) values() ([]any, error) {
	var out []any
	for _, c := range cs {
		vs, err := c.value()
		if err != nil {
			return nil, err
		}
		out = append(out, vs...)
	}
	return out, nil
}

func (cs columns) list() string { return strings.Join(cs.names(), ", ") }

func (cs columns) targets() []any {
	var out []any
	for _, c := range cs {
		out = append(out, c.into...)
	}
	return out
}

func (cs columns) finish() error {
	for _, c := range cs {
		if c.done == nil {
			continue
		}
		if err := c.done(); err != nil {
			return err
		}
	}
	return nil
}

func text[T ~string](name string, p *T) column {
	return column{
		names: []string{name},
		value: func() ([]any, error) { return []any{string(*p)}, nil },
		into:  []any{p},
	}
}

// ref is a reference that may be empty: NULL in the table.
func ref(name string, p *inspect.ID) column {
	var held sql.NullString
	return column{
		names: []string{name},
		value: func() ([]any, error) { return []any{sql.NullString{String: string(*p), Valid: *p != ""}}, nil },
		into:  []any{&held},
		done:  func() error { *p = inspect.ID(held.String); return nil },
	}
}

func whole[T ~int | ~int64](name string, p *T) column {
	return column{
		names: []string{name},
		value: func() ([]any, error) { return []any{int64(*p)}, nil },
		into:  []any{p},
	}
}

func flag(name string, p *bool) column {
	return column{
		names: []string{name},
		value: func() ([]any, error) {
			if *p {
				return []any{int64(1)}, nil
			}
			return []any{int64(0)}, nil
		},
		into: []any{p},
	}
}

// number is a finite number: SQLite would turn NaN into NULL without a word.
func number(name string, p *float64) column {
	return column{
		names: []string{name},
		value: func() ([]any, error) { return []any{*p}, finite(name, *p) },
		into:  []any{p},
	}
}

// maybe is a number that may be missing.
func maybe(name string, p **float64) column {
	return column{
		names: []string{name},
		value: func() ([]any, error) {
			if *p == nil {
				return []any{nil}, nil
			}
			return []any{**p}, finite(name, **p)
		},
		into: []any{p},
	}
}

func finite(name string, x float64) error {
	if math.IsNaN(x) || math.IsInf(x, 0) {
		return inspect.Refuse(inspect.Invalid, "%s is not a finite number: leave it out or type it again", name)
	}
	return nil
}

// document is a list or a small record kept as JSON, NULL where it is nil.
func document[T any](name string, p *T) column {
	var held sql.NullString
	return column{
		names: []string{name},
		value: func() ([]any, error) {
			b, err := json.Marshal(*p)
			if err != nil {
				return nil, inspect.Refuse(inspect.Invalid, "%s can't be kept: %w", name, err)
			}
			if string(b) == "null" {
				return []any{nil}, nil
			}
			return []any{string(b)}, nil
		},
		into: []any{&held},
		done: func() error {
			var fresh T
			if held.Valid {
				if err := json.Unmarshal([]byte(held.String), &fresh); err != nil {
					return inspect.Refuse(inspect.Damaged, "the stored text of %s can't be read, restore a backup: %w", name, err)
				}
			}
			*p = fresh
			return nil
		},
	}
}

// blob is bytes as they are, NULL for nil.
func blob(name string, p *[]byte) column {
	var held []byte
	return column{
		names: []string{name},
		value: func() ([]any, error) {
			if *p == nil {
				return []any{nil}, nil
			}
			return []any{*p}, nil
		},
		into: []any{&held},
		done: func() error { *p = held; held = nil; return nil },
	}
}

// instant is the text of a time in the library: UTC, of fixed width so that
// text sorts as time does.
const instant = "2006-01-02T15:04:05.000000000Z"

// moment is a time in two columns, the instant and the offset in seconds that
// it was made in; a zero time is NULL in both.
func moment(name string, p *time.Time) column {
	var at sql.NullString
	var offset sql.NullInt64
	return column{
		names: []string{name, name + "_offset"},
		value: func() ([]any, error) { return momentValues(name, *p) },
		into:  []any{&at, &offset},
		done: func() (err error) {
			*p, err = parseMoment(at.String, int(offset.Int64))
			return err
		},
	}
}

func momentValues(name string, t time.Time) ([]any, error) {
	if t.IsZero() {
		return []any{nil, nil}, nil
	}
	utc := t.UTC()
	if y := utc.Year(); y < 1 || y > 9999 {
		return nil, inspect.Refuse(inspect.Invalid, "the year %d of %s is outside 1 to 9999: type the date again", y, name)
	}
	_, offset := t.Zone()
	return []any{utc.Format(instant), int64(offset)}, nil
}

func parseMoment(at string, offset int) (time.Time, error) {
	if at == "" {
		return time.Time{}, nil
	}
	t, err := time.Parse(instant, at)
	if err != nil {
		return time.Time{}, inspect.Refuse(inspect.Damaged, "the stored time %q can't be read, restore a backup: %w", at, err)
	}
	if offset == 0 {
		return t.UTC(), nil
	}
	return t.In(time.FixedZone("", offset)), nil
}
