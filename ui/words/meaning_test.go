package words

import (
	"testing"

	"forkwear/inspect"
)

// A part at 9 % of its wear that will not last is not told to be dry and
// clogged today.
func TestMeaning(t *testing.T) {
	used := func(w float64) *float64 { return &w }
	const fails = "The foam ring is dry."
	for name, c := range map[string]struct {
		a    inspect.Assessment
		want string
	}{
		"found not fine":      {inspect.Assessment{}, fails},
		"past its limit":      {inspect.Assessment{WearUsed: used(1.2), PNow: 0.9}, fails},
		"likelier over":       {inspect.Assessment{WearUsed: used(0.98), PNow: 0.6}, fails},
		"will only not last":  {inspect.Assessment{WearUsed: used(0.09), PThen: 0.99}, "Once it is worn out: " + fails},
		"nothing to be meant": {inspect.Assessment{WearUsed: used(0.09)}, fails},
	} {
		f := fails
		if name == "nothing to be meant" {
			f, c.want = "", ""
		}
		if got := Meaning(c.a, f); got != c.want {
			t.Errorf("%s: %q, want %q", name, got, c.want)
		}
	}
}
