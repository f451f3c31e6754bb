package draw

import (
	"forkwear/ui/forkdraw/pen"
	"forkwear/ui/theme/tokens"
)

// Zone is a part of the fork with its side.
type Zone struct {
	ID   string // one of the Zone ids below
	Side string // Left, Right or None
}

// Zone ids.
const (
	Stanchions = "stanchions"
	Seals      = "seals"
	Bushings   = "bushings"
	Damper     = "damper"
	Spring     = "spring"
	Lowers     = "lowers"
	Crown      = "crown"
	Controls   = "controls"
	Fasteners  = "fasteners"
)

// Sides as the rider sees them.
const (
	Left  = "left"
	Right = "right"
	None  = ""
)

// Mark is what a zone's shape tells.
type Mark int

// Marks, in the order of their weight.
const (
	NoMark    Mark = iota
	Missing        // Done of Of checks are there
	Reuse          // ring
	Measure        // dashed diamond
	Replace        // solid square
	DoNotRide      // octagon
)

// State is the state of one zone. Count is written in the mark when it is
// above zero; Done and Of are written for Missing.
type State struct {
	Mark     Mark
	Count    int
	Done, Of int
}

// States holds the states by zone. A state under side None goes for both
// sides that have none of their own.
type States map[Zone]State

// of returns the state of a zone.
func (s States) of(z Zone) State {
	if st, ok := s[z]; ok {
		return st
	}
	return s[Zone{ID: z.ID}]
}

// View is the way the fork is shown.
type View int

// Views.
const (
	Assembled View = iota
	Stripped
)

// Inside is what a leg holds.
type Inside int

// Insides.
const (
	Air Inside = iota
	Coil
	DamperOnly
	AirAndDamper
	Empty
)

// Options say what to draw and how. The zero value draws an assembled fork
// in light colours with an air spring in both legs; DefaultOptions is the
// usual start.
type Options struct {
	View        View
	DoubleCrown bool
	LeftInside  Inside
	RightInside Inside
	Palette     tokens.Palette
	Clear       bool // leave the ground transparent

	// PixelRatio is device pixels per unit of the window, 1 when unset.
	PixelRatio float64
	Font       *pen.Font // DefaultFont when nil

	// Words under the legs; English when empty.
	LeftWord, RightWord, SideNote, DoNotRideWord string

	Hover, Focus, Selected *Zone
}

// DefaultOptions returns an assembled single crown fork, air spring left,
// damper right (common practice, no published source).
func DefaultOptions(dark bool) Options {
	return Options{LeftInside: Air, RightInside: DamperOnly, Palette: tokens.For(dark), PixelRatio: 1}
}
