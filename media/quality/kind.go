package quality

import "image"

// Kind is what a photo should show; each is judged by its own limits.
type Kind string

// The kinds of subject.
const (
	Unknown Kind = ""       // judged by the middle of the limits
	Tube    Kind = "tube"   // smooth, shiny, few edges
	Edge    Kind = "edge"   // seals, threads, wear marks
	Overall Kind = "side"   // the whole fork or bicycle from one side
	Serial  Kind = "serial" // numbers and labels that must be read
)

// Subject is what is known of the photo before it is looked at.
type Subject struct {
	Kind Kind
	// Part is where the part lies, in stored pixels of the full size; empty: in
	// the middle half of the width and height.
	Part image.Rectangle
	// Peers are the Sharpness of the last photos of this kind in this library,
	// in any order; fewer than MinPeers are not used.
	Peers []float64
}

// limits of a kind. Own choice: by the blurred samples of the package's test,
// no other source.
type limits struct {
	spread float64 // pixels of edge spread, at FineSide, beyond which it is blurred
	smooth bool    // a picture without any edge can be right
	again  string  // why it matters, after "Blurred, take it again: "
}

func (k Kind) limits() limits {
	switch k {
	case Tube:
		return limits{1.6, true, "tap on the tube to focus and hold the phone still; fine scratches cannot be seen in this one."}
	case Edge:
		return limits{1.6, false, "tap on the edge of the part to focus; its lip cannot be judged in this one."}
	case Overall:
		return limits{1.8, false, "hold the phone still, or rest it on the bench."}
	case Serial:
		return limits{1.3, false, "go closer until the number fills the picture, and tap on it to focus; it must be readable."}
	}
	return limits{1.8, false, "tap on the part to focus and hold the phone still."}
}
