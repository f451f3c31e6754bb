// Package locale gives the window's toolkit a language it can read where the
// system names none: with LANG=C or nothing it would complain on every start.
// It depends on the standard library only, so that it runs before the toolkit
// reads the environment (packages initialise in the order of their import
// paths once their imports have; Go specification, package initialization).
package locale

import "os"

// Fallback is the language of a system that names none.
const Fallback = "en_US.UTF-8"

func init() { settle(os.Getenv, os.Setenv) }

// settle sets LANG and LC_ALL to Fallback where the locale in force is none.
func settle(get func(string) string, set func(k, v string) error) {
	for _, k := range []string{"LC_ALL", "LC_MESSAGES", "LANG"} {
		v := get(k)
		if v == "" {
			continue
		}
		if v != "C" && v != "POSIX" && v != "C.UTF-8" {
			return
		}
		break
	}
	_ = set("LANG", Fallback)
	_ = set("LC_ALL", Fallback)
}
