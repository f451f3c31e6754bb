// Package store keeps the shop's history in one SQLite file: it fills the port
// inspect.Library. The file is <folder>/history.sqlite, readable by its owner
// only, in write-ahead mode so that a second program can read or write it.
//
// An exported method is one transaction; the unexported helpers take a
// transaction and compose. What a record looks like in its table is said once,
// in its xxxColumns function, which both writing and reading use.
//
// Glossary
//
//	record      one row of a table that has an id of its own
//	locked      the visit is collected: its records take amendments only
//	insert-only rows that a trigger keeps from being changed: readings, claims,
//	            assessments, overrides, consents, amendments, focuses, the change
//	            log; of marks, sizes and camera clocks nothing but where they lie
//	            and whether they are gone
//	unsorted    a photo of which nobody knows the visit yet
//	gone        a mark or a size that was taken off its photo; it stays in the library
//	moment      a time in two columns: UTC text that sorts by the instant, and
//	            the offset in seconds it was made in
//	words       the normalised search text of a customer or a fork
//	change log  which machine changed which row, in order
package store
