// Package exif reads what the camera wrote beside the picture: when, with
// what, which way up.
//
// Files come from anywhere, so nothing in them is believed. Three steps, each
// bounded: (1) an own walk through the file's container finds the EXIF block;
// (2) an own reader copies the few wanted tags, with their sizes checked, into
// a small clean TIFF; (3) only that is given to the goexif library. goexif on a
// raw file can loop for ever or ask for gigabytes (a directory that points back
// to itself, a count whose product overflows), which recover cannot stop.
// Therefore no other package may import it; a test holds that.
//
// Glossary
//
//   - block: the EXIF data, a small TIFF file inside the photo.
//   - directory (IFD): a list of tags in the block.
//   - tag: a number, a type, a count and values.
//   - wall time: date and time as the camera's clock showed it, no zone.
//   - item, box, chunk, segment: the pieces that HEIC/AVIF, ISO files, PNG or
//     WebP, and JPEG are made of.
package exif
