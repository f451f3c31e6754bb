// Package pen draws antialiased lines, areas and letters into an image at
// device pixels. It knows no window toolkit, so that the window and the
// printed report draw alike.
//
// Glossary
//
//   - path: lines and curves in the units of the drawing.
//   - pen: a path painter with a scale and a shift from units to pixels.
//   - dash: a line that is on and off by turns, measured in pixels.
package pen
