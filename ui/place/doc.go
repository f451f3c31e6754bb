// Package place says what a screen of the window is and what it is given to
// work with. Screens know this package, the window knows the screens.
package place
