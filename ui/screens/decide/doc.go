// Package decide is the screen where every part of a fork gets its verdict
// with its reasons, and where the customer's answers are kept.
//
// Glossary
//
//   - line: one part with its decision, readings, photos and answer.
//   - override: the technician's own verdict; it needs a reason and the first
//     verdict stays on record.
//   - answer: the customer's yes or no to a part that should go out.
//   - not opened: nobody looked at the part; it is no finding.
package decide
