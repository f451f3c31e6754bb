package screentest

import (
	"context"
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"image"
	"image/color"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"
	"fyne.io/fyne/v2/widget"

	"forkwear/inspect"
	"forkwear/inspect/catalog"
	"forkwear/inspect/shop"
	"forkwear/ui/place"
	"forkwear/ui/run"
	"forkwear/ui/theme"
)

// Now is what the clock of the shop shows.
var Now = time.Date(2026, 5, 12, 14, 2, 11, 0, time.UTC)

// Env returns a shop with an empty library in a test window, light.
func Env(t testing.TB) *place.Env { return EnvIn(t, false) }

// EnvIn is Env in light or dark.
func EnvIn(t testing.TB, dark bool) *place.Env {
	t.Helper()
	cat, err := catalog.Embedded()
	if err != nil {
		t.Fatal(err)
	}
	app := test.NewTempApp(t)
	app.Settings().SetTheme(theme.New(theme.WithVariant(fyne.ThemeVariant(map[bool]int{true: 0, false: 1}[dark]))))
	w := test.NewTempWindow(t, widget.NewLabel(""))
	n := 0
	var mu sync.Mutex
	id := func() inspect.ID {
		mu.Lock()
		defer mu.Unlock()
		n++
		return inspect.ID(fmt.Sprintf("id%06d", n))
	}
	said := &Recorder{}
	runner := run.New(context.Background())
	runner.Log = func(s string) { t.Log(s) }
	t.Cleanup(runner.Close)
	return &place.Env{
		Window: w, Run: runner, Say: said, Photos: Pictures{}, Library: "the sample shop", Export: said, Go: said.went,
		Desk: &shop.Desk{Lib: NewLibrary(), Catalog: cat, Clock: func() time.Time { return Now }, NewID: id, By: "bench"},
	}
}

// Told returns what the screens of an Env said.
func Told(env *place.Env) *Recorder { return env.Say.(*Recorder) }

// Lib returns the library of an Env.
func Lib(env *place.Env) *Library { return env.Desk.Lib.(*Library) }

// Recorder is a status line that remembers.
type Recorder struct {
	mu       sync.Mutex
	Saves    []string
	Undos    []func() // the undo of each save, nil where there is none
	Finals   []string // those of Saves that can't be taken back
	Hints    []string
	Works    []string
	Failures []error
	Gone     []place.Where
	Reports  []string
	Cards    []string
}

var (
	_ place.Say      = (*Recorder)(nil)
	_ place.Exporter = (*Recorder)(nil)
)

// Saved implements place.Say.
func (r *Recorder) Saved(what string, undo func()) {
	r.mu.Lock()
	defer r.mu.Unlock()
	r.Saves, r.Undos = append(r.Saves, what), append(r.Undos, undo)
}

// Final implements place.Say.
func (r *Recorder) Final(what string) {
	r.mu.Lock()
	defer r.mu.Unlock()
	r.Saves, r.Undos, r.Finals = append(r.Saves, what), append(r.Undos, nil), append(r.Finals, what)
}

// Undo presses the undo of the newest save; false where it has none.
func (r *Recorder) Undo() bool {
	r.mu.Lock()
	var undo func()
	if n := len(r.Undos); n > 0 {
		undo = r.Undos[n-1]
	}
	r.mu.Unlock()
	if undo == nil {
		return false
	}
	undo()
	return true
}

// TakeBack presses Undo as the window does: the newest undo that was not pressed
// yet. False where none is left.
func (r *Recorder) TakeBack() bool {
	r.mu.Lock()
	var undo func()
	for i := len(r.Undos) - 1; i >= 0 && undo == nil; i-- {
		undo, r.Undos[i] = r.Undos[i], nil
	}
	r.mu.Unlock()
	if undo != nil {
		undo()
	}
	return undo != nil
}

// Hint implements place.Say.
func (r *Recorder) Hint(text string) {
	r.mu.Lock()
	defer r.mu.Unlock()
	r.Hints = append(r.Hints, text)
}

