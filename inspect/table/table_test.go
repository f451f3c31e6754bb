package table

import (
	"fmt"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

var columns = Columns{Needed: []string{"hours", "failed"}, Optional: []string{"group"}}

func TestReadsTheThreeSeparators(t *testing.T) {
	for name, text := range map[string]string{
		"comma":             "hours,failed,group\n1.5,1,a\n20,0,\n",
		"semicolon, comma":  "hours;failed;group\n1,5;1;a\n20;0;\n",
		"tab, as a sheet":   "hours\tfailed\tgroup\n1,5\t1\ta\n20\t0\t\n",
		"order, case, BOM":  "\ufeffFailed, Group ,HOURS\r\n1,a,1.5\r\n0,,20\r\n",
		"empty lines, left": "\n\nhours,failed,group\n1.5,1,a\n\n20,0\n",
	} {
		rows, err := Read(strings.NewReader(text), columns)
		if err != nil || len(rows) != 2 {
			t.Errorf("%s: %d rows, %v", name, len(rows), err)
			continue
		}
		if v := rows[0].Number("hours"); v == nil || *v != 1.5 || rows[0].Text("group") != "a" || rows[1].Whole("failed", 0, -1) != 0 || rows[1].Text("group") != "" {
			t.Errorf("%s is read as %+v", name, rows)
		}
	}
}

func TestAnEmptyCellInTheMiddleOfTabsStays(t *testing.T) {
	rows, err := Read(strings.NewReader("hours\tgroup\tfailed\n10\t\t1\n"), columns)
	if err != nil || rows[0].Text("group") != "" || rows[0].Text("failed") != "1" {
		t.Errorf("%+v, %v", rows, err)
	}
}

// Every refusal names the line.
func TestRefusals(t *testing.T) {
	for text, want := range map[string]string{
		"":                               "empty",
		"hours,failed\n":                 "no line of data",
		"hours;failed,group\n1,1\n":      "line 1, column 1: separate",
		"hours,failed,size\n1,1,1\n":     `line 1, column 3: "size"`,
		"hours,failed,hours\n1,1,1\n":    "twice",
		"hours\n1\n":                     "line 1: column failed is missing",
		"hours,failed\n1,1\n1,1,3,4\n":   "line 3: 4 cells",
		"hours,failed\n\"1,1\n":          "cannot be read",
		"hours,failed\n1,1\n\n\nx,1\n":   "line 5, column hours",
		"hours,failed\n\"1,5\",1\n":      "a point, not a comma",
		"hours;failed\n1,5,5;1\n":        "line 2, column hours",
		"hours,failed\n-1,1\n":           "0 or more",
		"hours,failed\nInf,1\n":          "line 2, column hours",
		"hours,failed\n,1\n":             "a number is needed",
		"hours,failed\n1,two\n":          "line 2, column failed",
		"hours,failed\n1,99999999999999": "line 2, column failed",
	} {
		rows, err := Read(strings.NewReader(text), columns)
		for i := range rows {
			rows[i].Needed("hours", rows[i].Number("hours"))
			rows[i].Whole("failed", 0, -1)
			if err == nil {
				err = rows[i].Err()
			}
		}
		if err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%q: %v, want %q", text, err, want)
		}
	}
}

func TestOtherColumnsMayStandThereWhereTheyAreLet(t *testing.T) {
	c := columns
	c.Others = true
	rows, err := Read(strings.NewReader("hours,failed,size,size\n-3,1,1,2\n"), c)
	if err != nil || len(rows) != 1 {
		t.Fatal(err)
	}
	if v := rows[0].Any("hours"); v == nil || *v != -3 {
		t.Errorf("%v", v)
	}
}

// What is written as a table is read as it was, with any separator.
func TestWrittenAndReadAgain(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		sep := rapid.SampledFrom([]string{",", ";", "\t"}).Draw(t, "separator")
		hours := rapid.SliceOfN(rapid.Float64Range(0, 1e6), 1, 20).Draw(t, "hours")
		text := "failed" + sep + "hours\n"
		for i, h := range hours {
			n := fmt.Sprint(h)
			if sep != "," {
				n = strings.Replace(n, ".", ",", 1)
			}
			text += fmt.Sprint(i%2) + sep + n + "\n"
		}
		rows, err := Read(strings.NewReader(text), columns)
		if err != nil || len(rows) != len(hours) {
			t.Fatalf("%d rows of %d: %v", len(rows), len(hours), err)
		}
		for i, h := range hours {
			if v := rows[i].Number("hours"); v == nil || *v != h || rows[i].Line != i+2 {
				t.Fatalf("row %d is %v on line %d, written %g", i, v, rows[i].Line, h)
			}
		}
	})
}

// No bytes may crash the reader, and a refusal comes alone.
func FuzzRead(f *testing.F) {
	f.Add("hours,failed\n1,1\n")
	f.Add("\ufeffhours\tfailed\n1,5\t\n")
	f.Add("hours;failed\n\"")
	f.Fuzz(func(t *testing.T, text string) {
		rows, err := Read(strings.NewReader(text), columns)
		if err != nil && rows != nil {
			t.Fatalf("%q is refused and read", text)
		}
		for i := range rows {
			rows[i].Any("hours")
		}
	})
}
