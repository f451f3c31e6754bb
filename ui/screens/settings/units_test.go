package settings

import (
	"testing"

	"fyne.io/fyne/v2"

	"forkwear/inspect/measure"
	"forkwear/ui/screens/screentest"
	"forkwear/ui/window"
	"forkwear/ui/words"
)

// A unit is in force at once, kept in the library, and goes back with its undo.
func TestUnitsAreKeptAndInForceAtOnce(t *testing.T) {
	t.Cleanup(func() { words.UseUnits(measure.Preference{}) })
	for i, c := range []struct{ key, first, other, of string }{
		{"units.pressure", "bar", "psi", "bar"}, {"units.length", "mm", "in", "mm"},
		{"units.volume", "mL", "fl oz", "mL"}, {"units.temperature", "°C", "°F", "°C"},
	} {
		words.UseUnits(measure.Preference{})
		env := screentest.Env(t)
		s := open(t, env)
		choice := words.UnitChoices()[i]
		s.onUnit(choice, c.other)
		env.Run.Wait()
		if got := kept1(t, env, c.key); got != c.other || words.Unit(c.of) != c.other {
			t.Errorf("%s: kept %q, in force %q", c.key, got, words.Unit(c.of))
		}
		again := open(t, env)
		if again.units.values[c.key] != c.other {
			t.Errorf("%s: shown again as %q", c.key, again.units.values[c.key])
		}
		if !screentest.Told(env).Undo() {
			t.Fatal("no undo")
		}
		env.Run.Wait()
		if words.Unit(c.of) != c.first {
			t.Errorf("%s: after undo %q is in force", c.key, words.Unit(c.of))
		}
	}
}

// The language is kept on this computer, not in the library, and can be taken
// back.
func TestLanguageIsKeptOnThisComputer(t *testing.T) {
	env := screentest.Env(t)
	s := open(t, env)
	p := fyne.CurrentApp().Preferences()
	t.Cleanup(func() { p.RemoveValue(window.KeyLanguage) })
	s.onLanguage("de")
	if p.String(window.KeyLanguage) != "de" || kept1(t, env, window.KeyLanguage) != "" {
		t.Errorf("kept %q here, %q in the library", p.String(window.KeyLanguage), kept1(t, env, window.KeyLanguage))
	}
	s.onLanguage("de")
	if n := len(screentest.Told(env).Saves); n != 1 {
		t.Errorf("told %d times", n)
	}
	if !screentest.Told(env).Undo() || p.String(window.KeyLanguage) != "" {
		t.Errorf("after undo %q", p.String(window.KeyLanguage))
	}
}
