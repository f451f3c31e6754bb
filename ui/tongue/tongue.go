package tongue

import (
	"embed"
	"encoding/json"
	"fmt"
	"io/fs"
	"slices"
	"strings"
	"sync/atomic"
)

//go:embed texts/*.json
var files embed.FS

// English is the language of the code; it needs no table.
const English = "en"

// Language is one that the program speaks.
type Language struct {
	Code string // ISO 639-1
	Name string // in that language
}

// Languages are all that the program speaks, English first.
func Languages() []Language { return []Language{{English, "English"}, {"de", "Deutsch"}} }

// spoken is the language in force.
type spoken struct {
	code  string
	table map[string]string
}

var current atomic.Pointer[spoken]

// Use puts a language in force, for the whole program. The empty code is
// English; an unknown one is refused and changes nothing.
func Use(code string) error {
	if code == "" {
		code = English
	}
	if !slices.ContainsFunc(Languages(), func(l Language) bool { return l.Code == code }) {
		return fmt.Errorf("the program does not speak %q: choose one of its languages in the settings", code)
	}
	table, err := Table(code)
	if err != nil {
		return err
	}
	current.Store(&spoken{code, table})
	return nil
}

// Code is the language in force.
func Code() string {
	if s := current.Load(); s != nil {
		return s.code
	}
	return English
}

// Say gives a text in the language in force; what has no translation stays
// English.
func Say(english string) string {
	if s := current.Load(); s != nil {
		if t, ok := s.table[english]; ok {
			return t
		}
	}
	return english
}

// SayAs gives a short word that means something else elsewhere: its
// translation stands under "sense|word".
func SayAs(sense, word string) string {
	key := sense + "|" + word
	if t := Say(key); t != key {
		return t
	}
	return word
}

// Sayf translates a format and fills it in.
func Sayf(format string, args ...any) string { return fmt.Sprintf(Say(format), args...) }

// Table is all texts of a language; empty for English.
func Table(code string) (map[string]string, error) {
	table := map[string]string{}
	for name, data := range Files(code) {
		part := map[string]string{}
		if err := json.Unmarshal(data, &part); err != nil {
			return nil, fmt.Errorf("the texts %s can't be read: %w", name, err)
		}
		for k, v := range part {
			table[k] = v
		}
	}
	return table, nil
}

// Files are the files of a language, name to bytes.
func Files(code string) map[string][]byte {
	out := map[string][]byte{}
	names, _ := fs.Glob(files, "texts/*."+code+".json")
	for _, n := range names {
		if data, err := files.ReadFile(n); err == nil { // it was listed just now
			out[strings.TrimPrefix(n, "texts/")] = data
		}
	}
	return out
}
