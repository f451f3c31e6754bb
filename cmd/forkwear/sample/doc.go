// Package sample makes a library of an invented shop: forks that are ridden and
// wear for three years, come in three to five times, are inspected, decided and
// serviced by the program's own use cases, with drawn pictures in place of
// photographs. The same seed makes the same library.
//
// All names, figures, prices and pictures are invented. What is planted in a
// picture, the length of a scratch or the area of bare metal, is measured on it
// as a person does, and the reading that comes of it stands in the history.
//
// Pictures are drawn as a pinhole camera sees them (camera.go), so that card,
// tube and scratch measure what they are said to: 1200 x 900, with the focal
// length in their EXIF. They are drawn and filed beside the work: a visit is
// looked at (Filler.start), and ended (Filler.end) when its pictures are there,
// while the next ones are looked at already. The desk decides on the history as
// it stood at most a season before (past), which spares most of the fits.
//
// # Glossary
//
//   - shot: one picture to be drawn, and what it shows.
//   - stage: how camera, part and card stand to each other in a shot.
//   - wish: a picture that is being drawn while the work goes on.
//   - place: the number that keeps the scratches of one part in their places.
//   - planted: true in the invented world, and drawn so.
//   - rider: a customer with a fork and a way of riding.
//   - begun: a visit that was looked at and waits for its pictures.
package sample
