package window_test

import (
	"context"
	"fmt"
	"slices"
	"testing"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"
	"fyne.io/fyne/v2/widget"

	"forkwear/inspect"
	"forkwear/inspect/shop"
	"forkwear/ui/place"
	"forkwear/ui/run"
	"forkwear/ui/theme"
	"forkwear/ui/window"
)

// bench is a window with two places and what their undos did.
type bench struct {
	env   *place.Env
	frame *window.Frame
	win   fyne.Window
	taken []string
}

func newBench(t *testing.T) *bench {
	t.Helper()
	test.NewTempApp(t).Settings().SetTheme(theme.New())
	b := &bench{win: test.NewTempWindow(t, widget.NewLabel(""))}
	open := func(_ *place.Env, where place.Where) place.Screen { return &spy{where: where} }
	b.env = &place.Env{Desk: &shop.Desk{Clock: time.Now}, Run: run.New(context.Background())}
	t.Cleanup(b.env.Run.Close)
	b.frame = window.New(b.win, b.env, map[place.Name]window.Opener{place.Bench: open, place.Service: open, place.Counter: open})
	b.frame.Go(place.Where{Name: place.Service})
	return b
}

// saved keeps a step whose undo tells at once.
func (b *bench) saved(what string) {
	b.env.Say.Saved(what, func() {
		b.taken = append(b.taken, what)
		b.env.Say.Saved("taken back: "+what, nil)
	})
}

func (b *bench) undo(t *testing.T) {
	t.Helper()
	for _, m := range b.win.MainMenu().Items {
		for _, i := range m.Items {
			if i.Shortcut != nil && i.Shortcut.ShortcutName() == (&fyne.ShortcutUndo{}).ShortcutName() {
				i.Action()
				return
			}
		}
	}
	t.Fatal("no menu item takes a step back")
}

func TestUndo_StepsGoOneAfterTheOther(t *testing.T) {
	b := newBench(t)
	for i := range 3 {
		b.saved(fmt.Sprint(i))
	}
	b.env.Say.Saved("a word", nil) // closes nothing
	for range 4 {
		b.undo(t)
	}
	if !slices.Equal(b.taken, []string{"2", "1", "0"}) {
		t.Errorf("taken back %v, want 2 1 0", b.taken)
	}
	if got := b.frame.Status(); got != "Nothing here is left to take back." {
		t.Errorf("the status line says %q", got)
	}
}

// An undo that offers its own undo, as a setting that is put back does, must not
// be the next thing to take back.
func TestUndo_OfAnUndoIsNoStep(t *testing.T) {
	b := newBench(t)
	b.saved("first")
	var turn func(on bool)
	turn = func(on bool) {
		b.taken = append(b.taken, fmt.Sprint(on))
		b.env.Say.Saved("switch", func() { turn(!on) })
	}
	turn(true)
	b.undo(t)
	b.undo(t)
	if !slices.Equal(b.taken, []string{"true", "false", "first"}) {
		t.Errorf("did %v, want true false first", b.taken)
	}
}

// Keys pressed while an undo is on its way wait for it.
func TestUndo_WaitsForTheOneBefore(t *testing.T) {
	b := newBench(t)
	var ends []func()
	for _, what := range []string{"a", "b", "c"} {
		b.env.Say.Saved(what, func() {
			b.taken = append(b.taken, what)
			ends = append(ends, func() { b.env.Say.Saved("back "+what, nil) })
		})
	}
	b.undo(t)
	b.undo(t)
	b.undo(t)
	if len(b.taken) != 1 {
		t.Fatalf("%v began at once, want one", b.taken)
	}
	ends[0]()
	if len(b.taken) != 2 {
		t.Fatalf("after the first ended %v", b.taken)
	}
	b.env.Say.Failed(inspect.Refuse(inspect.Locked, "the record is locked")) // the second could not be taken back
	if len(b.taken) != 2 {
		t.Fatal("it went on after a failure")
	}
}

func TestUndo_FinalAndLeavingCloseWhatCameBefore(t *testing.T) {
	for name, end := range map[string]func(b *bench){
		"final":   func(b *bench) { b.env.Say.Final("collected") },
		"leaving": func(b *bench) { b.frame.Go(place.Where{Name: place.Bench}) },
	} {
		b := newBench(t)
		b.saved("x")
		end(b)
		b.undo(t)
		if len(b.taken) != 0 {
			t.Errorf("%s: %v was taken back", name, b.taken)
		}
	}
}

// While something is typed the key takes back the typing; the counter has no
// menu and the key all the same.
func TestUndo_TypingAndCounter(t *testing.T) {
	b := newBench(t)
	b.saved("x")
	e := widget.NewEntry()
	b.frame.Screen().(*spy).where.Name = place.Service
	b.win.SetContent(e)
	b.win.Canvas().Focus(e)
	test.Type(e, "abc")
	b.undo(t)
	if len(b.taken) != 0 || e.Text == "abc" {
		t.Errorf("taken back %v, the field has %q: want the typing back", b.taken, e.Text)
	}
	b.frame.Go(place.Where{Name: place.Counter})
	b.saved("answer")
	b.win.Canvas().(interface{ TypedShortcut(fyne.Shortcut) }).TypedShortcut(&fyne.ShortcutUndo{})
	if !slices.Equal(b.taken, []string{"answer"}) {
		t.Errorf("at the counter %v", b.taken)
	}
}
