// Package run keeps slow work off the window's goroutine. It is the only place
// that calls fyne.Do.
package run
