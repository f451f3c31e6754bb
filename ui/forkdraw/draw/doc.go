// Package draw draws a suspension fork and the marks of its zones into an
// image. It knows no window toolkit: the window and the printed report use
// the same drawing.
//
// Glossary
//
//   - zone: a part of the fork that is looked at as one, such as the seals
//     of the left leg.
//   - side: left or right as the rider sees it; "" for parts that have none.
//   - mark: the shape that tells the state of a zone: ring (reuse), square
//     (replace), diamond (measure again), octagon (do not ride).
//   - assembled, stripped: the fork as it comes in, and with the insides of
//     each leg laid out beside it.
//   - inside: what is in a leg: air spring, coil spring, damper, both, none.
package draw
