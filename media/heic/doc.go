// Package heic turns HEIC photos, which phones save, into JPEG working copies.
//
// The reader of HEIC is large, slow and hungry (up to about a gigabyte for a
// photo of 24 megapixels), and what it reads comes from anywhere. So it never
// works inside the window's process: Child starts the program a second time for
// one picture, with limits of time and memory, and ends it when the caller
// gives up. Serve is what that second process does. Direct decodes in the same
// process; it is for tests and for the second process itself.
//
// The reader is WebAssembly inside the program. Built without the tag
// nodynamic it takes a native libheif.so in its place where the system has one
// under just that name, which mostly only developers' machines do; Native
// tells. Release builds set the tag.
//
// Glossary
//
//   - working copy: an upright JPEG of the whole picture, beside the untouched
//     original; previews, sharpness and measures come from it.
//   - child: the second process.
package heic
