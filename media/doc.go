// Package media is what the program knows about photo files: when and with
// what they were taken, whether they can be used, and how they come into the
// library. It knows nothing of forks, readings or the database.
//
// The parts: format (what kind of file, and is it all there), exif (what the
// camera wrote), decode (the pixels, upright, and previews; baseline and shrink
// do the fast part of it), heic (HEIC, in a second process), quality (sharp and
// bright enough for what it should show?), clean (a copy without personal data),
// vault (the kept originals and their cache), watch (a folder that photos arrive
// in).
//
// An import reads each file once: hash, camera data, one decoding for quality
// and both previews, the original, then the previews. What was found out is
// kept beside the previews, so an import that was stopped goes on where it was.
//
// Glossary
//
//   - wall time: date and time as the camera's clock showed it, without any
//     zone: 2006-01-02T15:04:05.
//   - offset: how far that clock was from UTC, +02:00; most cameras do not
//     write it.
//   - shop zone: the time zone of the workshop, used for wall times without an
//     offset, and always marked as such.
//   - working copy: the upright JPEG made of a HEIC file.
//   - subject: what a photo should show, by which it is judged.
//   - upright: turned as the camera's orientation mark says.
package media
