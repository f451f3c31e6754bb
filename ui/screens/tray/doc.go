// Package tray is the place of the photos of which nobody knows the fork yet:
// looked at by day, chosen, and filed with an open visit.
//
// Glossary
//
//   - shot: a photo of the tray, or a file that is being taken in.
//   - sheet: the shots in rows by day, as they are laid out; only what is in
//     sight of it has widgets and pixels.
//   - chosen: what the next key or press is about; the cursor is one of them
//     and is shown large.
//   - set aside: of no fork; kept, and not shown.
//   - thumb: the pixels of a cell. They are kept for the newest cells only, in
//     40 MB at most.
package tray
