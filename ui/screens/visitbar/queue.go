package visitbar

import (
	"context"

	"forkwear/ui/run"
)

// Queue lets workers that keep things of one screen go one after another, in
// the order in which they were asked, so that the newest entry stands.
type Queue struct{ last chan struct{} }

// Next takes a place in the queue: the worker calls wait first and release when
// it is done. Next is called on the window's goroutine.
func (q *Queue) Next() (wait func(context.Context), release func()) {
	before, mine := q.last, make(chan struct{})
	q.last = mine
	wait = func(ctx context.Context) {
		if before == nil {
			return
		}
		select {
		case <-before:
		case <-ctx.Done():
		}
	}
	return wait, func() { close(mine) }
}

// Do runs work beside the window after all that was asked before it, then then
// on the window's goroutine. It is called on the window's goroutine.
func (q *Queue) Do(r *run.Runner, work func(ctx context.Context) error, then func(error)) {
	wait, release := q.Next()
	run.Go(r, func(ctx context.Context) (struct{}, error) {
		defer release()
		wait(ctx)
		return struct{}{}, work(ctx)
	}, func(_ struct{}, err error) { then(err) })
}
