// Package alike tells whether two photos look like the same picture: one saved
// again, smaller, or brighter, or last year's photo attached once more. It is
// a reason to ask, never a proof; the same file is told by its SHA-256.
//
// Glossary
//
//   - fingerprint: 64 bits, written as 16 hexadecimal digits, one for each of
//     the coarsest waves of the picture's brightness: above their median or
//     not (perceptual hash).
//   - distance: in how many bits two fingerprints differ, 0-64; unrelated
//     photos differ in about half of them.
package alike
