package locale

import "testing"

func TestSettle(t *testing.T) {
	for _, c := range []struct {
		name string
		env  map[string]string
		want string
	}{
		{"nothing", nil, Fallback},
		{"C", map[string]string{"LANG": "C"}, Fallback},
		{"German", map[string]string{"LANG": "de_DE.UTF-8"}, "de_DE.UTF-8"},
		{"LC_ALL before LANG", map[string]string{"LC_ALL": "POSIX", "LANG": "de_DE.UTF-8"}, Fallback},
		{"LC_ALL kept", map[string]string{"LC_ALL": "sv_SE.UTF-8", "LANG": "C"}, "C"},
	} {
		env := map[string]string{}
		for k, v := range c.env {
			env[k] = v
		}
		settle(func(k string) string { return env[k] }, func(k, v string) error { env[k] = v; return nil })
		if env["LANG"] != c.want {
			t.Errorf("%s: LANG is %q, want %q", c.name, env["LANG"], c.want)
		}
	}
}
