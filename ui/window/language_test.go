package window

import (
	"testing"

	"fyne.io/fyne/v2/lang"

	"forkwear/ui/tongue"
)

// Everything in the language that was chosen: our words, and those of the
// toolkit's own dialogs.
func TestUseLanguage(t *testing.T) {
	t.Setenv("LANGUAGE", "en")
	t.Cleanup(func() { _, _ = UseLanguage(tongue.English) })
	for _, c := range []struct{ code, bench, damper, cancel string }{
		{"de", "Werkbank", "Dämpfer", "Abbrechen"},
		{"en", "Bench", "Damper", "Cancel"},
		{"de", "Werkbank", "Dämpfer", "Abbrechen"},
	} {
		if code, err := UseLanguage(c.code); err != nil || code != c.code {
			t.Fatalf("%s: %s, %v", c.code, code, err)
		}
		if got := lang.L("Bench"); got != c.bench {
			t.Errorf("%s: Bench is %q", c.code, got)
		}
		if got := tongue.Say("Damper"); got != c.damper {
			t.Errorf("%s: Damper is %q", c.code, got)
		}
		if got := lang.L("Cancel"); got != c.cancel {
			t.Errorf("%s: Cancel is %q", c.code, got)
		}
	}
	if _, err := UseLanguage("xx"); err == nil {
		t.Error("a language that is not there was taken")
	}
	if tongue.Code() != "de" {
		t.Error("a refused language changed the one in force")
	}
}
