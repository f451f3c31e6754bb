// Package table reads tables of measurements as people keep and paste them:
// CSV with a header line, commas, semicolons or tabs between the columns.
//
// It is pure: text in, rows out. Every refusal names the line and the column.
//
// Glossary
//
//   - header: the first line; it names the columns, in any order and any case.
//   - row: one line below it, its cells found by the name of their column.
//   - comma or point: where semicolons or tabs part the columns, a comma may
//     stand before decimals.
package table
