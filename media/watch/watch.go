package watch

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"time"

	"github.com/fsnotify/fsnotify"

	"forkwear/media"
)

// Options of a watch; 0 and nil stand for what is said beside them.
type Options struct {
	Settle  time.Duration // after the last change before a file is looked at: 2 s
	Again   time.Duration // between two looks at it: 1 s
	GiveUp  time.Duration // for a file that never becomes complete: 10 min
	Rescan  time.Duration // the folder is read anew: 1 min
	Retry   time.Duration // a folder that is not there is looked for: 10 s
	Since   time.Time     // files last changed before are left alone
	Journal *Journal      // nil: what was delivered is forgotten at the end
	// Said is given one sentence when something stands in the way, and an empty
	// one when it is out of the way.
	Said func(words string)
}

func (o Options) filled() Options {
	for _, d := range []struct {
		v *time.Duration
		d time.Duration
	}{{&o.Settle, 2 * time.Second}, {&o.Again, time.Second}, {&o.GiveUp, 10 * time.Minute}, {&o.Rescan, time.Minute}, {&o.Retry, 10 * time.Second}} {
		if *d.v <= 0 {
			*d.v = d.d
		}
	}
	if o.Journal == nil {
		o.Journal = &Journal{sums: map[string]bool{}, files: map[string]entry{}}
	}
	if o.Said == nil {
		o.Said = func(string) {}
	}
	return o
}

// Folder watches dir and the folders in it, one level deep, and calls arrived
// for each photo that is there or comes, one after the other. A photo for which
// arrived gives an error comes again at a later look at the folder. A folder
// that is missing, or unplugged on the way, is waited for. Folder returns when
// ctx is done, with its error.
func Folder(ctx context.Context, dir string, opts Options, arrived func(path string) error) error {
	if dir == "" {
		return fmt.Errorf("watch a folder: none is named: choose one in the settings")
	}
	dir, err := filepath.Abs(dir)
	if err != nil {
		return fmt.Errorf("watch the folder %s: %w", dir, err)
	}
	w := &watcher{dir: dir, opts: opts.filled(), arrived: arrived, waiting: map[string]*candidate{}, passed: map[string]look{}}
	for {
		err := w.run(ctx)
		if ctx.Err() != nil {
			return ctx.Err()
		}
		w.say(inWords(dir, err))
		select {
		case <-ctx.Done():
			return ctx.Err()
		case <-time.After(w.opts.Retry):
		}
	}
}

func inWords(dir string, err error) string {
	if errors.Is(err, fs.ErrNotExist) {
		return fmt.Sprintf("The watched folder %s is not there: plug the card or drive in, or choose another folder in the settings. It is looked for again by itself.", dir)
	}
	return fmt.Sprintf("The watched folder %s cannot be read (%v). It is tried again by itself.", dir, err)
}

// look is a file's size and date at one time.
type look struct {
	size  int64
	dated time.Time
}

// candidate is a file that may still be being written.
type candidate struct {
	due, first time.Time
	last       look
}

type watcher struct {
	dir     string
	opts    Options
	arrived func(string) error
	waiting map[string]*candidate
	passed  map[string]look // no photos, or given up; looked at again when they change
	said    string
	events  *fsnotify.Watcher // nil where the system gives none
}

// say passes words on when they change.
func (w *watcher) say(words string) {
	if words != w.said {
		w.said = words
		w.opts.Said(words)
	}
}

// run watches until the folder cannot be read or ctx is done.
func (w *watcher) run(ctx context.Context) error {
	var events chan fsnotify.Event
	var faults chan error
	w.events = nil
	if n, err := fsnotify.NewWatcher(); err == nil { // else the folder is only read from time to time
		defer n.Close()
		w.events, events, faults = n, n.Events, n.Errors
	}
	if err := w.scan(); err != nil {
		return err
	}
	w.say("")
	rescan := time.NewTicker(w.opts.Rescan)
	defer rescan.Stop()
	timer := time.NewTimer(0)
	defer timer.Stop()
	for {
		var err error
		select {
		case <-ctx.Done():
			return ctx.Err()
		case e := <-events:
			err = w.event(e)
		case <-faults: // too many events at once: some are lost
			err = w.scan()
		case <-rescan.C:
			err = w.scan()
		case now := <-timer.C:
			err = w.lookAtDue(ctx, now)
		}
		if err != nil {
			return err
		}
		timer.Reset(w.untilDue())
	}
}

func (w *watcher) untilDue() time.Duration {
	next := w.opts.Rescan
	for _, c := range w.waiting {
		next = min(next, time.Until(c.due))
	}
	return max(0, next)
}

func (w *watcher) event(e fsnotify.Event) error {
	switch {
	case e.Name == "", e.Op == fsnotify.Chmod:
		return nil
	case e.Name == w.dir: // it was removed or renamed
		return w.scan()
	}
	st, err := os.Lstat(e.Name)
	switch {
	case err != nil: // removed, or already renamed
		delete(w.waiting, e.Name)
	case st.IsDir() && filepath.Dir(e.Name) == w.dir && !media.Unfinished(st.Name()):
		return w.scan() // nothing is told of what lay in it before it was watched
	case st.Mode().IsRegular():
		w.wait(e.Name, st)
		if c := w.waiting[e.Name]; c != nil {
			c.due = time.Now().Add(w.opts.Settle)
		}
	}
	return nil
}

// scan reads the folder and those in it. An error is the folder's own.
func (w *watcher) scan() error {
	if w.events != nil {
		_ = w.events.Add(w.dir) // again: it may have been unplugged meanwhile
	}
	return w.scanIn(w.dir, true)
}

func (w *watcher) scanIn(dir string, folders bool) error {
	list, err := os.ReadDir(dir)
	if err != nil {
		return err
	}
	for _, d := range list {
		path := filepath.Join(dir, d.Name())
		st, err := d.Info()
		switch {
		case err != nil || media.Unfinished(d.Name()): // gone meanwhile, or a temporary name
		case d.IsDir() && folders:
			if w.events != nil {
				_ = w.events.Add(path)
			}
			_ = w.scanIn(path, false) // one folder that cannot be read does not stop the others
		case st.Mode().IsRegular():
			w.wait(path, st)
		}
	}
	return nil
}

// wait puts a file among those that are waited for, if it is new or changed.
func (w *watcher) wait(path string, st fs.FileInfo) {
	now := look{st.Size(), st.ModTime()}
	switch {
	case media.Unfinished(filepath.Base(path)), w.waiting[path] != nil:
		return
	case st.ModTime().Before(w.opts.Since), w.passed[path] == now, w.opts.Journal.unchanged(path, st):
		return
	}
	begin := time.Now()
	w.waiting[path] = &candidate{due: begin.Add(w.opts.Settle), first: begin, last: look{size: -1}}
}
