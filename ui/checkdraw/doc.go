// Package checkdraw shows the drawing of a check: how it looks new and at its
// limit, or how it is measured.
//
// Glossary
//
//   - pair: new and at the limit, side by side.
//   - set-up: how it is done; one drawing without words.
package checkdraw
