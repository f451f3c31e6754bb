// Package handback is the screen where the fork goes back: settings as left,
// the safety list, the next visit, the report, and the lock.
//
// Glossary
//
//   - as found, as left: a setting before anything was touched, and as the
//     fork goes out.
//   - ready: the fork waits for its rider.
//   - collected: the rider has it; the record is locked.
//   - amendment: a later word on a locked record, which it does not change.
package handback
