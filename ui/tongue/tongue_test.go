package tongue

import (
	"encoding/json"
	"regexp"
	"sort"
	"strings"
	"testing"

	"forkwear/inspect/catalog"
)

func TestUseAndSay(t *testing.T) {
	t.Cleanup(func() { _ = Use(English) })
	if Code() != English || Say("Damper") != "Damper" {
		t.Error("without a choice the program speaks English")
	}
	if err := Use("de"); err != nil {
		t.Fatal(err)
	}
	if Code() != "de" || Say("Damper") != "Dämpfer" {
		t.Errorf("Damper in German is %q", Say("Damper"))
	}
	if got := Say("a text that nobody wrote"); got != "a text that nobody wrote" {
		t.Errorf("a text without translation came out as %q", got)
	}
	if err := Use("xx"); err == nil || !strings.Contains(err.Error(), "xx") {
		t.Errorf("a language that is not there: %v", err)
	}
	if Code() != "de" {
		t.Error("a refused language changed the one in force")
	}
}

// Every text of the shipped catalog is there in every language, and no
// translation is left over from a text that is gone.
func TestCatalogIsWhole(t *testing.T) {
	c, err := catalog.Embedded()
	if err != nil {
		t.Fatal(err)
	}
	for _, l := range Languages()[1:] {
		part := map[string]string{}
		if err := json.Unmarshal(Files(l.Code)["catalog."+l.Code+".json"], &part); err != nil {
			t.Fatal(err)
		}
		for _, text := range c.Texts() {
			if strings.TrimSpace(part[text]) == "" {
				t.Errorf("%s: no text for %q", l.Code, text)
			}
			delete(part, text)
		}
		for _, left := range sortedKeys(part) {
			t.Errorf("%s: %q is not a text of the catalog any more", l.Code, left)
		}
	}
}

var verb = regexp.MustCompile(`%(\[\d+\])?[-+#0]*(\d+)?(\.\d+)?(\[\d+\])?[a-zA-Z%]`)

// A translation takes the same values, of the same kinds, as its English text,
// in the same order or by number, and has as many lines.
func TestTranslationsTakeTheSameValues(t *testing.T) {
	for _, l := range Languages()[1:] {
		table, err := Table(l.Code)
		if err != nil {
			t.Fatal(err)
		}
		for en, other := range table {
			a, b := verb.FindAllString(en, -1), verb.FindAllString(other, -1)
			if strings.Contains(other, "%[") {
				a, b = unnumbered(a), unnumbered(b)
			}
			if strings.Join(a, " ") != strings.Join(b, " ") {
				t.Errorf("%s: %q takes %v, its translation %q takes %v", l.Code, en, a, other, b)
			}
			if strings.Count(en, "{{") != strings.Count(other, "{{") {
				t.Errorf("%s: %q and %q name different values", l.Code, en, other)
			}
		}
	}
}

// One text has one translation: no two files of a language say it differently.
func TestFilesAgree(t *testing.T) {
	for _, l := range Languages()[1:] {
		said := map[string]string{}
		for name, data := range Files(l.Code) {
			part := map[string]string{}
			if err := json.Unmarshal(data, &part); err != nil {
				t.Fatalf("%s: %v", name, err)
			}
			for en, other := range part {
				if had, ok := said[en]; ok && had != other {
					t.Errorf("%s: %q is both %q and %q: give one of them a sense (SayAs)", l.Code, en, had, other)
				}
				said[en] = other
			}
		}
	}
}

// unnumbered takes the numbers out of verbs and sorts them.
func unnumbered(verbs []string) []string {
	out := make([]string, len(verbs))
	for i, v := range verbs {
		out[i] = regexp.MustCompile(`\[\d+\]`).ReplaceAllString(v, "")
	}
	sort.Strings(out)
	return out
}

func sortedKeys(m map[string]string) []string {
	keys := make([]string, 0, len(m))
	for k := range m {
		keys = append(keys, k)
	}
	sort.Strings(keys)
	return keys
}
