// Package counter is the screen that is turned towards the customer: one part
// at a time, then and now, two large answers, and at the end a page of all
// answers to sign. It shows this fork only, and is left with the shop's PIN
// where one is set.
//
// Glossary
//
//   - card: one job that needs the customer's answer, with the part and the
//     photos that speak for it.
//   - wipe: two photos of the same place, one laid over the other, with a
//     border that can be moved; or both beside each other.
//   - end page: all answers with what they come to, and the signature.
//   - pad: the number pad that takes the PIN.
package counter
