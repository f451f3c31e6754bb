// Package report writes what the customer takes home from a visit: what was
// found, with the photos of then and now, how far each part is worn, what was
// done, what it costs and when the fork should come again. The same telling is
// written as one self-contained HTML file and as a PDF.
//
// It knows no window toolkit, no store and no photo folder: photos are asked
// for through Source.Photo.
//
// Glossary
//
//   - source: the story of one visit with all that the report needs beside it.
//   - telling: the report in plain words, before it is laid out.
//   - card: one part that is replaced, measured again, or was changed by hand,
//     with its evidence.
//   - wear line: wear used over riding hours, reaching for the limit.
//   - mark: the shape of a verdict: ring (reuse), square (replace), diamond
//     (measure again).
//   - canvas: what marks and wear lines are drawn on, SVG or PDF, in mm.
package report
