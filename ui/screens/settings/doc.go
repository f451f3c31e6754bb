// Package settings is the shop's own choices: name, people, money, clock, rules.
// Each is kept when it is changed.
//
// Glossary
//
//   - people: who works in the shop; one of them works here now.
//   - preference: one choice with its key in the library.
package settings
