// Package scratch finds the pixels of a damage in a photo, lets a person
// correct them with a brush, and gives their outlines and centre line, which
// media/scale turns into millimetres.
//
// A proposal is a proposal: metal shows reflections, dirt and oil, and no
// filter tells them from damage. What is kept was checked by a person.
//
// All places are pixels of the upright photo in full size, x to the right, y
// down; pixel (i, j) covers i..i+1, j..j+1, so that its middle is (i+0.5,
// j+0.5).
//
// Glossary
//
//   - mask: which pixels of a rectangle of the photo belong to the damage; in
//     levels 0 to 255, so that its outline runs between pixels: the damage
//     begins at half, 127.5.
//   - scratch: a line of damage, narrower than the side of the top-hat.
//   - loss: an area where the coating is gone or another colour.
//   - top-hat, white: the picture less its opening, what is brighter than its
//     surroundings and narrower than a square; black: the same for dark.
//   - Otsu: the threshold that parts two groups of grey levels best.
//   - component: pixels that touch each other, corners included.
//   - local peak: how far the damage stands off its surroundings near a place.
//   - ring: a closed outline; of a hole, it runs the other way.
//   - centre line: from one end of the damage to the other, in its middle.
package scratch
