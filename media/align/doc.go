// Package align lays one photo upon another of the same part, so that both
// can be wiped, blinked and looked at at the same place.
//
// The way that is sure: four or more marks on both photos (Landmarks), then
// Refine, which shifts the map by fractions of a pixel until the brightness of
// both agrees best. Find needs no marks; it is a help for photos taken nearly
// the same way, and it says so when it is not sure. Nothing here tells what
// has changed on the part: two photos under other light differ everywhere.
//
// Points are pixels from the picture's top left corner, x to the right, y
// down; the centre of the first pixel is at 0.5,0.5. So a point in a preview
// is the point in the photo times one factor (see Rescaled).
//
// Glossary
//
//   - then, now: the older photo and the newer one.
//   - transform: the homography that takes a point of now to the same place on
//     the part in then.
//   - landmark: a place that was marked on both photos.
//   - correlation: how far the brightness of both photos goes together where
//     they overlap, 1 alike, 0 unrelated; local brightness and contrast are
//     evened out first, so that a lamp standing elsewhere counts little.
//   - ECC: enhanced correlation coefficient, the climb to the largest
//     correlation.
//   - level: one of several smaller copies of a photo; the small ones find the
//     rough place, the large ones the exact one.
//   - similarity, affine map: a homography that only shifts, turns and
//     scales; one that also shears but keeps parallels.
package align
