package inspect

import "fmt"

// Tongue says an English text in the language of the person who reads it. The
// nil Tongue leaves English.
type Tongue func(english string) string

// Say gives the text in the tongue.
func (t Tongue) Say(english string) string {
	if t == nil {
		return english
	}
	return t(english)
}

// Sayf gives the format in the tongue and fills it in.
func (t Tongue) Sayf(format string, args ...any) string {
	return fmt.Sprintf(t.Say(format), args...)
}
