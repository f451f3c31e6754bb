package main

import (
	"errors"
	"fmt"
	"io"
	"strings"
	"time"
)

// leftOut is a step's result when it cannot be done here, with the reason.
type leftOut string

func (l leftOut) Error() string { return string(l) }

// steps runs named parts one after the other and remembers how they ended.
type steps struct {
	out  io.Writer
	now  func() time.Time
	done []string
	bad  []string
}

// run does one step; a failure is told and kept, and does not stop the rest.
func (s *steps) run(name string, do func() error) {
	fmt.Fprintf(s.out, "\n== %s\n", name)
	began := s.now()
	err := do()
	took := s.now().Sub(began).Round(100 * time.Millisecond)
	word := "ok"
	var left leftOut
	switch {
	case errors.As(err, &left):
		word = "left out: " + string(left)
	case err != nil:
		word = "FAILED"
		fmt.Fprintf(s.out, "%v\n", err)
		s.bad = append(s.bad, name)
	}
	line := fmt.Sprintf("%-34s %8s  %s", name, took, word)
	fmt.Fprintf(s.out, "-- %s\n", line)
	s.done = append(s.done, line)
}

// summary prints every step once more and gives an error when one failed.
func (s *steps) summary() error {
	fmt.Fprintf(s.out, "\n%s\n", strings.Join(s.done, "\n"))
	if len(s.bad) > 0 {
		return fmt.Errorf("%d of %d steps failed: %s", len(s.bad), len(s.done), strings.Join(s.bad, ", "))
	}
	fmt.Fprintf(s.out, "all %d steps passed or were left out with a reason\n", len(s.done))
	return nil
}
