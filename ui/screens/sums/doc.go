// Package sums is the bench sums: single calculations without a visit.
//
// Glossary
//
//   - sum: one calculation with its fields, formula and result.
//   - remark: what the sum can't see, in a sentence.
package sums
