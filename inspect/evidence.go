package inspect

import "time"

// Spot is a place in a photo: pixels of the upright picture in full size, x to
// the right, y down, from the top left corner.
type Spot struct{ X, Y float64 }

// CameraClock says how far the clock of one camera body is off. It is applied
// when a photo is looked at and never written into the original. The newest of
// a camera counts.
type CameraClock struct {
	ID      ID
	Camera  string        // Photo.Camera
	Add     time.Duration // the true time less what the camera's clock says
	Source  string        // "typed", "clock photo"
	PhotoID ID            // the photo of the shop's clock, "" where typed
	By      string
	At      time.Time
}

// Focus is that a check came in front at the bench: photos taken from then on,
// until the next Focus, are of it.
type Focus struct {
	ID      ID
	VisitID ID
	Check   string // "" when the visit was left
	Leg     Leg
	Stage   Stage
	By      string
	At      time.Time
}

// MarkKind is the shape of a Mark.
type MarkKind string

// The shapes, and the points each has.
const (
	MarkCircle MarkKind = "circle" // centre, a point on it
	MarkArrow  MarkKind = "arrow"  // tail, tip
	MarkLine   MarkKind = "line"   // two points or more
	MarkText   MarkKind = "text"   // where it begins
)

// Mark is drawn over a photo when it is shown or exported; the original never
// changes. A mark is never changed either: it is taken off and made anew.
type Mark struct {
	ID      ID
	PhotoID ID
	Kind    MarkKind
	Points  []Spot
	Text    string // also of a circle, arrow or line, drawn beside it
	By      string
	At      time.Time
	Gone    bool // taken off
}

// PhotoMeasure is a size measured on a photo, with everything that was marked
// for it, so that anyone can see and repeat it.
type PhotoMeasure struct {
	ID      ID
	PhotoID ID
	Kind    string       // "length", "width", "area"
	Card    []Spot       // four corners of an ID-1 card, top left first, clockwise; nil without
	Known   *KnownLength // two points and their distance; nil without
	Tube    *TubeMarks   // a tube of known diameter; nil without
	Line    []Spot       // of a length or width
	Outline []Spot       // of an area
	Mask    []byte       // PNG of the damage, of the size of Window; nil without
	Window  [4]float64   // x, y, width, height in the photo that Mask covers

	Value, Low, High float64 // 95 % range
	Unit             string  // "mm", "mm2"
	Method           string
	Remarks          []string
	ReadingID        ID // the reading it became; "" where none
	By               string
	At               time.Time
	Gone             bool
}

// KnownLength is two points in a photo and their distance in mm.
type KnownLength struct {
	A, B Spot
	MM   float64
}

// TubeMarks are the two edges of a tube of known diameter (mm): two points on
// one edge, then two on the other.
type TubeMarks struct {
	Diameter float64
	Edges    [4]Spot
}
