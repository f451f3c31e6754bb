package watch

import (
	"context"
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"sort"
	"time"

	"forkwear/media/format"
)

// lookAtDue looks at the files whose time has come, in the order of their
// names, and delivers those that are complete.
func (w *watcher) lookAtDue(ctx context.Context, now time.Time) error {
	var due []string
	for path, c := range w.waiting {
		if !c.due.After(now) {
			due = append(due, path)
		}
	}
	sort.Strings(due)
	for _, path := range due {
		if ctx.Err() != nil {
			return ctx.Err()
		}
		w.lookAt(path, w.waiting[path])
	}
	return nil
}

func (w *watcher) lookAt(path string, c *candidate) {
	st, err := os.Lstat(path)
	if err != nil || !st.Mode().IsRegular() { // gone, or something else by now
		delete(w.waiting, path)
		return
	}
	now := look{st.Size(), st.ModTime()}
	c.due = time.Now().Add(w.opts.Again)
	if now != c.last || now.size == 0 {
		c.last = now
		w.giveUp(path, c, now)
		return
	}
	kind, complete := inspect(path, st)
	switch {
	case kind == format.Unknown:
		delete(w.waiting, path)
		w.passed[path] = now
	case !complete:
		w.giveUp(path, c, now)
	default:
		delete(w.waiting, path)
		w.deliver(path, st)
	}
}

// giveUp ends the waiting for a file that has had its time.
func (w *watcher) giveUp(path string, c *candidate, now look) {
	if time.Since(c.first) < w.opts.GiveUp {
		return
	}
	delete(w.waiting, path)
	w.passed[path] = now
	w.opts.Said(fmt.Sprintf("%s in the watched folder was not copied to its end: copy it again.", filepath.Base(path)))
}

// inspect tells what a file holds and whether it is all there. A file that
// cannot be opened yet, as while another program writes it, is not complete.
func inspect(path string, st fs.FileInfo) (format.Format, bool) {
	f, err := os.Open(path)
	if err != nil {
		return format.JPEG, false
	}
	defer f.Close()
	head := make([]byte, format.SniffLen)
	n, err := f.ReadAt(head, 0)
	if err != nil && err != io.EOF {
		return format.JPEG, false
	}
	kind := format.Sniff(head[:n])
	return kind, kind != format.Unknown && format.Complete(f, st.Size())
}

// deliver gives a complete photo to the caller, unless the same bytes were
// delivered before under whatever name.
func (w *watcher) deliver(path string, st fs.FileInfo) {
	sum, err := sumOf(path)
	if err != nil {
		return // the next look at the folder finds it again
	}
	if !w.opts.Journal.Seen(sum) {
		if err := w.arrived(path); err != nil {
			return
		}
	}
	if err := w.opts.Journal.add(sum, path, st); err != nil {
		w.opts.Said(fmt.Sprintf("It cannot be noted that %s was taken in (%v): after a restart it will come again and be known by its bytes.", filepath.Base(path), err))
	}
}

func sumOf(path string) (string, error) {
	f, err := os.Open(path)
	if err != nil {
		return "", err
	}
	defer f.Close()
	h := sha256.New()
	if _, err := io.Copy(h, f); err != nil {
		return "", err
	}
	return hex.EncodeToString(h.Sum(nil)), nil
}
