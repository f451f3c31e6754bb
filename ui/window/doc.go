// Package window is the frame round every place: the rail, the search, the
// status line, and the way from one place to the next.
package window
