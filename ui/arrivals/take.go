package arrivals

import (
	"context"
	"errors"
	"fmt"
	"runtime"
	"slices"

	"fyne.io/fyne/v2/lang"

	"forkwear/inspect"
	"forkwear/inspect/shop"
	"forkwear/ui/place"
	"forkwear/ui/run"
)

// Coming implements place.Arrivals.
func (b *Inbox) Coming() []string {
	b.mu.Lock()
	defer b.mu.Unlock()
	return slices.Clone(b.coming)
}

// batch is how many files are taken in and filed together: enough for all
// cores, few enough that the first are seen soon and a cancel loses little.
func batch() int { return 2 * max(2, runtime.GOMAXPROCS(0)) }

// outcome is what came of an import.
type outcome struct {
	got    []shop.Received
	failed []string
}

// Import implements place.Arrivals. After a cancel, and after a crash, what was
// taken in stays; importing the same again goes on where it ended, because what
// is known is not decoded again.
func (b *Inbox) Import(paths []string) {
	if len(paths) == 0 {
		return
	}
	ctx, stop := context.WithCancel(b.env.Run.Context())
	update, done := b.env.Say.Working(lang.L("Taking in photos"), stop)
	progress := func(n, of int) {
		b.env.Run.Tell(func() { update(fmt.Sprintf(lang.L("Taking in photos: %d of %d"), n, of)) })
	}
	run.Go(b.env.Run, func(context.Context) (outcome, error) { return b.takeIn(ctx, paths, progress) },
		func(o outcome, err error) {
			stop()
			done()
			switch {
			case err != nil && (len(o.got) == 0 || !errors.Is(err, context.Canceled)):
				b.env.Say.Failed(err)
			case len(o.got) == 1 && len(o.failed) == 0:
				if words := b.sentence(o.got[0]); words != "" {
					b.env.Say.Saved(words, b.undoOf(o.got[0]))
					return
				}
				fallthrough
			case len(o.got) > 0:
				b.env.Say.Saved(summary(o.got, len(o.failed)), nil)
			case len(o.failed) > 0:
				b.env.Say.Failed(inspect.Refuse(inspect.Damaged, "%s", o.failed[0]))
			}
		})
}

func (b *Inbox) takeIn(ctx context.Context, paths []string, progress func(n, of int)) (o outcome, err error) {
	b.importing.Lock()
	defer b.importing.Unlock()
	if b.source.Files != nil {
		paths = b.source.Files(ctx, paths)
	}
	defer func() {
		b.setComing(nil)
		b.tell(place.Arrival{})
	}()
	b.setComing(paths)
	b.tell(place.Arrival{})
	for at := 0; at < len(paths); at += batch() {
		if ctx.Err() != nil {
			return o, ctx.Err()
		}
		part := paths[at:min(at+batch(), len(paths))]
		in := b.env.Photos.Import(ctx, part, func(n, _ int, _ string) { progress(at+n, len(paths)) })
		var failed []string
		for _, x := range in {
			if x.Err != nil && ctx.Err() == nil {
				failed = append(failed, x.Err.Error())
			}
		}
		// What lies in the vault is filed also after a cancel: it takes no time.
		got, err := b.file(context.WithoutCancel(ctx), in)
		o.got, o.failed = append(o.got, got...), append(o.failed, failed...)
		b.setComing(paths[at+len(part):])
		b.came(context.WithoutCancel(ctx), got, failed)
		if err != nil {
			return o, err
		}
	}
	return o, nil
}

func (b *Inbox) setComing(paths []string) {
	b.mu.Lock()
	defer b.mu.Unlock()
	b.coming = slices.Clone(paths)
}

// file files what could be taken in.
func (b *Inbox) file(ctx context.Context, in []place.Imported) ([]shop.Received, error) {
	var ps []inspect.Photo
	for _, x := range in {
		if x.Err == nil {
			ps = append(ps, x.Photo)
		}
	}
	if len(ps) == 0 {
		return nil, nil
	}
	b.filing.Lock()
	defer b.filing.Unlock()
	clocks, err := b.env.Desk.Lib.Clocks(ctx)
	if err != nil {
		return nil, err
	}
	b.mu.Lock()
	b.clocks = clocks
	b.mu.Unlock()
	return b.env.Desk.Receive(ctx, ps)
}

// came counts the tray anew and tells what came.
func (b *Inbox) came(ctx context.Context, got []shop.Received, failed []string) {
	_ = b.count(ctx) // the next count tells what is wrong with the library
	a := place.Arrival{Received: got, Failed: failed}
	for _, r := range got {
		if r.Visit != "" && r.How != shop.Known && !slices.Contains(a.Visits, r.Visit) {
			a.Visits = append(a.Visits, r.Visit)
		}
	}
	b.tell(a)
}
