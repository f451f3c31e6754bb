package run

import (
	"context"
	"fmt"
	"runtime/debug"
	"sync"
	"sync/atomic"

	"fyne.io/fyne/v2"

	"forkwear/inspect"
)

// Runner starts work beside the window and brings its result back to it.
// Closing it cancels all that runs and waits for it.
type Runner struct {
	ctx    context.Context
	cancel context.CancelFunc
	wait   sync.WaitGroup
	busy   atomic.Int64
	// one lets one result in at a time. The window has a single goroutine for
	// all of them; the drivers of tests run each on the goroutine of its worker.
	one sync.Mutex
	// Log gets what went wrong inside a worker, with its stack.
	Log func(string)
}

// New returns a runner whose work ends with ctx.
func New(ctx context.Context) *Runner {
	r := &Runner{Log: func(string) {}}
	r.ctx, r.cancel = context.WithCancel(ctx)
	return r
}

// Go does work beside the window, then calls done on the window's goroutine
// unless the returned cancel came first. A panic in work comes as an error.
func Go[T any](r *Runner, work func(ctx context.Context) (T, error), done func(T, error)) (cancel func()) {
	ctx, stop := context.WithCancel(r.ctx)
	r.wait.Add(1)
	r.busy.Add(1)
	go func() {
		defer r.wait.Done()
		defer stop()
		v, err := guarded(ctx, r, work)
		onWindow(func() {
			defer r.busy.Add(-1)
			r.one.Lock()
			defer r.one.Unlock()
			if r.ctx.Err() == nil {
				done(v, err)
			}
		})
	}()
	return stop
}

// Tell calls f on the window's goroutine soon, for progress from a worker.
func (r *Runner) Tell(f func()) {
	if r.ctx.Err() == nil {
		onWindow(f)
	}
}

// Context is done when the window closes.
func (r *Runner) Context() context.Context { return r.ctx }

// Wait blocks until all work that was started has brought its result back;
// for tests and for closing.
func (r *Runner) Wait() { r.wait.Wait() }

// Busy is how much work has not brought its result back yet.
func (r *Runner) Busy() int { return int(r.busy.Load()) }

// Close cancels what runs and waits for it to stop.
func (r *Runner) Close() {
	r.cancel()
	r.wait.Wait()
}

func guarded[T any](ctx context.Context, r *Runner, work func(ctx context.Context) (T, error)) (v T, err error) {
	defer func() {
		if p := recover(); p != nil {
			r.Log(fmt.Sprintf("%v\n%s", p, debug.Stack()))
			err = inspect.Refuse(inspect.Internal, "something went wrong inside the program (%v); what was saved is safe", p)
		}
	}()
	return work(ctx)
}

func onWindow(f func()) { fyne.Do(f) }
