// Package watch tells of photos that arrive in a folder: what a phone syncs or
// a card reader copies. It only looks; taking a photo in, by copying it, is the
// caller's business, and nothing is ever moved or deleted.
//
// Systems tell of a new file when it begins, and not when it ends; network
// shares and many sync programs tell nothing at all. So a file counts as arrived
// when it has been left alone for a while, has the same size and date twice, and
// its container is complete; and the folder is read anew from time to time.
//
// Glossary
//
//   - settle: to be left alone for Options.Settle.
//   - complete: written to its end, as far as its format shows (format.Complete).
//   - journal: which files were delivered, by their SHA-256; it outlives a
//     restart.
//   - delivered: given to the caller, who took it without an error.
package watch