// LastHint returns the newest hint.
func (r *Recorder) LastHint() string {
	r.mu.Lock()
	defer r.mu.Unlock()
	if len(r.Hints) == 0 {
		return ""
	}
	return r.Hints[len(r.Hints)-1]
}

// Working implements place.Say.
func (r *Recorder) Working(text string, _ func()) (update func(string), done func()) {
	note := func(s string) {
		r.mu.Lock()
		defer r.mu.Unlock()
		r.Works = append(r.Works, s)
	}
	note(text)
	return note, func() { note("done") }
}

// Failed implements place.Say.
func (r *Recorder) Failed(err error) {
	r.mu.Lock()
	defer r.mu.Unlock()
	r.Failures = append(r.Failures, err)
}

// Report implements place.Exporter.
func (r *Recorder) Report(_ context.Context, _ inspect.ID, file string) error {
	r.mu.Lock()
	defer r.mu.Unlock()
	r.Reports = append(r.Reports, file)
	return nil
}

// Card implements place.Exporter.
func (r *Recorder) Card(_ context.Context, _ inspect.ID, file string) error {
	r.mu.Lock()
	defer r.mu.Unlock()
	r.Cards = append(r.Cards, file)
	return nil
}

func (r *Recorder) went(w place.Where) {
	r.mu.Lock()
	defer r.mu.Unlock()
	r.Gone = append(r.Gone, w)
}

// Pictures is a vault of drawn photos. A file name says what comes of it:
// "broken" can't be read, "blurred" is not usable, "undated" has no camera date,
// "known" was in the vault before.
type Pictures struct{}

var _ place.Photos = Pictures{}

// Import implements place.Photos.
func (Pictures) Import(ctx context.Context, paths []string, progress func(done, total int, name string)) []place.Imported {
	var out []place.Imported
	for i, p := range paths {
		if ctx.Err() != nil {
			break
		}
		name := filepath.Base(p)
		in := place.Imported{Path: p, Photo: Photo(name), Known: strings.Contains(name, "known")}
		if strings.Contains(name, "broken") {
			in = place.Imported{Path: p, Err: inspect.Refuse(inspect.Damaged, "%s can't be read as a photo: take it again", name)}
		}
		out = append(out, in)
		if progress != nil {
			progress(i+1, len(paths), name)
		}
	}
	return out
}

// Photo is what an import finds out of a file of this name.
func Photo(name string) inspect.Photo {
	sum := sha256.Sum256([]byte(name))
	p := inspect.Photo{SHA256: hex.EncodeToString(sum[:]), Format: "jpeg", Bytes: 1000, Width: 1200, Height: 900,
		WallTime: Now.Format("2006-01-02T15:04:05"), DateSource: "exif", Sharpness: 300, Usable: true, Drawn: true, FileName: name}
	if strings.Contains(name, "undated") {
		p.WallTime, p.DateSource = "", ""
	}
	if strings.Contains(name, "blurred") {
		p.Usable, p.Sharpness, p.Remarks = false, 4, []string{"blurred"}
	}
	return p
}

// Preview implements place.Photos: a tube with a scratch whose place comes from
// the sum.
func (Pictures) Preview(_ context.Context, sum string, px int) (image.Image, error) {
	w, h := px, px*3/4
	if w <= 0 {
		return nil, inspect.Refuse(inspect.Invalid, "a preview of %d pixels can't be made", px)
	}
	seed := 0
	for _, c := range sum {
		seed = seed*31 + int(c)
		seed &= 0xffff
	}
	img := image.NewRGBA(image.Rect(0, 0, w, h))
	for y := range h {
		for x := range w {
			g := uint8(70 + 60*x/w)
			c := color.RGBA{g, g + 6, g + 10, 255}
			if d := x - w/2; d > -w/6 && d < w/6 {
				s := uint8(220 - 90*max(d, -d)/(w/6))
				c = color.RGBA{s, s - 30, s - 90, 255}
			}
			if line := w/2 - w/8 + seed%(w/4+1) + y/12; x >= line && x < line+max(1, w/120) && y > h/5 && y < h*4/5 {
				c = color.RGBA{40, 30, 20, 255}
			}
			img.SetRGBA(x, y, c)
		}
	}
	return img, nil
}
