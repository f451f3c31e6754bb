// Package clean makes a copy of a photo without what it tells about people:
// place, camera, serial number, names, dates, hidden previews. Such a copy can
// be sent to a customer or a maker.
//
// The pixels stay exactly as they are where the format allows it (JPEG, PNG,
// WebP): pieces of the file are left out, nothing is compressed anew. Kept are
// the colour profile, and which way up the picture is.
//
// Glossary
//
//   - segment, chunk: the pieces that JPEG, PNG and WebP files are made of.
//   - trailer: bytes behind the end of the picture; phones put second pictures
//     and short films there.
//   - lossless: the copy shows the same pixels as the original, bit for bit.
package clean
