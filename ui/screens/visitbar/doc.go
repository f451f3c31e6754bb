// Package visitbar is what the screens of one visit share: the bar at the top
// with the steps of the visit, and the page under it with its states.
//
// Glossary
//
//   - bar: the five steps, the ticket number, the fork and the customer.
//   - page: a bar, a body and a foot; or what stands there while it loads or
//     when it could not be loaded.
//   - field: an entry that keeps what was typed when it is left.
package visitbar
