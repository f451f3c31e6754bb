// Package quality tells whether a photo is good enough to judge a part by:
// sharp, neither too dark nor burnt out, large enough.
//
// It is a help, not a judge: a photo that it finds poor can still be kept and
// used by a person who says so.
//
// Glossary
//
//   - brightness: the grey value 0-255 of a pixel; of a JPEG its own Y plane,
//     else 0.299 R + 0.587 G + 0.114 B (ITU-R BT.601).
//   - Laplacian: how much a pixel differs from its four neighbours; large at
//     edges, small where all is blurred.
//   - sharpness: the variance of the Laplacian over the picture.
//   - spread: how far the edges of the sharpest places are spread out, in pixels;
//     unlike the sharpness it does not depend on what the photo shows.
//   - kind: what the photo should show; a serial number must be sharper than a
//     view of the whole fork, and only a smooth tube may have no edges at all.
//   - peers: earlier photos of the same kind in the same library.
//   - burnt out: pixels so bright that nothing can be seen in them.
package quality
