package window

import (
	"encoding/json"
	"os"
	"slices"
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
	if code == tongue.English {
		return code, lang.AddTranslationsForLocale([]byte(`{}`), fyne.Locale(code)) // asks the environment anew
	}
	data, err := toolkits(code)
	if err != nil {
		return code, err
	}
	for _, l := range []fyne.Locale{fyne.Locale(code), lang.SystemLocale()} {
		if err := lang.AddTranslationsForLocale(data, l); err != nil {
			return code, err
		}
	}
	return code, nil
}

// pluralForms are keys that the toolkit takes for the forms of one text; a
// table that holds one of them beside others is refused by it.
var pluralForms = []string{"id", "description", "hash", "leftdelim", "rightdelim", "zero", "one", "two", "few", "many", "other", "translation"}

// toolkits is the table of a language as the toolkit takes it.
func toolkits(code string) ([]byte, error) {
	table, err := tongue.Table(code)
	if err != nil {
		return nil, err
	}
	for k := range table {
		if slices.Contains(pluralForms, strings.ToLower(k)) {
			delete(table, k)
		}
	}
	return json.Marshal(table)
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
