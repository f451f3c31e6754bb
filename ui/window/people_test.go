package window_test

import (
	"context"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"

	"forkwear/inspect/shop"
	"forkwear/ui/place"
	"forkwear/ui/screens/screentest"
	"forkwear/ui/widgets"
	"forkwear/ui/window"
)

// guard is a screen that lets go when it is told to.
type guard struct {
	spy
	then func()
}

func (g *guard) Leave(then func()) { g.then = then }

func shopWindow(t *testing.T, names ...string) (*window.Frame, *place.Env, map[place.Name]place.Screen) {
	t.Helper()
	env := screentest.Env(t)
	if err := env.Desk.SetPeople(context.Background(), names); err != nil {
		t.Fatal(err)
	}
	made := map[place.Name]place.Screen{}
	open := func(_ *place.Env, w place.Where) place.Screen {
		made[w.Name] = &spy{where: w}
		return made[w.Name]
	}
	counter := func(_ *place.Env, w place.Where) place.Screen {
		made[w.Name] = &guard{spy: spy{where: w}}
		return made[w.Name]
	}
	f := window.New(env.Window, env, map[place.Name]window.Opener{place.Bench: open, place.Decide: open, place.Counter: counter})
	env.Run.Wait()
	env.Window.Resize(fyne.NewSize(1280, 800))
	f.Go(place.Where{Name: place.Bench})
	return f, env, made
}

// seen calls f for all that is not hidden.
func seen(o fyne.CanvasObject, f func(fyne.CanvasObject)) {
	if o == nil || !o.Visible() {
		return
	}
	f(o)
	switch x := o.(type) {
	case *fyne.Container:
		for _, c := range x.Objects {
			seen(c, f)
		}
	case fyne.Widget:
		for _, c := range test.WidgetRenderer(x).Objects() {
			seen(c, f)
		}
	}
}

func chips(env *place.Env) map[string]*widgets.Chip {
	out := map[string]*widgets.Chip{}
	seen(env.Window.Content(), func(o fyne.CanvasObject) {
		if c, ok := o.(*widgets.Chip); ok {
			out[c.Text()] = c
		}
	})
	return out
}

func TestWhoWorksHere_OnePressAndRemembered(t *testing.T) {
	_, env, _ := shopWindow(t, "Ada Example", "Bo Example")
	cs := chips(env)
	if len(cs) != 2 || cs["Ada"] == nil || cs["Ada"].Selected() || cs["Bo"].Selected() {
		t.Fatalf("chips %v", cs)
	}
	if env.Desk.Who() != "bench" {
		t.Errorf("%q works here although nobody said so", env.Desk.Who())
	}
	cs["Bo"].Tapped(nil)
	if env.Desk.Who() != "Bo Example" || !cs["Bo"].Selected() || cs["Ada"].Selected() {
		t.Errorf("%q works here", env.Desk.Who())
	}
	if got := fyne.CurrentApp().Preferences().String("people.here"); got != "Bo Example" {
		t.Errorf("remembered %q", got)
	}
	// The next start on this computer.
	env.Desk = &shop.Desk{Lib: env.Desk.Lib, Catalog: env.Desk.Catalog, Clock: env.Desk.Clock, NewID: env.Desk.NewID, By: "bench"}
	window.New(env.Window, env, nil)
	env.Run.Wait()
	if env.Desk.Who() != "Bo Example" {
		t.Errorf("after a new start %q works here", env.Desk.Who())
	}
}

func TestWhoWorksHere_ByKey(t *testing.T) {
	_, env, _ := shopWindow(t, "Ada Example", "Bo Example")
	menus := env.Window.MainMenu().Items
	last := menus[len(menus)-1]
	if len(last.Items) != 2 || last.Items[1].Shortcut == nil {
		t.Fatalf("menu %+v", last)
	}
	last.Items[1].Action()
	if env.Desk.Who() != "Bo Example" {
		t.Errorf("%q works here", env.Desk.Who())
	}
}

func TestWhoWorksHere_ManyBehindOnePress(t *testing.T) {
	_, env, _ := shopWindow(t, "Ada A", "Ada B", "Cy", "Di", "Ed")
	cs := chips(env)
	head := cs["Who works here?"]
	if head == nil || cs["Cy"] != nil {
		t.Fatalf("chips %v", cs)
	}
	head.Tapped(nil)
	if cs = chips(env); cs["Ada B"] == nil { // two of one first name: both in full
		t.Fatalf("chips %v", cs)
	}
	cs["Ada B"].Tapped(nil)
	if cs = chips(env); env.Desk.Who() != "Ada B" || cs["Cy"] != nil {
		t.Errorf("%q works here, the strip still open: %v", env.Desk.Who(), cs["Cy"] != nil)
	}
}

func TestWhoWorksHere_TakenOffTheList(t *testing.T) {
	_, env, _ := shopWindow(t, "Ada", "Bo")
	chips(env)["Bo"].Tapped(nil)
	if err := env.Desk.SetPeople(context.Background(), []string{"Ada", "Cy"}); err != nil {
		t.Fatal(err)
	}
	env.PeopleChanged()
	env.Run.Wait()
	if env.Desk.Who() != "bench" || chips(env)["Cy"] == nil {
		t.Errorf("%q works here", env.Desk.Who())
	}
}

func TestCounterFillsTheScreenAndIsGuarded(t *testing.T) {
	f, env, made := shopWindow(t, "Ada", "Bo")
	win := env.Window
	f.Go(place.Where{Name: place.Counter, Visit: "v"})
	if !win.FullScreen() || win.MainMenu() != nil || len(chips(env)) != 0 {
		t.Errorf("full screen %v, menu %v, chips %d", win.FullScreen(), win.MainMenu(), len(chips(env)))
	}
	env.PeopleChanged() // what comes late must not bring the menu back
	env.Run.Wait()
	if win.MainMenu() != nil {
		t.Error("the menu came back")
	}
	g := made[place.Counter].(*guard)
	for name, leave := range map[string]func(){"go": func() { f.Go(place.Where{Name: place.Bench}) }, "back": f.Back, "close": f.TryClose} {
		g.then = nil
		leave()
		if g.then == nil || f.Where().Name != place.Counter || g.closed != 0 {
			t.Errorf("%s: asked %v, at %q", name, g.then != nil, f.Where().Name)
		}
	}
	f.Go(place.Where{Name: place.Decide})
	g.then()
	if win.FullScreen() || win.MainMenu() == nil || f.Where().Name != place.Decide || len(chips(env)) != 2 {
		t.Errorf("after leaving: full screen %v, at %q", win.FullScreen(), f.Where().Name)
	}
	win.SetFullScreen(true) // who works in full screen stays in it
	f.Go(place.Where{Name: place.Counter})
	f.Back()
	made[place.Counter].(*guard).then()
	if !win.FullScreen() {
		t.Error("the window was full screen before and is no longer")
	}
}

func TestStatusLineIsNotShownToTheCustomer(t *testing.T) {
	f, env, _ := shopWindow(t)
	f.Go(place.Where{Name: place.Counter})
	env.Say.Saved("something of another customer", nil)
	seen(env.Window.Content(), func(o fyne.CanvasObject) {
		if _, ok := o.(*widgets.StatusLine); ok {
			t.Error("the status line is shown")
		}
	})
}
