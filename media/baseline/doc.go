// Package baseline decodes the kind of JPEG that cameras and phones write, about
// twice as fast as the standard library: one scan, Huffman codes, 8 bits, grey
// or Y, Cb, Cr. Anything else, and anything that looks wrong, is left to the
// standard library (ErrOther), which then has the last word.
//
// What makes it fast: bits are taken from a word of 64, a code and the value
// behind it come from one table where both are short, and columns of a block
// without detail cost nothing.
//
// Glossary (ITU-T T.81)
//
//   - block: 8 x 8 values, kept as the strengths of 64 waves (coefficients).
//   - unit (MCU): the blocks of all planes for one square of the picture.
//   - scan: the coded units, one after the other.
//   - stuffing: the zero behind a byte FF in the scan, so that it is no marker.
//   - restart: a marker between units where decoding can begin afresh.
package baseline
