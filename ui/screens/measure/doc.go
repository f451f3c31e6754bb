// Package measure is the place of one photo: marks drawn on it, and sizes
// measured on it in mm. The photo itself never changes; what was marked is kept
// beside it, so that anyone can see how a value came about.
//
// Glossary
//
//   - scale: what in the photo has a known size: a card of bank-card size, a tube
//     of known diameter, two points a known distance apart.
//   - kind: what is measured: a length, a width, an area, or the damage that the
//     program proposes and a person corrects with the brush.
//   - handle: a point that can be dragged, or moved by the arrow keys.
//   - target: a check that takes the value as its reading.
//   - task: everything a worker needs to measure once.
package measure
