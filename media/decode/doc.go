// Package decode turns photo files into pixels, upright, and into previews.
//
// It goes by the content of the file, looks at the size before it takes memory
// for the pixels, and refuses what is too large. Large pictures are decoded
// one after the other, small ones beside each other.
//
// Glossary
//
//   - stored size: width and height as the file holds them.
//   - orientation: EXIF's number 1-8 that says how to turn and mirror the
//     stored picture so that it stands upright.
//   - upright: after that.
//   - preview: a smaller upright picture; each of its pixels is the mean of
//     the box of stored pixels that it covers, so fine lines do not flicker
//     into patterns.
//   - planes: the brightness (Y) and the two colour differences (Cb, Cr) that
//     a JPEG holds.
package decode
