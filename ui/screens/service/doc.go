// Package service is the work sheet of a visit: the work of its level line by
// line, and the parts that go in new.
//
// Glossary
//
//   - line: one task of the level, done or not, with its value where it has one.
//   - target: the value that the maker's sheet gives; blank where it gives none.
//   - batch: what was printed on the bag that the new part came in.
package service
