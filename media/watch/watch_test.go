package watch

import (
	"context"
	"errors"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"sync"
	"testing"
	"time"
)

const photos = "../../testdata/photos/"

// quick are the waiting times of a test: a hundredth of the real ones.
var quick = Options{Settle: 30 * time.Millisecond, Again: 10 * time.Millisecond, GiveUp: 400 * time.Millisecond,
	Rescan: 100 * time.Millisecond, Retry: 20 * time.Millisecond}

// watched runs Folder and collects what arrives.
type watched struct {
	mu    sync.Mutex
	got   []string
	words []string
	fail  int // so many deliveries fail
	stop  func() error
}

func start(t *testing.T, dir string, o Options) *watched {
	t.Helper()
	w := &watched{}
	o.Said = func(s string) {
		w.mu.Lock()
		defer w.mu.Unlock()
		w.words = append(w.words, s)
	}
	ctx, cancel := context.WithCancel(t.Context())
	ended := make(chan error, 1)
	go func() {
		ended <- Folder(ctx, dir, o, func(path string) error {
			w.mu.Lock()
			defer w.mu.Unlock()
			if w.fail > 0 {
				w.fail--
				return errors.New("not now")
			}
			w.got = append(w.got, filepath.Base(path))
			return nil
		})
	}()
	w.stop = sync.OnceValue(func() error { cancel(); return <-ended })
	t.Cleanup(func() { _ = w.stop() })
	return w
}

func (w *watched) arrived() string {
	w.mu.Lock()
	defer w.mu.Unlock()
	return strings.Join(w.got, " ")
}

func (w *watched) said() string {
	w.mu.Lock()
	defer w.mu.Unlock()
	return strings.Join(w.words, "|")
}

// expect waits until all of want, and nothing else, has arrived.
func (w *watched) expect(t *testing.T, want string) {
	t.Helper()
	until(t, func() bool { return len(w.arrived()) >= len(want) }, func() string { return w.arrived() })
	time.Sleep(60 * time.Millisecond)
	if got := w.arrived(); got != want {
		t.Errorf("arrived %q, want %q", got, want)
	}
}

func until(t *testing.T, done func() bool, now func() string) {
	t.Helper()
	for end := time.Now().Add(8 * time.Second); !done(); time.Sleep(5 * time.Millisecond) {
		if time.Now().After(end) {
			t.Fatalf("waited too long: %s", now())
		}
	}
}

func put(t *testing.T, path string, data []byte) {
	t.Helper()
	if err := errors.Join(os.MkdirAll(filepath.Dir(path), 0o700), os.WriteFile(path, data, 0o600)); err != nil {
		t.Fatal(err)
	}
}

func sample(t *testing.T, name string) []byte {
	t.Helper()
	data, err := os.ReadFile(photos + name)
	if err != nil {
		t.Fatal(err)
	}
	return data
}

// TestComesAndGoes: what lay there, what comes, under a temporary name first,
// in a folder of its own, the same bytes again, and what is no photo.
func TestComesAndGoes(t *testing.T) {
	t.Parallel()
	dir := t.TempDir()
	put(t, filepath.Join(dir, "before.jpg"), sample(t, "test_exif_canon.jpg"))
	put(t, filepath.Join(dir, "notes.txt"), []byte("no photo"))
	put(t, filepath.Join(dir, ".hidden.jpg"), sample(t, "a1.jpg"))
	put(t, filepath.Join(dir, "deep", "deeper", "c.jpg"), sample(t, "a1.jpg"))
	w := start(t, dir, quick)
	w.expect(t, "before.jpg")
	put(t, filepath.Join(dir, "b.webp.part"), sample(t, "test.webp"))
	time.Sleep(80 * time.Millisecond)
	if err := os.Rename(filepath.Join(dir, "b.webp.part"), filepath.Join(dir, "b.webp")); err != nil {
		t.Fatal(err)
	}
	w.expect(t, "before.jpg b.webp")
	put(t, filepath.Join(dir, "2026-11", "c.heic"), sample(t, "test8.heic"))
	w.expect(t, "before.jpg b.webp c.heic")
	put(t, filepath.Join(dir, "again.jpg"), sample(t, "test_exif_canon.jpg"))
	put(t, filepath.Join(dir, "2026-11", "d.png"), sample(t, "png-8bit.png"))
	w.expect(t, "before.jpg b.webp c.heic d.png")
	if err := w.stop(); !errors.Is(err, context.Canceled) {
		t.Errorf("ended with %v", err)
	}
	for _, name := range []string{"before.jpg", "again.jpg", "b.webp"} { // copied by others, never moved
		if _, err := os.Stat(filepath.Join(dir, name)); err != nil {
			t.Error(err)
		}
	}
}

