// Command dev does the chores around Forkwear: it installs what a machine
// lacks, builds and opens the program, runs every check, walks the window and
// takes its pictures, and measures. It is plain Go on the standard library,
// without cgo, so that it runs where only Go is installed:
//
//	go run ./cmd/dev run   [-y] [-- arguments of forkwear]
//	go run ./cmd/dev test  [-y]
//	go run ./cmd/dev tour  [-y] [--out DIR] [--size 1280x800] [--scale 1] [--dark] [--here] [--program FILE]
//	go run ./cmd/dev bench [-y] [--bench REGEXP]
//
// Exit code: 0 done, 1 something failed, 2 the command line was not understood
// (`go run` itself turns every failure into 1).
//
// # Glossary
//
//   - need: one thing a machine must have (a compiler, a header, a program)
//     with the package that brings it, by package manager.
//   - machine: the look-ups that tell what is there; tests hand in false ones.
//   - step: one named, timed part of a run; a failed step fails the run, the
//     later steps still run.
//   - virtual display: an Xvfb X server without a screen, drawing in software.
//   - tour: the program walks through its own window on an invented shop.
//   - shot: one picture taken on the tour.
//
// # The tour protocol
//
// The canvas of a window that is drawn by OpenGL under Xvfb captures as black,
// so the program cannot photograph itself. It asks instead:
//
//  1. dev starts `forkwear tour --out DIR --size WxH --scale S [--dark]`, with
//     DISPLAY naming a virtual display that is exactly as large as the window,
//     FYNE_SCALE=S, FYNE_THEME=light or dark, and data and configuration
//     folders that are thrown away afterwards.
//  2. When a screen is ready to be seen the program writes `SHOT name` as one
//     line on standard output and waits for one line on standard input. The
//     name is 1 to 64 of a-z, 0-9 and '-', and is used once in a tour.
//  3. dev waits until two pictures of the root window in a row are the same
//     (at most two seconds: a cursor may blink), writes DIR/name.png and
//     answers `ok`; or it answers `no` and a reason, and the tour fails.
//     The program goes on either way.
//  4. Every other line of standard output is passed through. Nothing but the
//     answers is ever written to the program's standard input; its end means
//     that dev has gone and the program should stop.
//  5. The program ends with exit code 0 when every screen was reached. Reports
//     it makes on the way go to DIR too.
//
// dev then looks at the pictures: at least one, none (nearly) of one colour,
// not all the same.
package main
