// Package inspection is the Inspect step of a visit: the fork drawing, one
// check after the other, and the photos.
//
// Glossary
//
//   - route: the checks of a stage in the order of work, one zone and leg after
//     the other.
//   - card: the one check that is at work.
//   - pad: the large keys of the card's answers.
//   - way: the queue of what is still to be saved, first in, first out. The
//     screen shows an answer at once; the way keeps it in its turn.
//   - tray: photos of this visit that belong to no check yet.
package inspection
