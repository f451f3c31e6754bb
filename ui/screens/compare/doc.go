// Package compare shows two photos of one check: then and now. They lie side by
// side, or one upon the other with a border to drag, or by turns; as they were
// taken, or with now laid upon then. Under them runs the strip of all photos of
// this check through all visits.
//
// Glossary
//
//   - then, now: the earlier photo and the later one.
//   - strip: the photos of a check through all visits, oldest first.
//   - aligned: now is drawn as it would look from where then was taken.
//   - pair of points: one place on the part, marked on both photos.
//   - slider, blink: both photos in one place, parted by a border or shown by
//     turns, about once a second each way.
package compare