// TestSlowCopy: a file written in pieces arrives once and whole; one that is
// never finished is told.
func TestSlowCopy(t *testing.T) {
	t.Parallel()
	dir := t.TempDir()
	w := start(t, dir, quick)
	data := sample(t, "gps.jpg")
	f, err := os.Create(filepath.Join(dir, "slow.jpg"))
	if err != nil {
		t.Fatal(err)
	}
	for i := range 5 {
		if _, err := f.Write(data[i*len(data)/5 : (i+1)*len(data)/5]); err != nil {
			t.Fatal(err)
		}
		if i == 1 {
			time.Sleep(120 * time.Millisecond) // longer than it takes to settle
			if w.arrived() != "" {
				t.Error("half a file arrived")
			}
		}
		time.Sleep(10 * time.Millisecond)
	}
	if err := f.Close(); err != nil {
		t.Fatal(err)
	}
	w.expect(t, "slow.jpg")
	put(t, filepath.Join(dir, "half.jpg"), sample(t, "truncated.jpg"))
	until(t, func() bool { return strings.Contains(w.said(), "half.jpg") }, w.said)
	put(t, filepath.Join(dir, "half.jpg"), sample(t, "Landscape_1.jpg")) // copied again
	w.expect(t, "slow.jpg half.jpg")
}

// TestFailsAndComesAgain: what the caller could not take comes again; what it
// took does not, after a restart either.
func TestFailsAndComesAgain(t *testing.T) {
	t.Parallel()
	dir, book := t.TempDir(), filepath.Join(t.TempDir(), "library", "watched.jsonl")
	put(t, filepath.Join(dir, "a.jpg"), sample(t, "a1.jpg"))
	open := func() Options {
		o := quick
		var err error
		if o.Journal, err = OpenJournal(book); err != nil {
			t.Fatal(err)
		}
		return o
	}
	w := start(t, dir, open())
	w.mu.Lock()
	w.fail = 2
	w.mu.Unlock()
	w.expect(t, "a.jpg")
	_ = w.stop()
	f, err := os.OpenFile(book, os.O_APPEND|os.O_WRONLY, 0)
	if err != nil {
		t.Fatal(err)
	}
	_, _ = f.WriteString(`{"sha256":"half a li`)
	_ = f.Close()
	put(t, filepath.Join(dir, "b.jpg"), sample(t, "gps.jpg"))
	w = start(t, dir, open())
	w.expect(t, "b.jpg")
	_ = w.stop()
	w = start(t, dir, open())
	put(t, filepath.Join(dir, "c.jpg"), sample(t, "copyright.jpeg"))
	w.expect(t, "c.jpg")
}

// TestUnplugged: a folder that is not there is waited for, with words.
func TestUnplugged(t *testing.T) {
	t.Parallel()
	dir := filepath.Join(t.TempDir(), "card")
	w := start(t, dir, quick)
	until(t, func() bool { return strings.Contains(w.said(), "is not there") }, w.said)
	put(t, filepath.Join(dir, "a.jpg"), sample(t, "a1.jpg"))
	w.expect(t, "a.jpg")
	if err := os.RemoveAll(dir); err != nil {
		t.Fatal(err)
	}
	until(t, func() bool { return strings.Count(w.said(), "is not there") == 2 }, w.said)
	put(t, filepath.Join(dir, "b.jpg"), sample(t, "gps.jpg"))
	w.expect(t, "a.jpg b.jpg")
}

func TestSince(t *testing.T) {
	t.Parallel()
	dir := t.TempDir()
	put(t, filepath.Join(dir, "old.jpg"), sample(t, "a1.jpg"))
	long := time.Now().Add(-48 * time.Hour)
	if err := os.Chtimes(filepath.Join(dir, "old.jpg"), long, long); err != nil {
		t.Fatal(err)
	}
	put(t, filepath.Join(dir, "new.jpg"), sample(t, "gps.jpg"))
	o := quick
	o.Since = time.Now().Add(-time.Hour)
	start(t, dir, o).expect(t, "new.jpg")
}

func TestNoFolder(t *testing.T) {
	if err := Folder(t.Context(), "", Options{}, nil); err == nil {
		t.Error("a watch on nothing")
	}
	if runtime.GOOS == "windows" {
		return
	}
	if _, err := OpenJournal(t.TempDir()); err == nil {
		t.Error("a folder for a journal")
	}
}
