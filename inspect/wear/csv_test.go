package wear

import (
	"strings"
	"testing"
)

func TestReadingsAreReadByName(t *testing.T) {
	data, err := ReadReadings(strings.NewReader("value\tunit\thours\tsd\n0,10\ta\t0\t0,01\n-1\ta\t20\t\n"), Line)
	if err != nil || len(data.Observations) != 2 {
		t.Fatal(data, err)
	}
	if o := data.Observations[0]; o.Unit != "a" || o.Value != 0.1 || o.U != 0.01 || data.Observations[1].Hours != 20 || data.Observations[1].Value != -1 {
		t.Errorf("%+v", data.Observations)
	}
	if _, err := ReadReadings(strings.NewReader("unit,value\na,1\n"), Line); err == nil || !strings.Contains(err.Error(), "hours") {
		t.Errorf("a line without hours: %v", err)
	}
	if _, err := ReadReadings(strings.NewReader("unit,value,batch\na,1,x\n"), Level); err != nil {
		t.Errorf("a level without hours: %v", err)
	}
}

func FuzzReadReadings(f *testing.F) {
	f.Add("unit,hours,value,sd\na,0,1,0.1\n")
	f.Fuzz(func(t *testing.T, text string) {
		for _, m := range []Model{Line, Level} {
			data, err := ReadReadings(strings.NewReader(text), m)
			if (err == nil) != (len(data.Observations) > 0) {
				t.Fatalf("%q: %d readings, %v", text, len(data.Observations), err)
			}
		}
	})
}
