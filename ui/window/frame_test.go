package window_test

import (
	"context"
	"testing"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/storage"
	"fyne.io/fyne/v2/test"
	"fyne.io/fyne/v2/widget"

	"forkwear/inspect/shop"
	"forkwear/ui/place"
	"forkwear/ui/run"
	"forkwear/ui/theme"
	"forkwear/ui/window"
)

// spy is a screen that notes what happens to it.
type spy struct {
	where                   place.Where
	opened, closed          int
	runes                   []rune
	dropped                 []string
	searched                string
	wentFirst, escapePassed bool
}

func (s *spy) Content() fyne.CanvasObject              { return widget.NewLabel(string(s.where.Name)) }
func (s *spy) Opened()                                 { s.opened++ }
func (s *spy) Closed()                                 { s.closed++ }
func (s *spy) TypedRune(r rune)                        { s.runes = append(s.runes, r) }
func (s *spy) TypedKey(*fyne.KeyEvent)                 { s.escapePassed = true }
func (s *spy) Dropped(paths []string, _ fyne.Position) { s.dropped = paths }
func (s *spy) Search(text string)                      { s.searched = text }
func (s *spy) OpenFirst()                              { s.wentFirst = true }

func frame(t *testing.T) (*window.Frame, fyne.Window, map[place.Name][]*spy) {
	t.Helper()
	test.NewTempApp(t).Settings().SetTheme(theme.New())
	w := test.NewTempWindow(t, widget.NewLabel(""))
	made := map[place.Name][]*spy{}
	open := func(_ *place.Env, where place.Where) place.Screen {
		s := &spy{where: where}
		made[where.Name] = append(made[where.Name], s)
		return s
	}
	openers := map[place.Name]window.Opener{place.Bench: open, place.Forks: open, place.Inspect: open, place.DropOff: open}
	env := &place.Env{Desk: &shop.Desk{Clock: time.Now}, Run: run.New(context.Background())}
	t.Cleanup(env.Run.Close)
	return window.New(w, env, openers), w, made
}

func TestFrame_GoAndBack(t *testing.T) {
	f, _, made := frame(t)
	f.Go(place.Where{Name: place.Bench})
	f.Go(place.Where{Name: place.Inspect, Visit: "v1"})
	if made[place.Bench][0].closed != 1 || made[place.Inspect][0].opened != 1 {
		t.Errorf("leaving the bench closes it and opens the next place: %+v, %+v", made[place.Bench][0], made[place.Inspect][0])
	}
	f.Back()
	if f.Where().Name != place.Bench {
		t.Errorf("back leads to %q, want the bench", f.Where().Name)
	}
	f.Go(place.Where{Name: "nowhere"})
	if f.Where().Name != place.Bench {
		t.Error("an unknown place left the present one")
	}
}

func TestFrame_SearchWhileTyping(t *testing.T) {
	f, w, made := frame(t)
	f.Go(place.Where{Name: place.Bench})
	for _, item := range w.MainMenu().Items[0].Items {
		if item.Label == "Find" {
			item.Action()
		}
	}
	entry := w.Canvas().Focused()
	if entry == nil {
		t.Fatal("Find does not put the focus into the search")
	}
	test.Type(entry, "F01")
	if w.Canvas().Focused() != entry {
		t.Error("the search loses the keys to the list that it opened")
	}
	if n := len(made[place.Forks]); n != 1 || made[place.Forks][0].searched != "F01" {
		t.Fatalf("typing opened %d lists of forks, last search %+v", n, made[place.Forks])
	}
	entry.TypedKey(&fyne.KeyEvent{Name: fyne.KeyReturn})
	if !made[place.Forks][0].wentFirst {
		t.Error("Enter does not open the first fork found")
	}
}

func TestFrame_DroppedFilesReachThePlace(t *testing.T) {
	f, _, made := frame(t)
	f.Go(place.Where{Name: place.Inspect})
	f.Dropped(fyne.NewPos(10, 10), []fyne.URI{storage.NewFileURI("/photos/a.jpg"), storage.NewFileURI("/photos/b.jpg")})
	got := made[place.Inspect][0].dropped
	if len(got) != 2 || got[0] != "/photos/a.jpg" {
		t.Errorf("dropped %v", got)
	}
}

func TestFrame_KeysReachThePlace(t *testing.T) {
	f, w, made := frame(t)
	f.Go(place.Where{Name: place.Inspect})
	w.Canvas().OnTypedRune()('3')
	w.Canvas().OnTypedKey()(&fyne.KeyEvent{Name: fyne.KeyReturn})
	s := made[place.Inspect][0]
	if string(s.runes) != "3" || !s.escapePassed {
		t.Errorf("keys %q, key event %v", string(s.runes), s.escapePassed)
	}
}
