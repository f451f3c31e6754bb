// Package widgets holds the plain widgets of the window: values in, OnX
// callbacks out. They know nothing of forks, checks or storage.
//
// Glossary
//
//   - pad: a row of large buttons, one of which is the answer.
//   - verdict mark: shape, word and colour of a verdict, always together.
//   - repeat: one of several measured values of the same place.
//   - limit, band, whisker: where a part is worn out; the range the trend may
//     take; the uncertainty of one value.
//   - rail: the column of places at the left edge.
package widgets
