package stats

import (
	"errors"
	"fmt"
	"math"
)

// The reasons for which a figure is refused. Errors of this package wrap one
// of them, so that a caller can tell poor input from thin data.
var (
	// ErrInput marks a number that cannot be what it claims to be.
	ErrInput = errors.New("the numbers cannot be used")
	// ErrTooFew marks sound data that are too few for the figure asked for.
	ErrTooFew = errors.New("too few data")
	// ErrNoMaximum marks a likelihood that has no highest point.
	ErrNoMaximum = errors.New("no best fit exists")
)

func inputError(format string, args ...any) error {
	return fmt.Errorf("%w: %s", ErrInput, fmt.Sprintf(format, args...))
}

func finite(v float64) bool { return !math.IsNaN(v) && !math.IsInf(v, 0) }

// checkLevel accepts a two-sided confidence level strictly between 0 and 1.
func checkLevel(level float64) error {
	if !(level > 0 && level < 1) {
		return inputError("level %g must lie between 0 and 1, for example 0.95", level)
	}
	return nil
}

func tooFew(format string, args ...any) error {
	return fmt.Errorf("%w: %s", ErrTooFew, fmt.Sprintf(format, args...))
}
