package arrivals

import (
	"context"
	"errors"
	"strings"
	"time"

	"forkwear/inspect"
	"forkwear/ui/place"
	"forkwear/ui/run"
)

// Watched implements place.Arrivals.
func (b *Inbox) Watched() place.Watched {
	b.mu.Lock()
	defer b.mu.Unlock()
	return b.watched
}

// Watch implements place.Arrivals.
func (b *Inbox) Watch(w place.Watched) {
	w.On = w.On && w.Folder != ""
	w.Trouble = ""
	b.mu.Lock()
	b.watched = w
	b.mu.Unlock()
	b.watch()
	b.work(func(ctx context.Context) error {
		b.choosing.Lock()
		defer b.choosing.Unlock()
		w := b.Watched() // the newest choice, should two be on their way
		off, since := "off", ""
		if w.On {
			off = ""
		}
		if !w.Since.IsZero() {
			since = w.Since.UTC().Format(time.RFC3339)
		}
		for _, kv := range [][2]string{{keyFolder, w.Folder}, {keyWatch, off}, {keySince, since}} {
			if err := b.env.Desk.Lib.PutPreference(ctx, kv[0], kv[1]); err != nil {
				return err
			}
		}
		b.tell(place.Arrival{})
		return nil
	})
}

// watch ends the present watch and begins the one that was chosen.
func (b *Inbox) watch() {
	b.mu.Lock()
	stop, w := b.stop, b.watched
	b.turn++
	turn := b.turn
	b.stop = nil
	b.mu.Unlock()
	if stop != nil {
		stop()
	}
	if !w.On || b.source.Watch == nil {
		return
	}
	stop = run.Go(b.env.Run, func(ctx context.Context) (struct{}, error) {
		said := func(words string) { b.said(turn, w.Folder, words) }
		return struct{}{}, b.source.Watch(ctx, w.Folder, w.Since, said, func(path string) error { return b.arrived(ctx, path) })
	}, func(_ struct{}, err error) {
		if err != nil && !errors.Is(err, context.Canceled) {
			b.env.Say.Failed(err)
		}
	})
	b.mu.Lock()
	if b.turn == turn {
		b.stop, stop = stop, nil
	}
	b.mu.Unlock()
	if stop != nil { // another choice came first
		stop()
	}
}

// said takes what stands in the way of a watch. A sentence about the folder is
// the state of the watch until it is taken back; one about a file is told once.
func (b *Inbox) said(turn int, folder, words string) {
	b.mu.Lock()
	now := b.turn == turn
	ofFolder := words == "" || strings.Contains(words, folder)
	if now && ofFolder {
		b.watched.Trouble = words
	}
	b.mu.Unlock()
	switch {
	case !now:
	case ofFolder:
		b.tell(place.Arrival{})
	default:
		b.env.Run.Tell(func() { b.env.Say.Failed(inspect.Refuse(inspect.Damaged, "%s", words)) })
	}
}

// arrived takes one photo of the watched folder in and files it. An error lets
// it come again; a file that never can be taken in is told and done with.
func (b *Inbox) arrived(ctx context.Context, path string) error {
	in := b.env.Photos.Import(ctx, []string{path}, nil)
	if err := ctx.Err(); err != nil {
		return err
	}
	for _, x := range in {
		if x.Err == nil {
			continue
		}
		b.tellOnce(x.Err)
		if b.source.Again != nil && b.source.Again(x.Err) {
			return x.Err
		}
		b.tell(place.Arrival{Failed: []string{x.Err.Error()}})
		return nil
	}
	got, err := b.file(ctx, in)
	if err != nil {
		b.tellOnce(err)
		return err
	}
	b.forget()
	if len(got) == 0 {
		return nil
	}
	b.came(ctx, got, nil)
	b.env.Run.Tell(func() {
		for _, r := range got {
			if words := b.sentence(r); words != "" {
				b.env.Say.Saved(words, b.undoOf(r))
			}
		}
	})
	return nil
}

// tellOnce tells a trouble that comes back at each try only the first time.
func (b *Inbox) tellOnce(err error) {
	b.mu.Lock()
	same := b.told == err.Error()
	b.told = err.Error()
	b.mu.Unlock()
	if !same {
		b.env.Run.Tell(func() { b.env.Say.Failed(err) })
	}
}

func (b *Inbox) forget() {
	b.mu.Lock()
	b.told = ""
	b.mu.Unlock()
}
