package table

import (
	"bufio"
	"encoding/csv"
	"errors"
	"io"
	"strings"

	"forkwear/inspect"
)

// Columns says which columns a table has.
type Columns struct {
	Needed, Optional []string
	// Others lets columns of other names stand there, unread.
	Others bool
}

// All are the names of the columns, the needed ones first: "hours, failed".
func (c Columns) All() string {
	return strings.Join(append(append([]string{}, c.Needed...), c.Optional...), ", ")
}

// Header is a header line with every column: "hours,failed".
func (c Columns) Header() string { return strings.ReplaceAll(c.All(), ", ", ",") }

// Read reads a table. Cells left off at the end of a line are empty. Refused,
// by line: no header, a needed column missing, a column twice or of a name that
// has no meaning, more cells than columns, no row below the header.
func Read(in io.Reader, columns Columns) ([]Row, error) {
	text := bufio.NewReaderSize(in, 64<<10)
	sep := separator(text)
	c := csv.NewReader(text)
	c.Comma = sep
	c.FieldsPerRecord = -1
	c.TrimLeadingSpace = sep != '\t' // else it would take empty cells away
	head, err := c.Read()
	if errors.Is(err, io.EOF) {
		return nil, inspect.Refuse(inspect.Invalid, "nothing to read, the table is empty: its first line must name the columns %s", strings.Join(columns.Needed, ","))
	}
	if err != nil {
		return nil, inspect.Refuse(inspect.Invalid, "the table cannot be read: %w", err)
	}
	if head, err = columns.header(head); err != nil {
		return nil, err
	}
	rows, err := rowsBelow(c, head, sep != ',')
	if err == nil && len(rows) == 0 {
		err = inspect.Refuse(inspect.Invalid, "there is a header but no line of data below it")
	}
	return rows, err
}

// separator is what parts the names in the first line that is not empty: a tab
// or a semicolon where one stands there and no comma does.
func separator(text *bufio.Reader) rune {
	seen, _ := text.Peek(4096) // a shorter text comes with an error and is all there is
	line, _, _ := strings.Cut(strings.TrimLeft(string(seen), "\r\n"), "\n")
	switch {
	case strings.Contains(line, ","):
		return ','
	case strings.Contains(line, "\t"):
		return '\t'
	case strings.Contains(line, ";"):
		return ';'
	}
	return ','
}

func rowsBelow(c *csv.Reader, head []string, comma bool) ([]Row, error) {
	var rows []Row
	for {
		cells, err := c.Read()
		if errors.Is(err, io.EOF) {
			return rows, nil
		}
		if err != nil {
			return nil, inspect.Refuse(inspect.Invalid, "the table cannot be read: %w", err)
		}
		line, _ := c.FieldPos(0)
		if len(cells) > len(head) {
			return nil, inspect.Refuse(inspect.Invalid, "line %d: %d cells, but the header names %d columns", line, len(cells), len(head))
		}
		row := Row{Line: line, cells: map[string]string{}, comma: comma}
		for i, name := range head {
			row.cells[name] = ""
			if i < len(cells) {
				row.cells[name] = strings.TrimSpace(cells[i])
			}
		}
		rows = append(rows, row)
	}
}

// header checks the names of the columns and returns them tidied.
func (c Columns) header(head []string) ([]string, error) {
	known, seen := map[string]bool{}, map[string]bool{}
	for _, name := range append(append([]string{}, c.Needed...), c.Optional...) {
		known[name] = true
	}
	out := make([]string, len(head))
	for i, name := range head {
		name = strings.ToLower(strings.TrimSpace(strings.TrimPrefix(name, "\ufeff")))
		switch {
		case strings.ContainsAny(name, ";\t"):
			return nil, inspect.Refuse(inspect.Invalid, "line 1, column %d: separate the columns with commas, or all of them with semicolons or tabs", i+1)
		case !known[name] && !c.Others:
			return nil, inspect.Refuse(inspect.Invalid, "line 1, column %d: %q is not a column here; the first line names the columns: %s", i+1, name, c.All())
		case seen[name] && known[name]:
			return nil, inspect.Refuse(inspect.Invalid, "line 1, column %d: %q stands there twice", i+1, name)
		}
		seen[name] = true
		out[i] = name
	}
	for _, name := range c.Needed {
		if !seen[name] {
			return nil, inspect.Refuse(inspect.Invalid, "line 1: column %s is missing; the columns are: %s", name, c.All())
		}
	}
	return out, nil
}
