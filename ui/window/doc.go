// Package window is the frame round every place: the rail, the search, who
// works here now, the status line, and the way from one place to the next.
//
// Glossary
//
//   - here: this computer; who works here now is remembered by it.
//   - guarding: a place that is left only when it lets go, as the customer's
//     view with its PIN.
package window
