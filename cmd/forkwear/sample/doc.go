// Package sample makes a library of an invented shop: forks that are ridden and
// wear for three years, come in three to five times, are inspected, decided and
// serviced by the program's own use cases, with drawn pictures in place of
// photographs. The same seed makes the same library.
//
// All names, figures and pictures are invented.
package sample
