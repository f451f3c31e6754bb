// Package patterns is the owner's view: which parts on which forks fail earlier than
// the same parts on the others.
//
// Glossary
//
//   - expected: how many would have failed in the same hours if all kinds of fork
//     were alike.
//   - ratio: failed or worn against expected; 1 is as expected.
package patterns
