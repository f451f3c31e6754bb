package words

import (
	"testing"

	"forkwear/inspect"
)

func TestForkWords(t *testing.T) {
	for _, c := range []struct{ got, want string }{
		{Count(1, "fork"), "1 fork"}, {Count(0, "fork"), "0 forks"}, {Count(3, "visit"), "3 visits"},
		{Sentence("some forks"), "Some forks."}, {Sentence("ölig."), "Ölig."}, {Sentence(""), ""},
		{OnPart(90, true), "90" + Thin + "h"}, {OnPart(90, false), "at least 90" + Thin + "h"},
		{Ended(inspect.StillIn), "still in"}, {Ended(inspect.EndWorn), "worn out"}, {Ended("other"), "other"},
		{Setting(inspect.Setting{Key: "rebound_clicks", Value: 8, Unit: "clicks"}), "rebound 8" + Thin + "clicks"},
		{Setting(inspect.Setting{Key: "air_pressure", Value: 5, Unit: "bar", Text: "72.5 psi"}), "air pressure 72.5 psi"},
	} {
		if c.got != c.want {
			t.Errorf("got %q, want %q", c.got, c.want)
		}
	}
}
