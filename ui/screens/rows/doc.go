// Package rows is how the lists of the screens stand: lines of columns that can
// be walked with the arrow keys and opened with Enter, and a page of two
// columns that become one where the window is narrow.
//
// Glossary
//
//   - column: a heading with its share of the width; one that does not fit is
//     written under the first instead of being cut off.
//   - cell: what stands in a column, with a quiet second line where wanted.
//   - line: one row of cells; a press is a line that can be pressed by itself.
package rows
