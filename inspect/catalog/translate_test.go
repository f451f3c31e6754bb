package catalog

import (
	"reflect"
	"strings"
	"testing"
)

// A translation reaches every text and nothing that programs read; the catalog
// that it was made from stays as it is.
func TestTranslatedReachesTextsOnly(t *testing.T) {
	c, err := Embedded()
	if err != nil {
		t.Fatal(err)
	}
	before, _ := Embedded()
	loud := c.Translated(strings.ToUpper)
	if !reflect.DeepEqual(c, before) {
		t.Error("translating changed the catalog that was translated")
	}
	if loud.Hash != c.Hash {
		t.Error("the language changed the hash of the catalog")
	}
	for i, k := range loud.Checks {
		e := c.Checks[i]
		if k.Name != strings.ToUpper(e.Name) || k.How != strings.ToUpper(e.How) || k.Words["0"] != strings.ToUpper(e.Words["0"]) {
			t.Errorf("%s was not translated whole", e.ID)
		}
		if k.ID != e.ID || k.Unit != e.Unit || k.Part != e.Part || k.Source != e.Source || !reflect.DeepEqual(k.Points, e.Points) {
			t.Errorf("%s: a translation changed what programs read", e.ID)
		}
	}
	if holes := loud.Validate(); len(holes) != 0 {
		t.Errorf("the translated catalog has holes: %v", holes)
	}
	same := c.Translated(func(s string) string { return s })
	same.Tongue = nil // a function is never equal to another
	for i := range same.Checks {
		same.Checks[i].Tongue = nil
	}
	if !reflect.DeepEqual(same, c) {
		t.Error("a translation that changes nothing changes something")
	}
}

func TestTextsAreAllAndOnce(t *testing.T) {
	c, err := Embedded()
	if err != nil {
		t.Fatal(err)
	}
	texts := c.Texts()
	seen := map[string]bool{}
	for _, s := range texts {
		if seen[s] || s == "" {
			t.Errorf("%q stands twice or is empty", s)
		}
		seen[s] = true
	}
	for _, k := range c.Checks {
		for _, s := range append([]string{k.Name, k.How, k.More, k.Fails}, k.Fields...) {
			if s != "" && !seen[s] {
				t.Errorf("%s: %q is not among the texts", k.ID, s)
			}
		}
	}
}
