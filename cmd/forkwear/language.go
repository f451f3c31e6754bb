package main

import (
	"context"
	"errors"
	"os"

	"fyne.io/fyne/v2"
	"github.com/spf13/cobra"

	"forkwear/ui/tongue"
	"forkwear/ui/window"
	"forkwear/ui/words"
)

// languageKey is the environment variable that chooses the language of the
// window before the preference of the computer does.
const languageKey = "FORKWEAR_LANGUAGE"

// withLanguage gives a command the flag that sets languageKey.
func withLanguage(c *cobra.Command) *cobra.Command {
	var code string
	c.Flags().StringVar(&code, "language", "", "language of the window: en or de; empty takes the setting")
	c.PreRunE = func(*cobra.Command, []string) error {
		if code == "" {
			return nil
		}
		return os.Setenv(languageKey, code)
	}
	return c
}

// speak puts the language and the shop's units in force; call it before the
// frame is made. What can't be read leaves English, or the units of the record.
func (l *library) speak(ctx context.Context, p fyne.Preferences) error {
	code := os.Getenv(languageKey)
	if code == "" {
		code = p.String(window.KeyLanguage)
	}
	code, err := window.UseLanguage(code)
	if code != tongue.English {
		l.desk.Catalog = l.desk.Catalog.Translated(tongue.Say)
	}
	return errors.Join(err, l.useUnits(ctx))
}

// useUnits puts the shop's units in force.
func (l *library) useUnits(ctx context.Context) error {
	values := map[string]string{}
	for _, c := range words.UnitChoices() {
		v, err := l.db.Preference(ctx, c.Key)
		if err != nil {
			return err
		}
		values[c.Key] = v
	}
	words.UseUnits(words.UnitsFrom(values))
	return nil
}
