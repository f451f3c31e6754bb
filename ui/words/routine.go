package words

import "forkwear/inspect"

// always is the number of the rule by which a service level renews a part
// whatever its state is (inspect/verdict).
const always = 4

// Routine reports whether a part is replaced only because its service level
// always renews it: then nothing may be said as if it had been found worn.
func Routine(a inspect.Assessment) bool {
	if a.Override != nil || a.InForce() != inspect.Replace {
		return false
	}
	for _, r := range a.Reasons {
		if r.Decide {
			return r.Rule == always
		}
	}
	return false
}
