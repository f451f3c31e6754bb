package place

import (
	"context"
	"image"
	"time"

	"forkwear/inspect"
	"forkwear/inspect/shop"
)

// Arrivals is what comes into the library without a person saying where it
// belongs: the watched folder, files that are dropped on the window, and the
// photos that wait in the tray. Its methods are called on the window's
// goroutine and never block; what came of them is told to the listeners.
type Arrivals interface {
	// Import takes files and folders in and files each photo by its bench card,
	// by what was in front when it was taken, or by time; else it waits.
	Import(paths []string)
	// Coming are the files of a running import that are not in yet.
	Coming() []string
	// Waiting is how many photos wait in the tray, as counted last.
	Waiting() int
	// Recount counts them anew.
	Recount()
	// SortAgain tries those that wait anew, after a camera's clock was set.
	SortAgain()
	// SetAside hides photos that are of no fork, or shows them again.
	SetAside(photos []inspect.ID, on bool)
	// Aside are those that are hidden.
	Aside() map[inspect.ID]bool
	// Watched is the watched folder as it stands.
	Watched() Watched
	// Watch keeps another choice of it and goes by it at once.
	Watch(w Watched)
	// Listen calls f on the window's goroutine after each change.
	Listen(f func(Arrival)) (stop func())
}

// Arrival is what changed. The zero Arrival says that a count, a list or the
// state of the watched folder is another one.
type Arrival struct {
	Received []shop.Received // photos that came in, or found their visit
	Failed   []string        // files that could not be taken in, a sentence each
	Visits   []inspect.ID    // whose photos are others now
}

// Touches tells whether the photos of a visit are others now.
func (a Arrival) Touches(visit inspect.ID) bool {
	for _, v := range a.Visits {
		if v == visit {
			return true
		}
	}
	return false
}

// Watched is the folder into which a phone syncs or a card is plugged.
type Watched struct {
	Folder string // "" none chosen
	On     bool
	Since  time.Time // files last changed before are left alone; zero: all are taken
	// Trouble says what stands in the way, a sentence; "" while all is well.
	Trouble string
}

// GlancingPhotos is what a Photos may also do: give the camera's own small
// picture of a file within milliseconds; nil where there is none.
type GlancingPhotos interface {
	Quick(ctx context.Context, path string) (image.Image, error)
}
