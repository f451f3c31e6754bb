package report

import (
	"bytes"
	"context"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"forkwear/inspect/shop"
)

func TestCharactersThatCantBePrinted(t *testing.T) {
	g, err := newGlyphs()
	if err != nil {
		t.Fatal(err)
	}
	// Latin, Polish, Czech, Nordic, Greek and Cyrillic letters and the signs of the report.
	for _, s := range []string{"Zoë Mühl ß", "Łąska źdźbło", "Příkladná ěšč", "Ærøskøbing Åse", "Γιώργος", "Щукин Ёлка", "± · – → ’ “ ” € °"} {
		if got := g.shown(s); got != s {
			t.Errorf("%q is printed as %q", s, got)
		}
	}
	if g.remark() != "" {
		t.Errorf("nothing is missing, and yet: %s", g.remark())
	}
	if got := g.shown("山田 A\u2009h"); got != "?? A\u00a0h" {
		t.Errorf("printed as %q", got)
	}
	s := twoVisits(t)
	s.Story.Case.Customer.Name = "山田 𝒳"
	text := pdfWords(t, made(t, asOpenPDF, s))
	for _, want := range []string{"stand as a question mark", "U+5C71", "U+7530", "U+1D4B3"} {
		if !strings.Contains(text, want) {
			t.Errorf("the PDF doesn't tell %q", want)
		}
	}
	if !strings.Contains(wordsOf(parsed(t, made(t, asHTML, s))), "山田 𝒳") {
		t.Error("the page doesn't show the name")
	}
}

func TestWrite(t *testing.T) {
	dir := t.TempDir()
	for name, begins := range map[string]string{"a.pdf": "%PDF-", "b.HTML": "<!doctype html>", "c.htm": "<!doctype html>"} {
		file := filepath.Join(dir, name)
		if err := Write(context.Background(), file, twoVisits(t)); err != nil {
			t.Fatal(err)
		}
		if b, err := os.ReadFile(file); err != nil || !bytes.HasPrefix(b, []byte(begins)) {
			t.Errorf("%s begins with %.20q, %v", name, b, err)
		}
	}
	kept := filepath.Join(dir, "a.pdf")
	old, _ := os.ReadFile(kept)
	if err := Write(context.Background(), kept, Source{}); err == nil {
		t.Error("a report without a visit is written")
	}
	if err := Write(context.Background(), filepath.Join(dir, "a.docx"), twoVisits(t)); err == nil || !strings.Contains(err.Error(), ".pdf or .html") {
		t.Errorf("an unknown ending gives %v", err)
	}
	if b, _ := os.ReadFile(kept); !bytes.Equal(b, old) {
		t.Error("a failed report has changed the old one")
	}
	if left, _ := filepath.Glob(filepath.Join(dir, ".report-*")); len(left) > 0 {
		t.Errorf("left behind: %v", left)
	}
}

// A long, hostile or empty story must still give a whole report.
func TestOddStories(t *testing.T) {
	s := twoVisits(t)
	s.Story = &shop.Story{Case: &shop.Case{}}
	made(t, asHTML, s)
	made(t, asPDF, s)
	s = twoVisits(t)
	for range 60 {
		s.Story.Lines = append(s.Story.Lines, s.Story.Lines[0], s.Story.Lines[2])
	}
	s.Story.Lines[0].Sentence = strings.Repeat("long ", 3000) + strings.Repeat("x", 4000)
	made(t, asPDF, s)
	made(t, asHTML, s)
}
