// Package bench is the screen of the forks that are in the shop now: what each
// waits for, when it was promised, and what comes next.
//
// Glossary
//
//   - open visit: a fork that was dropped off and is not yet collected.
//   - waits for: why nobody can go on with it: customer, part, tool, sent away.
//   - promised: the day the customer was told; overdue when that day is past.
//   - next action: the step of the visit that is to be done next.
package bench
