package report

import (
	"strings"
	"testing"

	"forkwear/inspect"
	"forkwear/inspect/shop"
)

// Torques that were written down and words that were added later stand in both
// layouts; a bolt without a value is left out.
func TestTorquesAndAmendmentsInBothLayouts(t *testing.T) {
	s := twoVisits(t)
	c := s.Story.Case
	c.Visit.Level = c.Level.ID
	all := shop.Torques(s.Catalog, c)
	if len(all) < 2 {
		t.Fatalf("the level has %d bolts", len(all))
	}
	c.Tasks = []inspect.Task{{Key: all[0].Task.ID, Done: true, Value: 12.5, Unit: "N·m", Tool: "wrench 2"}}
	c.Amendments = []inspect.Amendment{{What: "air pressure was 5.2 bar", Why: "misread", By: "Ada", At: s.Made}}
	page, pdf := wordsOf(parsed(t, made(t, asHTML, s))), pdfWords(t, made(t, asOpenPDF, s))
	for name, got := range map[string]string{"HTML": even(page), "PDF": even(pdf)} {
		for _, want := range []string{all[0].Task.Name, "12.5 N·m, with wrench 2", "Added after the fork was collected", "by Ada", "air pressure was 5.2 bar (reason: misread)"} {
			if !strings.Contains(got, even(want)) {
				t.Errorf("%s: %q is missing", name, want)
			}
		}
		if strings.Contains(got, all[1].Task.Name) {
			t.Errorf("%s: %q stands there without a value", name, all[1].Task.Name)
		}
	}
}
