package main

import (
	"bytes"
	"strings"
	"testing"
)

// A progress that is not shown on a terminal is a line for each fifth of the
// work, not one for each step.
func TestProgressLine_Plain(t *testing.T) {
	var out bytes.Buffer
	tell, end := progressLine(&out, "visits")
	for i := range 100 {
		tell(i+1, 100)
	}
	end()
	if got := strings.Count(out.String(), "\n"); got != 5 || strings.Contains(out.String(), "\r") {
		t.Errorf("%d lines, want 5:\n%q", got, out.String())
	}
	if !strings.HasSuffix(out.String(), "100 of 100 visits\n") {
		t.Errorf("the last line is %q", out.String())
	}
	out.Reset()
	tell, end = progressLine(&out, "visits")
	tell(0, 0)
	end()
	if out.Len() != 0 {
		t.Errorf("nothing to do tells %q", out.String())
	}
}
