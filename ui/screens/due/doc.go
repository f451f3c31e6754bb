// Package due is the list of forks that should come again, by riding hours or date.
//
// Glossary
//
//   - by hours, by date: which of the two comes first.
package due
