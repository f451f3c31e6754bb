package life

import (
	"strings"
	"testing"
)

func TestRecordsAndCountsAreReadByName(t *testing.T) {
	records, err := ReadRecords(strings.NewReader("group;failed;hours;last_good\nair;1;120,5;90\ncoil;0;300;\n"))
	if err != nil || len(records) != 2 {
		t.Fatal(records, err)
	}
	if r := records[0]; r.Group != "air" || !r.Failed || r.Hours != 120.5 || r.LastGood == nil || *r.LastGood != 90 || r.Count != 1 || r.Entry != nil {
		t.Errorf("%+v", r)
	}
	// expected from exposure by hand: 4 events over 400, so 1 for 100 and 3 for 300
	counts, err := ReadCounts(strings.NewReader("group\tevents\texposure\na\t3\t100\nb\t1\t300\n"))
	if err != nil || counts[0].Amount != 1 || counts[1].Amount != 3 {
		t.Errorf("%+v, %v", counts, err)
	}
	_, err = ReadRecords(strings.NewReader("hours,failed\n10,1\n20,perhaps\n"))
	if err == nil || !strings.Contains(err.Error(), "line 3, column failed") {
		t.Errorf("%v", err)
	}
}

func FuzzReadRecords(f *testing.F) {
	f.Add("hours,failed,count,entry,last_good,group\n10,1,2,1,5,a\n")
	f.Add("hours;failed\n1,5;true\n")
	f.Fuzz(func(t *testing.T, text string) {
		records, err := ReadRecords(strings.NewReader(text))
		if (err == nil) != (len(records) > 0) {
			t.Fatalf("%q: %d records, %v", text, len(records), err)
		}
		for _, r := range records {
			if r.Hours < 0 || r.Failed && r.Hours == 0 || r.Count < 1 {
				t.Fatalf("%q is read as %+v", text, r)
			}
		}
		_, _ = ReadCounts(strings.NewReader(text))
	})
}
