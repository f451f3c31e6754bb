// Package dropoff is the screen where a fork is taken in: one page, two
// columns, two minutes, no technician needed.
//
// Glossary
//
//   - intake: everything that drop-off was told, as shop.Intake.
//   - found: a setting as the fork came in, before anything was touched.
//   - draft: what was typed and not yet taken in; it outlives a crash.
//   - place: one of the four photos that are taken before anything is touched.
//   - also here: something of the bike that stays out of the record.
package dropoff
