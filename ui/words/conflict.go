package words

import (
	"forkwear/inspect"
	"forkwear/inspect/catalog"
	"forkwear/ui/tongue"
)

// Standing writes one of several values of a check, with who read it and when:
// "grade 3, by Ada, 12 May 2026, 14:02".
func Standing(k catalog.Check, r inspect.Reading) string {
	if r.By == "" {
		return tongue.Sayf("%s, %s", Reading(k, r), DateTime(r.At))
	}
	return tongue.Sayf("%s, by %s, %s", Reading(k, r), r.By, DateTime(r.At))
}
