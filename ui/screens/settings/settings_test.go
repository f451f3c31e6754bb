package settings

import (
	"context"
	"errors"
	"testing"

	"fyne.io/fyne/v2"

	"forkwear/inspect/shop"
	"forkwear/ui/place"
	"forkwear/ui/screens/screentest"
)

func open(t *testing.T, env *place.Env) *Screen {
	t.Helper()
	s := New(env, place.Where{Name: place.Settings}).(*Screen)
	env.Window.SetContent(s.Content())
	env.Window.Resize(fyne.NewSize(1190, 700))
	s.Opened()
	env.Run.Wait()
	return s
}

// leave types into a field and leaves it.
func leave(env *place.Env, s *Screen, key, text string) {
	e := s.entries[key]
	env.Window.Canvas().Focus(e)
	e.SetText(text)
	env.Window.Canvas().Unfocus()
	env.Run.Wait()
}

func kept1(t *testing.T, env *place.Env, key string) string {
	t.Helper()
	v, err := env.Desk.Lib.Preference(context.Background(), key)
	if err != nil {
		t.Fatal(err)
	}
	return v
}

func TestEachFieldIsKeptWhenItIsLeft(t *testing.T) {
	for _, c := range []struct{ key, typed, want string }{
		{shop.KeyName, "  Invented Workshop ", "Invented Workshop"},
		{shop.KeyCurrency, "chf", "CHF"},
		{shop.KeyZone, "Europe/Vienna", "Europe/Vienna"},
		{"rules.threshold", "30 %", "0.3"},
		{"rules.sure", "99", "0.99"},
		{"rules.minute_rate", "1,10", "110"},
		{"rules.repeats_asked", "5", "5"},
	} {
		t.Run(c.key, func(t *testing.T) {
			env := screentest.Env(t)
			s := open(t, env)
			leave(env, s, c.key, c.typed)
			if got := kept1(t, env, c.key); got != c.want {
				t.Errorf("%q was kept as %q, want %q", c.typed, got, c.want)
			}
			if n := len(screentest.Told(env).Saves); n != 1 {
				t.Errorf("told %d saves, want 1", n)
			}
			if !screentest.Told(env).Undo() {
				t.Fatal("no undo")
			}
			env.Run.Wait()
			if got := kept1(t, env, c.key); got != "" {
				t.Errorf("after undo %q is kept, want nothing", got)
			}
		})
	}
}

func TestWrongOnesAreRefusedInPlace(t *testing.T) {
	for key, text := range map[string]string{shop.KeyCurrency: "euros", shop.KeyZone: "Nowhere/Town",
		"rules.threshold": "130", "rules.sure": "many", "rules.repeats_asked": "2.5", "rules.reopen_cost": "-3"} {
		env := screentest.Env(t)
		s := open(t, env)
		leave(env, s, key, text)
		e := s.entries[key]
		if kept1(t, env, key) != "" || !e.refused.Visible() || e.Text != text {
			t.Errorf("%s: %q was kept as %q, refusal seen %v, field %q", key, text, kept1(t, env, key), e.refused.Visible(), e.Text)
		}
	}
}

func TestRulesComeIntoForce(t *testing.T) {
	env := screentest.Env(t)
	s := open(t, env)
	if env.Rules != shop.DefaultRules() {
		t.Errorf("with nothing chosen the rules are %+v", env.Rules)
	}
	leave(env, s, "rules.safety_limit", "1")
	if env.Rules.SafetyLimit != 0.01 { // 1 % by hand
		t.Errorf("the safety limit is %g, want 0.01", env.Rules.SafetyLimit)
	}
	if again := open(t, env); again.entries["rules.safety_limit"].Text != "1" {
		t.Errorf("shown again as %q", again.entries["rules.safety_limit"].Text)
	}
}

func TestRefusedSaveKeepsTheText(t *testing.T) {
	env := screentest.Env(t)
	s := open(t, env)
	s.onKeep(s.entries[shop.KeyName], "x")
	env.Run.Wait()
	screentest.Lib(env).Refuse = errors.New("the disk is full")
	leave(env, s, shop.KeyName, "Other")
	if kept1(t, env, shop.KeyName) == "Other" {
		t.Skip("this library keeps preferences whatever is refused")
	}
	if e := s.entries[shop.KeyName]; !e.refused.Visible() || e.Text != "Other" || e.kept != "x" {
		t.Errorf("after a refused save: text %q, kept %q", e.Text, e.kept)
	}
}

func TestSampleShopFillsAnEmptyLibraryOnly(t *testing.T) {
	env := screentest.Env(t)
	filled := 0
	env.Demo = func(_ context.Context, progress func(done, total int)) error {
		filled++
		progress(1, 1)
		screentest.First(t, env, "full")
		return nil
	}
	s := open(t, env)
	if !s.sample.Visible() {
		t.Fatal("an empty library does not offer the sample shop")
	}
	s.onFill()
	env.Run.Wait()
	env.Run.Wait()
	if filled != 1 || s.sample.Visible() || len(screentest.Told(env).Saves) != 1 {
		t.Errorf("filled %d times, still offered %v", filled, s.sample.Visible())
	}
	env = screentest.Env(t)
	if open(t, env).sample.Visible() {
		t.Error("offered although nothing can fill the library")
	}
}
