// Package sums is the bench sums: single calculations without a visit.
//
// Glossary
//
//   - sum: one calculation with its fields, formula and result.
//   - table: rows pasted or opened from a CSV file, for the sums that need many
//     numbers; its columns are named as on the command line.
//   - remark: what the sum can't see, in a sentence.
package sums
