// Package figure draws what a check looks at: new and at its limit, or how it
// is measured. The drawings are our own, in the lines of the fork drawing. It
// knows no window toolkit, so that window and report can draw alike.
//
// Glossary
//
//   - figure: one drawing with a name, which checks of the catalog carry.
//   - pair: a figure that shows a state; it is drawn new and at the limit.
//   - set-up: a figure that shows how something is done or measured; it is
//     drawn once.
//   - wear: 0 is new, 1 is at the limit, more is past it.
package figure
