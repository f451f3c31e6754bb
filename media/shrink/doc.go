// Package shrink makes a plane of grey values smaller by box means: each value
// of the small plane is the mean of the large one's values that it covers, so
// fine lines do not flicker into patterns.
//
// Glossary
//
//   - plane: the values of one colour, row after row, a byte each.
//   - stride: the number of bytes from one row to the next.
//   - box: the values that one value of the small plane covers.
package shrink
