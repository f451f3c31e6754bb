// Package benchcard knows the bench card: a card of bank-card size that lies
// beside a fork while it is photographed. Its code says of which visit a photo
// is, its known size gives scale and perspective. The package knows the card's
// layout in mm (ui/report prints it), writes and reads the code, and finds the
// card, or any plain card of that size, in an upright photo.
//
// The code is the visit's 16 bytes as 26 letters and digits behind "FW:", as a
// QR code of version 2 and level Q (a quarter of it may be lost). It says
// nothing of fork, customer or shop.
//
// The corners that Find gives belong to the card's full size, 85.60 x 53.98 mm,
// but they are not looked for where scissors went: the four straight inner
// sides of the printed dark frame are, and the corners follow from the layout.
// So neither a crooked cut nor a bench as dark as the frame does harm, and the
// round corners don't either.
//
// # Corners and scale.NewPlane
//
// Corners run clockwise and begin with the top left one as the card is
// printed, however it lies in the photo: upside down, the first corner is the
// lower right one of the picture. scale.NewPlane wants "top left first, then
// clockwise" and takes the long side from the lengths. It gets the long side
// first here, so its Portrait stays false, and its millimetres count from the
// card's own top left. A card without a code has no top of its own: FindPlain
// begins with the corner that is top left in the picture, and Portrait then
// says whether the short side is on top.
//
// # A printer that shrinks
//
// The sheet has a line of 100 mm. Where it measures otherwise, everything
// measured with that card is wrong by the same share: multiply by PrintFactor
// of what the line measures.
//
// Glossary
//
//   - code: the text of the QR code, "FW:" and 26 letters and digits.
//   - module: one square of the QR code.
//   - finder: one of the three large squares in its corners.
//   - frame: the dark outline of the card.
//   - luma: brightness, 0 black to 255 white.
//   - anchors: the places on the card, in mm, whose pictures a fit looks for.
package benchcard
