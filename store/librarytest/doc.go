// Package librarytest is the conformance suite of the port inspect.Library:
// what every implementation must do, in tests that each of them runs.
package librarytest
