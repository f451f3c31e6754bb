// Package media is what the program knows about photo files: when and with
// what they were taken, whether they can be used, and how they come into the
// library. It knows nothing of forks, readings or the database.
//
// The parts: format (what kind of file), exif (what the camera wrote), decode
// (the pixels, upright, and previews), quality (sharp and bright enough?),
// clean (a copy without personal data), vault (the kept originals).
//
// Glossary
//
//   - wall time: date and time as the camera's clock showed it, without any
//     zone: 2006-01-02T15:04:05.
//   - offset: how far that clock was from UTC, +02:00; most cameras do not
//     write it.
//   - shop zone: the time zone of the workshop, used for wall times without an
//     offset, and always marked as such.
//   - upright: turned as the camera's orientation mark says.
package media
