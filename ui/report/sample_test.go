package report

import (
	"context"
	"os"
	"path/filepath"
	"testing"
)

// TestSampleToLookAt writes reports to look at into the folder that
// FORKWEAR_SHEET names; without it they go to a folder that is thrown away.
func TestSampleToLookAt(t *testing.T) {
	dir := os.Getenv("FORKWEAR_SHEET")
	if dir == "" {
		dir = t.TempDir()
	}
	warned := twoVisits(t)
	warned.Sample, warned.Story.DoNotRide = true, true
	warned.Story.Lines[0].Assessment.DoNotRide = true
	warned.Story.Lines[1].Now.SHA256 = gone
	warned.Story.Case.Customer.Name += " 山田"
	for name, s := range map[string]Source{"two": twoVisits(t), "first": firstVisit(t), "warned": warned} {
		for _, ending := range []string{".pdf", ".html"} {
			file := filepath.Join(dir, name+ending)
			if err := Write(context.Background(), file, s); err != nil {
				t.Fatal(err)
			}
			if fi, err := os.Stat(file); err != nil || fi.Size() < 20_000 || fi.Size() > 5_000_000 {
				t.Errorf("%s: %v, %v", file, fi, err)
			}
		}
	}
}
