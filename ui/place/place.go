package place

import (
	"context"
	"image"

	"fyne.io/fyne/v2"

	"forkwear/inspect"
	"forkwear/inspect/shop"
	"forkwear/inspect/verdict"
	"forkwear/ui/run"
)

// Name is a place of the window.
type Name string

// The places on the rail, and the steps of a visit.
const (
	Bench    Name = "bench"
	Forks    Name = "forks"
	Due      Name = "due"
	Patterns Name = "patterns"
	Sums     Name = "sums"
	Settings Name = "settings"
	Tray     Name = "tray" // photos of which nobody knows the fork yet

	DropOff  Name = "drop_off"
	Inspect  Name = "inspect"
	Decide   Name = "decide"
	Counter  Name = "counter"
	Service  Name = "service"
	HandBack Name = "hand_back"
	ForkLife Name = "fork_life"

	Compare Name = "compare" // two photos of one check
	Measure Name = "measure" // one photo: its marks, and sizes on it
)

// Where is a place with the record it is about: a visit for the steps of a
// visit, a fork for ForkLife and for a drop-off of a known fork.
type Where struct {
	Name  Name
	Visit inspect.ID
	Fork  inspect.ID
	Check string        // Inspect: focus this check; ForkLife: show this check
	Leg   inspect.Leg   //
	Photo inspect.ID    // Measure: this photo; Compare: as 'now'
	Stage inspect.Stage // Inspect: open this stage; empty: the first with open checks
}

// Screen is one place shown in the window. All methods run on the window's
// goroutine.
type Screen interface {
	// Content is built once.
	Content() fyne.CanvasObject
	// Opened is called when the screen is shown, each time; it loads.
	Opened()
	// Closed is called when another screen takes its place.
	Closed()
}

// Keyed is a Screen that takes keys typed while no entry has the focus.
type Keyed interface {
	TypedRune(r rune)
	TypedKey(k *fyne.KeyEvent)
}

// Acting is a Screen with one main step: taking in, going on, handing back. The
// window does it at Ctrl+Enter, also while an entry has the focus.
type Acting interface{ Act() }

// Dropping is a Screen that takes files and folders dropped on the window.
type Dropping interface {
	Dropped(paths []string, at fyne.Position)
}

// Photos is what the window needs of the photo vault. Both run in workers.
type Photos interface {
	// Import takes files and folders in; every path has its own result.
	Import(ctx context.Context, paths []string, progress func(done, total int, name string)) []Imported
	// Preview gives the upright picture, at most px on its longer side, as a
	// fresh RGBA with its origin at 0,0.
	Preview(ctx context.Context, sha256 string, px int) (image.Image, error)
}

// WholePhotos is what a Photos may also do: give the upright photo in its full
// size, for looking and measuring closer than a preview allows.
type WholePhotos interface {
	Full(ctx context.Context, sha256 string) (*image.RGBA, error)
}

// Searching is a Screen that the search at the top of the window filters.
type Searching interface {
	Search(text string)
	OpenFirst()
}

// Imported is the outcome for one file.
type Imported struct {
	Path  string
	Photo inspect.Photo // without its place in the history
	Known bool          // the same bytes were already in the vault
	Err   error
}

// Say is the status line and the questions of the window.
type Say interface {
	// Saved tells what was saved, with an undo where there is one. The undos of
	// the present place lie on each other, the newest is done first. An undo tells
	// how it ended by Saved or Failed; that is no new step.
	Saved(what string, undo func())
	// Final is Saved for what can't be taken back and closes what came before it
	// at this place.
	Final(what string)
	// Hint tells what the mouse or the focus is over.
	Hint(text string)
	// Working shows what runs in the background; the returned func ends it.
	Working(text string, cancel func()) (update func(text string), done func())
	// Failed tells what happened, what is safe and what to do.
	Failed(err error)
}

// Env is what every screen is given.
type Env struct {
	Window  fyne.Window
	Desk    *shop.Desk
	Photos  Photos
	Run     *run.Runner
	Say     Say
	Rules   verdict.Rules
	Go      func(Where) // leaves this place for another
	Back    func() bool // returns to the place before, false where there is none; nil in tests
	Export  Exporter
	Library string // folder of the library, to show
	// Arrivals is what comes in without a person; nil in tests that need none.
	Arrivals Arrivals
	// PeopleChanged tells the window that the people of the shop are others now; nil in tests.
	PeopleChanged func()
	// Demo fills an empty library with the sample shop; nil where it can't.
	Demo func(ctx context.Context, progress func(done, total int)) error
}

// Exporter writes a visit's report; it runs in a worker.
type Exporter interface {
	// Report writes FILE.pdf or FILE.html by its ending.
	Report(ctx context.Context, visit inspect.ID, file string) error
	// Card writes the bench card of a visit to FILE.pdf.
	Card(ctx context.Context, visit inspect.ID, file string) error
}
