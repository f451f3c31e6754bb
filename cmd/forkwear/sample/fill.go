package sample

import (
	"context"
	"fmt"
	"math/rand/v2"
	"time"

	"forkwear/inspect"
	"forkwear/inspect/catalog"
	"forkwear/inspect/shop"
)

// Keeper files one drawn picture and tells what it says about itself.
type Keeper func(ctx context.Context, jpeg []byte, name string) (inspect.Photo, error)

// Filler makes the sample shop in an empty library.
type Filler struct {
	Lib     inspect.Library
	Catalog *catalog.Catalog
	Keep    Keeper
	Seed    uint64
	Until   time.Time // the sample shop's today
	Forks   int       // how many forks; forkCount where 0

	rng  *rand.Rand
	now  time.Time
	wear *truth
	desk *shop.Desk
}

// forks of the sample shop.
const forkCount = 28

// Fill makes the library. progress (may be nil) hears of every fork.
func (f *Filler) Fill(ctx context.Context, progress func(done, total int)) error {
	f.rng = rand.New(rand.NewPCG(f.Seed, 0x666f726b))
	f.wear = newTruth(f.rng)
	f.desk = &shop.Desk{Lib: f.Lib, Catalog: f.Catalog, Clock: func() time.Time { return f.now }, NewID: f.id}
	for k, v := range map[string]string{"shop.name": "Lower Bridge Suspension (sample)", "shop.sample": "yes", "shop.currency": "EUR"} {
		if err := f.Lib.PutPreference(ctx, k, v); err != nil {
			return err
		}
	}
	plan := f.plan()
	for i, st := range plan {
		if err := ctx.Err(); err != nil {
			return err
		}
		if err := f.stay(ctx, st); err != nil {
			return fmt.Errorf("visit %d of the sample shop: %w", i+1, err)
		}
		if progress != nil {
			progress(i+1, len(plan))
		}
	}
	return nil
}

// id is a UUIDv7 from the sample shop's own clock and seed.
func (f *Filler) id() inspect.ID {
	ms := uint64(f.now.UnixMilli())
	a, b := f.rng.Uint64(), f.rng.Uint64()
	f.now = f.now.Add(time.Millisecond)
	return inspect.ID(fmt.Sprintf("%08x-%04x-7%03x-%04x-%012x", ms>>16, ms&0xffff, a&0xfff, 0x8000|(a>>12)&0x3fff, b&0xffffffffffff))
}
