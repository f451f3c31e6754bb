// Package forks is the list of all forks: found while it is typed, newest visit first.
//
// Glossary
//
//   - row: one fork with its tag, its customer and how often it was here.
package forks
