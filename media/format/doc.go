// Package format tells by its first bytes what kind of picture a file holds.
//
// The name of a file is never asked: phones, chat programs and people rename
// photos, and a wrong ending must neither hide a photo nor let something else
// in.
//
// Glossary
//
//   - format: how the picture is written in the file (JPEG, PNG, ...).
//   - brand: the four letters by which a file of the ISO box family (HEIC,
//     AVIF) says what it is.
package format
