package inspect

import (
	"errors"
	"fmt"
	"strings"
)

// Code tells a program what kind of refusal an Error is.
type Code string

// The codes of refusals.
const (
	Invalid  Code = "invalid"   // the input can't be right
	NotFound Code = "not_found" // no such record
	Locked   Code = "locked"    // the visit is collected: only amendments
	Conflict Code = "conflict"  // somebody else changed it meanwhile
	TooNew   Code = "too_new"   // the library was made by a newer program
	ReadOnly Code = "read_only" // the disk or the library can't be written
	Full     Code = "disk_full" // the disk is full
	Damaged  Code = "damaged"   // bytes are not what was stored
	Internal Code = "internal"  // ours to mend
)

// Error is a refusal: a code for the program and a sentence for the person
// that names the thing and the way out.
type Error struct {
	Code    Code
	Message string // in English
	Cause   error
	Format  string // what Message was made of, to say it in another tongue
	Args    []any
}

func (e *Error) Error() string { return e.Message }

// In says the refusal in another tongue; refusals among its parts too.
func (e *Error) In(t Tongue) string {
	if e.Format == "" {
		return t.Say(e.Message)
	}
	args := make([]any, len(e.Args))
	for i, a := range e.Args {
		if err, ok := a.(error); ok {
			a = SaidIn(t, err)
		}
		args[i] = a
	}
	return t.Sayf(strings.ReplaceAll(e.Format, "%w", "%v"), args...)
}

// SaidIn says any error in another tongue: a refusal by its own words, an error
// that holds one by what stands round it and the refusal's words.
func SaidIn(t Tongue, err error) string {
	var e *Error
	if !errors.As(err, &e) {
		return err.Error()
	}
	if err == error(e) {
		return e.In(t)
	}
	return strings.Replace(err.Error(), e.Message, e.In(t), 1)
}

// Unwrap gives the cause, for errors.Is and errors.As.
func (e *Error) Unwrap() error { return e.Cause }

// Refuse makes an Error from a code and a formatted sentence. A %w in format
// keeps the cause.
func Refuse(code Code, format string, args ...any) error {
	err := fmt.Errorf(format, args...)
	return &Error{Code: code, Message: err.Error(), Cause: errors.Unwrap(err), Format: format, Args: args}
}

// CodeOf returns the code of err, Internal where it has none, "" for nil.
func CodeOf(err error) Code {
	if err == nil {
		return ""
	}
	var e *Error
	if errors.As(err, &e) {
		return e.Code
	}
	return Internal
}
