package window

import (
	"os"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/lang"

	"forkwear/ui/tongue"
)

// KeyLanguage is the preference of this computer that names the language; ""
// follows the system.
const KeyLanguage = "language"

// UseLanguage puts a language in force for everything that is made after it:
// call it before the frame is made. "" takes the system's where the program
// speaks it, else English. It returns the language in force.
func UseLanguage(code string) (string, error) {
	if code == "" {
		code = systems()
	}
	if err := tongue.Use(code); err != nil {
		return tongue.Code(), err
	}
	// The toolkit asks the environment for its own words (Open, Cancel, the
	// names of days). On systems where it asks elsewhere, the files are given to
	// it under the system's own name below, so that at least ours are right.
	_ = os.Setenv("LANGUAGE", code)
	for name, data := range tongue.Files(code) {
		if !strings.HasPrefix(name, "window.") {
			continue // the others hold words that the toolkit would take for plural forms
		}
		for _, l := range []fyne.Locale{fyne.Locale(code), lang.SystemLocale()} {
			if err := lang.AddTranslationsForLocale(data, l); err != nil {
				return code, err
			}
		}
	}
	if code == tongue.English {
		return code, lang.AddTranslationsForLocale([]byte(`{}`), fyne.Locale(code)) // asks the environment anew
	}
	return code, nil
}

// systems is the system's language where the program speaks it.
func systems() string {
	own := string(lang.SystemLocale())
	for _, l := range tongue.Languages() {
		if own == l.Code || strings.HasPrefix(own, l.Code+"-") {
			return l.Code
		}
	}
	return tongue.English
}
