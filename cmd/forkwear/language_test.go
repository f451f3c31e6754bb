package main

import (
	"os"
	"path/filepath"
	"testing"

	"github.com/spf13/cobra"

	"forkwear/inspect/measure"
	"forkwear/ui/words"
)

func TestLanguageFlagSetsTheEnvironment(t *testing.T) {
	t.Setenv(languageKey, "")
	for _, c := range []struct {
		args []string
		want string
	}{{nil, ""}, {[]string{"--language", "de"}, "de"}} {
		cmd := withLanguage(&cobra.Command{Use: "x", RunE: func(*cobra.Command, []string) error { return nil }})
		cmd.SetArgs(c.args)
		if err := cmd.Execute(); err != nil {
			t.Fatal(err)
		}
		if got := os.Getenv(languageKey); got != c.want {
			t.Errorf("%v: %q, want %q", c.args, got, c.want)
		}
	}
}

// The units that the library keeps are in force once it is opened for the
// window.
func TestUnitsOfTheLibraryAreInForce(t *testing.T) {
	t.Cleanup(func() { words.UseUnits(measure.Preference{}) })
	ctx := t.Context()
	l, err := openLibrary(ctx, filepath.Join(t.TempDir(), "library"))
	if err != nil {
		t.Fatal(err)
	}
	defer l.Close()
	if err := l.db.PutPreference(ctx, "units.pressure", "psi"); err != nil {
		t.Fatal(err)
	}
	if err := l.useUnits(ctx); err != nil {
		t.Fatal(err)
	}
	if got := words.Unit("bar"); got != "psi" {
		t.Errorf("pressure is shown in %q", got)
	}
	if got := words.Unit("mm"); got != "mm" {
		t.Errorf("length is shown in %q", got)
	}
}
