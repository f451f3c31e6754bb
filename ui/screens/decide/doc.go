// Package decide is the screen where every part of a fork gets its verdict
// with its reasons, and where the customer's answers are kept.
//
// Glossary
//
//   - line, row: a job or kit, what is sold and done in one go, with its parts.
//   - override: the technician's own verdict on a part; it needs a reason and
//     the first verdict stays on record.
//   - answer: the customer's yes or no to a line that should go out.
//   - with the kit: a part that nothing speaks against, but that goes out with
//     the kit that it is sold in.
//   - not opened: nobody looked at the part; it is no finding.
package decide
