// Package theme is the look of the window: the tokens as a fyne.Theme, in a
// light and a dark variant, with colour names of our own for the verdicts.
//
// Glossary
//
//   - variant: light or dark; the system's unless one is forced.
//   - verdict colours: reuse, replace, measure again, do not ride. They never
//     stand alone: a shape and a word go with them.
package theme
