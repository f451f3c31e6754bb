// Package scale turns points marked in a photo into millimetres on a part. It
// is geometry on points alone: it never sees a pixel's colour.
//
// The ways to a scale, best first: a tube of known diameter whose two edges
// are marked, with the camera's focal length (right all around the tube); a
// card of known size lying on the surface (right in the card's plane); two
// points a known distance apart (right only straight under the camera).
// Every value comes with the range that holds the truth 95 times in 100,
// found by marking all points again at random (see Uncertainty).
//
// Depth cannot be seen in a photo, and widths under about three pixels are
// not measured, only bounded.
//
// Glossary
//
//   - card: an ID-1 card (bank card size), the thing of known size.
//   - homography: the map between a flat surface and its picture.
//   - pose: where the card lies before the camera, and how it is turned.
//   - edges of a tube: the two outlines where the tube ends in the picture.
//   - unrolled surface: the tube's skin cut open and laid flat; lengths and
//     areas around a tube are measured on it.
//   - mask: a damage given by its closed outlines and its centre line, as
//     media/scratch finds them; measured by MeasureMask.
//   - height: how far the measured surface lies nearer to the camera than the
//     card.
package scale
