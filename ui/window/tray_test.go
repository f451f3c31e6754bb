package window_test

import (
	"context"
	"testing"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/storage"

	"forkwear/ui/arrivals"
	"forkwear/ui/place"
	"forkwear/ui/screens/screentest"
	"forkwear/ui/widgets"
	"forkwear/ui/window"
)

// trayButton is what the button in the bar says; nil where there is none.
func trayButton(env *place.Env) *widgets.TextButton {
	var out *widgets.TextButton
	seen(env.Window.Content(), func(o fyne.CanvasObject) {
		if b, ok := o.(*widgets.TextButton); ok && len(b.Says()) >= 4 && b.Says()[:4] == "Tray" {
			out = b
		}
	})
	return out
}

func TestTrayCountsAndOpens(t *testing.T) {
	env := screentest.Env(t)
	env.Desk.Zone = time.UTC
	inbox := arrivals.New(env, arrivals.Source{})
	env.Arrivals = inbox
	made := map[place.Name]int{}
	open := func(_ *place.Env, w place.Where) place.Screen {
		made[w.Name]++
		return &bare{spy{where: w}}
	}
	f := window.New(env.Window, env, map[place.Name]window.Opener{place.Bench: open, place.Tray: open})
	env.Window.Resize(fyne.NewSize(1280, 800))
	inbox.Start()
	f.Go(place.Where{Name: place.Bench})
	env.Run.Wait()
	b := trayButton(env)
	if b == nil || b.Says() != "Tray" {
		t.Fatalf("an empty tray says %v", b)
	}
	// Files dropped where no fork stands go into the tray.
	f.Dropped(fyne.NewPos(1, 1), []fyne.URI{storage.NewFileURI("/in/a-undated.jpg"), storage.NewFileURI("/in/b-undated.jpg")})
	env.Run.Wait()
	if b.Says() != "Tray (2)" {
		t.Errorf("the button says %q", b.Says())
	}
	ps, err := env.Desk.Unsorted(context.Background())
	if err != nil || len(ps) != 2 {
		t.Errorf("%d photos wait, %v", len(ps), err)
	}
	b.Tapped(nil)
	if f.Where().Name != place.Tray || made[place.Tray] != 1 {
		t.Errorf("at %q", f.Where().Name)
	}
}

// bare is a screen that takes no files.
type bare struct{ s spy }

func (b *bare) Content() fyne.CanvasObject { return b.s.Content() }
func (b *bare) Opened()                    {}
func (b *bare) Closed()                    {}

func TestWithoutArrivalsNoTray(t *testing.T) {
	_, env, _ := shopWindow(t)
	if trayButton(env) != nil {
		t.Error("a tray is shown although nothing arrives")
	}
}
