package report

import (
	"os"
	"regexp"
	"strings"
	"testing"

	"forkwear/inspect"
	"forkwear/inspect/measure"
	"forkwear/ui/tongue"
	"forkwear/ui/words"
)

// inGerman is a source as the desk makes it in German.
func inGerman(t *testing.T) Source {
	t.Helper()
	if err := tongue.Use("de"); err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { _ = tongue.Use(tongue.English) })
	s := handed(t)
	s.Sample = true
	return s
}

// The whole report speaks the language in force: none of the program's own
// English sentences is left in either layout.
func TestReportSpeaksGerman(t *testing.T) {
	s := inGerman(t)
	table, err := tongue.Table("de")
	if err != nil {
		t.Fatal(err)
	}
	page := made(t, asHTML, s)
	if !strings.Contains(string(page), `<html lang="de">`) {
		t.Error("the page does not name its language")
	}
	text, pdf := wordsOf(parsed(t, page)), pdfWords(t, made(t, asOpenPDF, s))
	if dir := os.Getenv("FORKWEAR_PICTURES"); dir != "" {
		_ = os.WriteFile(dir+"/report-de.html", page, 0o644)
		_ = os.WriteFile(dir+"/report-de.pdf", made(t, asPDF, s), 0o644)
	}
	for _, want := range []string{"Was eine Entscheidung braucht", "Musterwerkstatt: Nichts hier ist echt.", "Ihre Antworten, auf Papier unterschrieben", "Fahrstunden", "Nächster Besuch"} {
		if !strings.Contains(text, want) || !strings.Contains(pdf, want) {
			t.Errorf("%q is missing", want)
		}
	}
	for _, c := range s.Catalog.Texts() { // the story of this source was told from the English catalog
		delete(table, c)
	}
	verb := regexp.MustCompile(`%`)
	for en, de := range table {
		if len(en) < 12 || en == de || verb.MatchString(en) || strings.Contains(de, en) || !strings.Contains(en, " ") {
			continue
		}
		if at := strings.Index(text, en); at >= 0 {
			t.Errorf("English is left in the page: %q", en)
		}
		if strings.Contains(pdf, en) {
			t.Errorf("English is left in the PDF: %q", en)
		}
	}
}

// Settings stand in the shop's unit; what was typed with a unit of its own
// stays. 5 bar = 72.52 psi (1 psi = 0.0689476 bar, NIST SP 811).
func TestSettingsInTheShopsUnit(t *testing.T) {
	words.UseUnits(measure.Preference{Pressure: measure.PSI})
	t.Cleanup(func() { words.UseUnits(measure.Preference{}) })
	got := settings([]inspect.Setting{
		{Key: "air_pressure", Moment: "found", Value: 5, Unit: "bar"},
		{Key: "air_pressure", Moment: "left", Value: 5, Unit: "bar", Text: "5 bar"},
	})
	if len(got) != 1 || got[0].Found != "72.52"+words.Thin+"psi" || got[0].Left != "5 bar" {
		t.Errorf("%+v", got)
	}
}
