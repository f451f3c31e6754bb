package catalog

import (
	"errors"
	"strings"
	"testing"
)

// A kit needs other kits that are there, never itself.
func TestKitNeedsAreChecked(t *testing.T) {
	for name, tc := range map[string]struct {
		needs []string
		told  bool
	}{"the seals": {[]string{"seal_kit"}, false}, "unknown": {[]string{"no such kit"}, true}, "itself": {[]string{"bushing_set"}, true}} {
		c, err := Embedded()
		if err != nil {
			t.Fatal(err)
		}
		for i := range c.Kits {
			if c.Kits[i].ID == "bushing_set" {
				c.Kits[i].Needs = tc.needs
			}
		}
		all := errors.Join(c.Validate()...)
		if told := all != nil && strings.Contains(all.Error(), "bushing_set"); told != tc.told {
			t.Errorf("%s: %v", name, all)
		}
	}
}
