package compare

import (
	"context"
	"fmt"
	"strings"
	"testing"

	"fyne.io/fyne/v2"

	"forkwear/inspect"
	"forkwear/ui/place"
	"forkwear/ui/screens/phototest"
	"forkwear/ui/screens/screentest"
	"forkwear/ui/widgets"
)

// The same tube three times: a year ago, half a year ago, and today from a bit
// farther, turned by 6 degrees, with a longer scratch and the lamp elsewhere.
var poses = []phototest.Pose{
	{PerMM: 19, Turn: 0.02, DX: -430, DY: 40, Length: 8, Lamp: 0.4},
	{PerMM: 19.5, Turn: 0.03, DX: -450, DY: 10, Length: 10, Lamp: -0.5},
	{PerMM: 18, Turn: 0.125, DX: -330, DY: 90, Length: 14, Lamp: 0.8},
}

const check = "stanchions.scratch"

// olderPhotos adds photos to visits that are locked already.
type olderPhotos struct {
	inspect.Library
	photos []inspect.Photo
}

func (o *olderPhotos) Photos(ctx context.Context, f inspect.PhotoFilter) ([]inspect.Photo, error) {
	ps, err := o.Library.Photos(ctx, f)
	if f.ForkID != "" {
		ps = append(append([]inspect.Photo{}, o.photos...), ps...)
	}
	return ps, err
}

// opened takes a fork in three times, with a photo of the scratch each.
func opened(t *testing.T, env *place.Env, today bool) *Screen {
	t.Helper()
	id := screentest.Fresh(t, env, "full")
	c := screentest.Open(t, env, id)
	vault, old := phototest.Photos{}, &olderPhotos{Library: env.Desk.Lib}
	env.Desk.Lib = old
	add := func(i int, visit inspect.ID) {
		p := screentest.Photo(fmt.Sprintf("IMG_04%02d.JPG", i))
		p.ID, p.VisitID = inspect.ID(fmt.Sprintf("photo%d", i)), visit
		if visit == "" {
			p.ID = ""
		}
		p.Width, p.Height, p.Check, p.Leg, p.Stage = phototest.Width, phototest.Height, check, inspect.Left, inspect.Received
		p.WallTime = screentest.Now.AddDate(0, 6*(i-2), 0).Format("2006-01-02T15:04:05")
		vault[p.SHA256] = poses[i]
		if visit != "" {
			old.photos = append(old.photos, p)
			return
		}
		if _, _, err := env.Desk.KeepPhoto(context.Background(), c, p); err != nil {
			t.Fatal(err)
		}
	}
	add(0, c.Earlier[1].Row.Visit.ID)
	add(1, c.Earlier[0].Row.Visit.ID)
	if today {
		add(2, "")
	}
	env.Photos = vault
	s := New(env, place.Where{Name: place.Compare, Visit: id, Check: check, Leg: inspect.Left}).(*Screen)
	s.wait = func(ctx context.Context) error { <-ctx.Done(); return ctx.Err() } // blinks by hand only
	env.Window.SetPadded(false)
	env.Window.SetContent(s.Content())
	env.Window.Resize(fyne.NewSize(1190, 700))
	s.Opened()
	env.Run.Wait()
	if f := screentest.Told(env).Failures; len(f) > 0 {
		t.Fatal(f)
	}
	return s
}

func TestBeginsWithThenAndNow(t *testing.T) {
	s := opened(t, screentest.Env(t), true)
	if len(s.data.strip) != 3 || s.then != 1 || s.now != 2 {
		t.Fatalf("%d photos, then %d, now %d", len(s.data.strip), s.then, s.now)
	}
	if s.left.Photo().Image == nil || s.right.Photo().Image == nil || s.left.Photo().Width != phototest.Width {
		t.Fatal("not shown")
	}
	if !strings.Contains(s.thenSays.Text, "12 Nov 2025") || !strings.Contains(s.thenSays.Text, "212") || !strings.Contains(s.nowSays.Text, "318") {
		t.Errorf("%q, %q", s.thenSays.Text, s.nowSays.Text)
	}
}

func TestZoomAndPlaceGoTogether(t *testing.T) {
	s := opened(t, screentest.Env(t), true)
	s.left.TypedRune('+')
	s.left.TypedKey(&fyne.KeyEvent{Name: fyne.KeyRight})
	if s.right.Look() != s.left.Look() || s.both.Look() != s.left.Look() || s.left.Look().Zoom <= 1 {
		t.Fatalf("%v %v %v", s.left.Look(), s.right.Look(), s.both.Look())
	}
	s.looked(widgets.Look{Zoom: 6, X: 0.4, Y: 0.45})
	look := s.left.Look()
	s.SetMode(Slider)
	s.Pick(0, false)
	s.env.Run.Wait()
	if s.both.Look() != look {
		t.Errorf("another photo moved what is looked at: %v, was %v", s.both.Look(), look)
	}
}

func TestStripPicksThenAndNow(t *testing.T) {
	s := opened(t, screentest.Env(t), true)
	s.TypedKey(&fyne.KeyEvent{Name: fyne.KeyLeft})
	s.env.Run.Wait()
	if s.then != 0 || s.now != 2 {
		t.Fatalf("then %d, now %d after left", s.then, s.now)
	}
	s.TypedKey(&fyne.KeyEvent{Name: fyne.KeyLeft})
	s.env.Run.Wait()
	if s.then != 0 {
		t.Fatal("left of the first")
	}
	s.pressed(0) // pressed again: it becomes now, and what was now becomes then
	s.env.Run.Wait()
	if s.then != 2 || s.now != 0 {
		t.Fatalf("then %d, now %d", s.then, s.now)
	}
	s.Pick(1, true)
	s.env.Run.Wait()
	if s.then != 2 || s.now != 1 {
		t.Fatalf("then %d, now %d", s.then, s.now)
	}
	s.env.Run.Wait()
	s.Pick(99, true)
	s.env.Run.Wait()
	s.Pick(-1, false)
	s.env.Run.Wait()
}

// Blinking turns by itself once its wait is over, and stops with the screen.
func TestBlinkTurnsAfterItsWait(t *testing.T) {
	s := opened(t, screentest.Env(t), true)
	tick, waiting := make(chan struct{}), make(chan widgets.Shown, 9)
	s.wait = func(ctx context.Context) error {
		waiting <- s.both.Showing()
		select {
		case <-ctx.Done():
			return ctx.Err()
		case <-tick:
			return nil
		}
	}
	s.SetMode(Blink)
	if !s.blinking {
		t.Skip("the system asks for no motion")
	}
	var seen []widgets.Shown
	for range 3 {
		seen = append(seen, <-waiting)
		tick <- struct{}{}
	}
	<-waiting
	s.Closed()
	s.env.Run.Wait()
	if seen[0] != widgets.ShowFirst || seen[1] != widgets.ShowSecond || seen[2] != widgets.ShowFirst || s.blinking {
		t.Fatalf("seen %v, still blinking %v", seen, s.blinking)
	}
}
