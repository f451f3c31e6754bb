// Package counter is the screen that is turned towards the customer: one part
// at a time, then and now, and two large answers. It shows this fork only.
//
// Glossary
//
//   - card: one part that needs the customer's answer.
//   - wipe: two photos of the same place, one laid over the other, with a
//     border that can be moved.
package counter
