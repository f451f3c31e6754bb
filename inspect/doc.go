// Package inspect holds the words of the workshop as types: who brought which
// fork, what was seen on it, what was decided and why. It does no I/O, reads no
// clock and makes no identifiers: the use cases in inspect/shop are handed
// those, and the packages store and media fill the ports declared here.
//
// Glossary
//
//	fork        one suspension fork with its own history
//	visit       one stay of a fork, from drop-off to collected
//	stage       when in a visit a thing was looked at: received, stripped, after work
//	leg         left or right as the rider sees it
//	part        a kind of thing at a position (catalog); a fitting is one physical part there
//	check       one thing to look at or measure (catalog); a reading is what it found
//	claim       one statement of riding hours with its uncertainty and its source
//	assessment  one decision about one part, kept for ever as it was made
package inspect
