// Package marks draws what was marked in a photo over its picture: circles,
// arrows, lines and words, and the marks of a measurement. The window and the
// printed report draw alike by it. It knows no window toolkit, and no original
// is ever changed: the drawing goes onto a copy.
//
// Glossary
//
//   - mark: circle, arrow, line or words that a person drew.
//   - measure: a size measured on the photo, with its scale and its outline.
//   - layer: all that is drawn over one photo.
//   - view: where the full-size photo lies on the surface that is drawn on.
//   - unit: pixels of that surface for one pixel of a screen without scaling;
//     line widths and letters are given in it, so they are crisp at any zoom.
//   - casing: the dark edge round every line, so that it is seen on any metal.
package marks
