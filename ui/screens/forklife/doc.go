// Package forklife is one fork's life: its visits, the wear of each part over riding hours,
// what is fitted and since when, and one check's photos through the years.
//
// Glossary
//
//   - trend: the readings of one check over hours on the part, with the limit.
//   - fitting: one part in one place, from the visit it was fitted on.
package forklife
