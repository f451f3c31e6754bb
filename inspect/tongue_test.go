package inspect

import (
	"errors"
	"fmt"
	"testing"
)

func TestARefusalIsSaidInAnotherTongue(t *testing.T) {
	table := map[string]string{
		"ticket %d is not here":              "Auftrag %d ist nicht da",
		"the photo %s can't be kept: %w":     "das Foto %s kann nicht behalten werden: %w",
		"the photo %s can't be kept: %v":     "das Foto %s kann nicht behalten werden: %v",
		"%d of %s, by number":                "%[2]s: %[1]d",
		"a sentence without a part in it":    "ein Satz ohne Teile",
		"the disk is full: make room on %q.": "",
	}
	tongue := Tongue(func(s string) string {
		if out := table[s]; out != "" {
			return out
		}
		return s
	})
	inner := Refuse(NotFound, "ticket %d is not here", 12)
	outer := Refuse(Invalid, "the photo %s can't be kept: %w", "a.jpg", inner)
	for _, c := range []struct {
		err  error
		want string
	}{
		{inner, "Auftrag 12 ist nicht da"},
		{outer, "das Foto a.jpg kann nicht behalten werden: Auftrag 12 ist nicht da"},
		{fmt.Errorf("open: %w", inner), "open: Auftrag 12 ist nicht da"},
		{Refuse(Invalid, "%d of %s, by number", 3, "Gabeln"), "Gabeln: 3"},
		{Refuse(Full, "the disk is full: make room on %q.", "/x"), `the disk is full: make room on "/x".`},
		{errors.New("not ours"), "not ours"},
	} {
		if got := SaidIn(tongue, c.err); got != c.want {
			t.Errorf("%v is said as %q, want %q", c.err, got, c.want)
		}
		if got := SaidIn(nil, c.err); got != c.err.Error() {
			t.Errorf("without a tongue %q, want %q", got, c.err.Error())
		}
	}
	if !errors.Is(outer, inner) {
		t.Error("the cause is lost")
	}
}
