package sample

import (
	"context"
	"fmt"
	"math/rand/v2"
	"runtime"
	"time"

	"forkwear/inspect"
	"forkwear/inspect/catalog"
	"forkwear/inspect/shop"
	"forkwear/media/alike"
	"forkwear/media/benchcard"
)

// Drawing is a drawn picture as the file of a camera.
type Drawing struct {
	JPEG []byte
	Name string
	Card bool // a bench card lies in it, which is worth looking for
}

// Keeper files one drawn picture and tells what it says about itself. It is
// called from several goroutines at once.
type Keeper func(ctx context.Context, d Drawing) (inspect.Photo, error)

// Filler makes the sample shop in an empty library.
type Filler struct {
	Lib     inspect.Library
	Catalog *catalog.Catalog
	Keep    Keeper
	Seed    uint64
	Until   time.Time // the sample shop's today
	Forks   int       // how many forks; forkCount where 0

	// Planted is the true size, mm or mm2, that each measured picture shows.
	Planted map[inspect.ID]float64

	draw  func(shot) (taken, error) // shot.draw where nil
	rng   *rand.Rand
	now   time.Time
	wear  *truth
	desk  *shop.Desk
	past  *past
	slots chan struct{} // one for each picture drawn at a time
	last  *shot         // of a tube with a card
}

// forks of the sample shop.
const forkCount = 28

// ahead is how many visits are looked at while the pictures of earlier ones are
// still being drawn.
const ahead = 3

// Fill makes the library. progress (may be nil) hears of every visit.
func (f *Filler) Fill(ctx context.Context, progress func(done, total int)) error {
	ctx, stop := context.WithCancel(ctx)
	defer stop() // of pictures that nobody waits for after an error
	f.begin()
	if err := f.setUp(ctx); err != nil {
		return err
	}
	plan := f.plan()
	var queue []*begun
	done := 0
	end := func(most int) error {
		for len(queue) > most {
			b := queue[0]
			queue = queue[1:]
			if err := f.end(ctx, b); err != nil {
				return fmt.Errorf("visit %d of the sample shop: %w", done+1, err)
			}
			if done++; progress != nil {
				progress(done, len(plan))
			}
		}
		return nil
	}
	for i, st := range plan {
		if err := ctx.Err(); err != nil {
			return err
		}
		if st.nth > 0 && waits(queue, st.rider) { // its fork was not collected yet
			if err := end(0); err != nil {
				return err
			}
		}
		b, err := f.start(ctx, st)
		if err != nil {
			return fmt.Errorf("visit %d of the sample shop: %w", i+1, err)
		}
		queue = append(queue, b)
		if err := end(ahead); err != nil {
			return err
		}
	}
	if err := end(0); err != nil {
		return err
	}
	return f.fillTray(ctx)
}

func (f *Filler) begin() {
	f.rng = rand.New(rand.NewPCG(f.Seed, 0x666f726b))
	f.wear = newTruth(f.rng)
	f.past = &past{Library: f.Lib, open: map[inspect.ID]bool{}}
	f.desk = &shop.Desk{Lib: f.past, Catalog: f.Catalog, Clock: func() time.Time { return f.now }, NewID: f.id,
		Zone: f.Until.Location(), Alike: bitsApart, CardVisit: benchcard.Decode}
	f.Planted = map[inspect.ID]float64{}
	f.slots = make(chan struct{}, max(2, runtime.GOMAXPROCS(0)))
	f.last = nil
	if f.draw == nil {
		f.draw = shot.draw
	}
}

func waits(queue []*begun, r *rider) bool {
	for _, b := range queue {
		if b.plan.rider == r {
			return true
		}
	}
	return false
}

func bitsApart(a, b string) int {
	n, err := alike.Distance(a, b)
	if err != nil {
		return -1
	}
	return n
}

// id is a UUIDv7 from the sample shop's own clock and seed.
func (f *Filler) id() inspect.ID {
	ms := uint64(f.now.UnixMilli())
	a, b := f.rng.Uint64(), f.rng.Uint64()
	f.now = f.now.Add(time.Millisecond)
	return inspect.ID(fmt.Sprintf("%08x-%04x-7%03x-%04x-%012x", ms>>16, ms&0xffff, a&0xfff, 0x8000|(a>>12)&0x3fff, b&0xffffffffffff))
}
