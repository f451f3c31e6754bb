// Package vault keeps the original photo files: their bytes untouched, each
// under the SHA-256 of its bytes, never changed once written.
//
// A file with the sum abcdef... of a JPEG lies at originals/ab/cdef....jpg.
// It is written under another name first, flushed to the disk, and renamed:
// after a power cut there is the whole file or none. Whoever reads it back
// learns when the bytes no longer give the sum (ErrCorrupt).
//
// Beside the originals lies a cache of previews, of working copies of slow
// formats and of what reading a photo found out. It can be thrown away at any
// time; it is filled again from the originals.
//
// Glossary
//
//   - original: the file as the camera or phone wrote it.
//   - sum: the SHA-256 of the original's bytes, 64 hexadecimal digits; the
//     photo's name everywhere in the program.
//   - preview: a smaller upright JPEG made from an original.
package vault
