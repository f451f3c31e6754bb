package arrivals

import (
	"context"
	"strings"
	"sync"
	"time"

	"forkwear/inspect"
	"forkwear/inspect/shop"
	"forkwear/ui/place"
	"forkwear/ui/run"
)

// Keys of the choices in the library.
const (
	keyFolder = "photos.folder"
	keyWatch  = "photos.watch" // "off" or ""
	keySince  = "photos.since" // RFC 3339, "" takes all
	keyAside  = "photos.aside" // ids, one a line
)

// Source is what reaches the disk; it is handed in.
type Source struct {
	// Watch calls arrived for each photo that lies or comes in dir, one after
	// the other, until ctx is done; files last changed before since are left
	// alone, and what was taken without an error never comes again. said gets a
	// sentence when something stands in the way and "" when it is gone.
	Watch func(ctx context.Context, dir string, since time.Time, said func(string), arrived func(path string) error) error
	// Files lists the files behind files and folders; nil: the paths as they are.
	Files func(ctx context.Context, paths []string) []string
	// Again tells that a file which could not be taken in may be later, as after
	// a full disk; nil: never.
	Again func(error) bool
}

// Inbox implements place.Arrivals.
type Inbox struct {
	env    *place.Env
	source Source

	filing    sync.Mutex // one batch is filed at a time
	importing sync.Mutex // one import runs at a time
	choosing  sync.Mutex // choices are kept in turn

	mu        sync.Mutex // guards what follows
	waiting   int
	aside     map[inspect.ID]bool
	watched   place.Watched
	stop      func() // ends the present watch
	turn      int    // of the present watch
	coming    []string
	listeners map[int]func(place.Arrival)
	next      int
	told      string // the trouble that was told last
	clocks    []inspect.CameraClock
}

var _ place.Arrivals = (*Inbox)(nil)

// New returns an inbox; Start sets it going.
func New(env *place.Env, source Source) *Inbox {
	return &Inbox{env: env, source: source, aside: map[inspect.ID]bool{}, listeners: map[int]func(place.Arrival){}}
}

// kept is what the library holds of the choices.
type kept struct {
	watched place.Watched
	aside   map[inspect.ID]bool
}

// Start reads the choices, counts the tray and begins to watch.
func (b *Inbox) Start() {
	run.Go(b.env.Run, b.read, func(k kept, err error) {
		if err != nil {
			b.env.Say.Failed(err)
			return
		}
		b.mu.Lock()
		b.watched, b.aside = k.watched, k.aside
		b.mu.Unlock()
		b.watch()
		b.Recount()
	})
}

func (b *Inbox) read(ctx context.Context) (kept, error) {
	lib, k := b.env.Desk.Lib, kept{aside: map[inspect.ID]bool{}}
	values := map[string]string{}
	for _, key := range []string{keyFolder, keyWatch, keySince, keyAside} {
		v, err := lib.Preference(ctx, key)
		if err != nil {
			return k, err
		}
		values[key] = v
	}
	since, _ := time.Parse(time.RFC3339, values[keySince]) // one that can't be read takes all
	k.watched = place.Watched{Folder: values[keyFolder], On: values[keyFolder] != "" && values[keyWatch] != "off", Since: since}
	for _, id := range strings.Fields(values[keyAside]) {
		k.aside[inspect.ID(id)] = true
	}
	return k, nil
}

// Listen implements place.Arrivals.
func (b *Inbox) Listen(f func(place.Arrival)) (stop func()) {
	b.mu.Lock()
	defer b.mu.Unlock()
	n := b.next
	b.next++
	b.listeners[n] = f
	return func() {
		b.mu.Lock()
		defer b.mu.Unlock()
		delete(b.listeners, n)
	}
}

// tell calls the listeners on the window's goroutine; it is called in a worker.
func (b *Inbox) tell(a place.Arrival) {
	b.env.Run.Tell(func() {
		b.mu.Lock()
		var all []func(place.Arrival)
		for _, f := range b.listeners {
			all = append(all, f)
		}
		b.mu.Unlock()
		for _, f := range all {
			f(a)
		}
	})
}

// Waiting implements place.Arrivals.
func (b *Inbox) Waiting() int {
	b.mu.Lock()
	defer b.mu.Unlock()
	return b.waiting
}

// Aside implements place.Arrivals.
func (b *Inbox) Aside() map[inspect.ID]bool {
	b.mu.Lock()
	defer b.mu.Unlock()
	out := make(map[inspect.ID]bool, len(b.aside))
	for id := range b.aside {
		out[id] = true
	}
	return out
}

// Recount implements place.Arrivals.
func (b *Inbox) Recount() {
	b.work(func(ctx context.Context) error {
		if err := b.count(ctx); err != nil {
			return err
		}
		b.tell(place.Arrival{})
		return nil
	})
}

func (b *Inbox) count(ctx context.Context) error {
	ps, err := b.env.Desk.Unsorted(ctx)
	if err != nil {
		return err
	}
	b.mu.Lock()
	defer b.mu.Unlock()
	b.waiting = 0
	for _, p := range ps {
		if !b.aside[p.ID] {
			b.waiting++
		}
	}
	return nil
}

// work runs f beside the window and tells what went wrong.
func (b *Inbox) work(f func(ctx context.Context) error) {
	run.Go(b.env.Run, func(ctx context.Context) (struct{}, error) { return struct{}{}, f(ctx) },
		func(_ struct{}, err error) {
			if err != nil {
				b.env.Say.Failed(err)
			}
		})
}

// SetAside implements place.Arrivals.
func (b *Inbox) SetAside(photos []inspect.ID, on bool) {
	b.work(func(ctx context.Context) error {
		b.choosing.Lock()
		defer b.choosing.Unlock()
		now := b.Aside()
		for _, id := range photos {
			if on {
				now[id] = true
			} else {
				delete(now, id)
			}
		}
		var lines []string
		for id := range now {
			lines = append(lines, string(id))
		}
		if err := b.env.Desk.Lib.PutPreference(ctx, keyAside, strings.Join(lines, "\n")); err != nil {
			return err
		}
		b.mu.Lock()
		b.aside = now
		b.mu.Unlock()
		if err := b.count(ctx); err != nil {
			return err
		}
		b.tell(place.Arrival{})
		b.env.Run.Tell(func() {
			what := asideWords(len(photos), on)
			b.env.Say.Saved(what, func() { b.SetAside(photos, !on) })
		})
		return nil
	})
}

// SortAgain implements place.Arrivals.
func (b *Inbox) SortAgain() {
	b.work(func(ctx context.Context) error {
		b.filing.Lock()
		got, err := b.env.Desk.SortAgain(ctx)
		b.filing.Unlock()
		var found []shop.Received
		for _, r := range got {
			if r.Visit != "" {
				found = append(found, r)
			}
		}
		if len(found) > 0 {
			b.came(ctx, found, nil)
			b.env.Run.Tell(func() { b.env.Say.Saved(summary(found, 0), nil) })
		}
		return err
	})
}
