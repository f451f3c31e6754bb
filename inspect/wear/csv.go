package wear

import (
	"io"

	"forkwear/inspect/table"
)

// ReadingColumns are the columns of a table of readings; a level has no need of
// hours. Columns of other names may stand there, unread.
func ReadingColumns(m Model) table.Columns {
	if m == Level {
		return table.Columns{Needed: []string{"unit", "value"}, Optional: []string{"hours", "sd"}, Others: true}
	}
	return table.Columns{Needed: []string{"unit", "hours", "value"}, Optional: []string{"sd"}, Others: true}
}

// ReadReadings reads a table of readings, one a line: unit,hours,value[,sd].
// sd is the measurement's standard uncertainty. Refusals name the line.
func ReadReadings(in io.Reader, m Model) (Data, error) {
	rows, err := table.Read(in, ReadingColumns(m))
	if err != nil {
		return Data{}, err
	}
	var data Data
	for i := range rows {
		r := &rows[i]
		o := Observation{Unit: r.Text("unit"), Value: r.Needed("value", r.Any("value"))}
		if o.Unit == "" {
			r.Fail("unit", "there is no unit here: name it")
		}
		if r.Has("hours") {
			o.Hours = r.Needed("hours", r.Number("hours"))
		}
		if u := r.Number("sd"); u != nil {
			o.U = *u
		}
		if err := r.Err(); err != nil {
			return Data{}, err
		}
		data.Observations = append(data.Observations, o)
	}
	return data, nil
}
