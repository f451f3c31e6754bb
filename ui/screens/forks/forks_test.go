package forks

import (
	"errors"
	"strings"
	"testing"

	"fyne.io/fyne/v2"

	"forkwear/ui/place"
	"forkwear/ui/screens/rows"
	"forkwear/ui/screens/screentest"
)

func open(t *testing.T, env *place.Env) *Screen {
	t.Helper()
	s := New(env, place.Where{Name: place.Forks}).(*Screen)
	env.Window.SetContent(s.Content())
	env.Window.Resize(fyne.NewSize(1190, 700))
	s.Opened()
	env.Run.Wait()
	return s
}

func lineText(s *Screen, i int) string {
	l := rows.NewLine(make([]rows.Column, 5))
	s.fill(i, l)
	return l.Text()
}

func TestSearchFiltersAndOpensTheFirst(t *testing.T) {
	env := screentest.Env(t)
	screentest.Fresh(t, env, "full")
	screentest.First(t, env, "full")
	s := open(t, env)
	if len(s.found) != 2 {
		t.Fatalf("%d forks are shown, 2 are in the library", len(s.found))
	}
	s.Search("a-17")
	env.Run.Wait()
	if len(s.found) != 1 {
		t.Fatalf("%d forks have the tag A-17, one does", len(s.found))
	}
	// the sample fork of screentest: three visits, the last today
	for _, want := range []string{"Sample Trail 120 2023", "serial S-000123", "A-17", "First Customer", "3", "12 May 2026"} {
		if got := lineText(s, 0); !strings.Contains(got, want) {
			t.Errorf("the line %q does not say %q", got, want)
		}
	}
	s.OpenFirst()
	gone := screentest.Told(env).Gone
	if len(gone) != 1 || gone[0].Name != place.ForkLife || gone[0].Fork != s.found[0].Fork.ID {
		t.Errorf("Enter in the search went to %+v", gone)
	}
}

func TestEnterBeforeTheAnswerWaitsForIt(t *testing.T) {
	env := screentest.Env(t)
	screentest.First(t, env, "full")
	s := open(t, env)
	screentest.Lib(env).Hold()
	s.Search("cross")
	s.OpenFirst()
	if n := len(screentest.Told(env).Gone); n != 0 {
		t.Errorf("went %d times before the answer came", n)
	}
	screentest.Lib(env).Release()
	env.Run.Wait()
	if g := screentest.Told(env).Gone; len(g) != 1 || g[0].Name != place.ForkLife {
		t.Errorf("after the answer went to %+v", g)
	}
}

func TestListOpensWithTheKeyboard(t *testing.T) {
	env := screentest.Env(t)
	screentest.First(t, env, "full")
	s := open(t, env)
	env.Window.Canvas().Focus(s.list)
	s.list.TypedKey(&fyne.KeyEvent{Name: fyne.KeyReturn})
	if g := screentest.Told(env).Gone; len(g) != 1 || g[0].Fork == "" {
		t.Errorf("Enter on the list went to %+v", g)
	}
}

func TestEmptyAndNoneFound(t *testing.T) {
	env := screentest.Env(t)
	s := open(t, env)
	if s.state.Box.Objects[0] == s.filled {
		t.Error("an empty library shows a list")
	}
	s.Search("nobody")
	env.Run.Wait()
	s.OpenFirst()
	if n := len(screentest.Told(env).Gone); n != 0 {
		t.Error("Enter with nothing found goes somewhere")
	}
	s.onDropOff()
	if g := screentest.Told(env).Gone; len(g) != 1 || g[0].Name != place.DropOff {
		t.Errorf("the first step goes to %+v", g)
	}
	s.onFound("", nil, errors.New("the disk is full"))
	if f := screentest.Told(env).Failures; len(f) != 1 {
		t.Errorf("a failure was told %d times", len(f))
	}
}
