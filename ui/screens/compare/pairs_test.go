package compare

import (
	"context"
	"fmt"
	"strings"
	"testing"

	"fyne.io/fyne/v2"

	"forkwear/inspect"
	"forkwear/ui/checkdraw"
	"forkwear/ui/place"
	"forkwear/ui/screens/phototest"
	"forkwear/ui/screens/screentest"
)

func TestNoPhotoAndOnePhoto(t *testing.T) {
	env := screentest.Env(t)
	id := screentest.First(t, env, "full")
	s := New(env, place.Where{Visit: id, Check: check, Leg: inspect.Left}).(*Screen)
	env.Window.SetContent(s.Content())
	s.Opened()
	env.Run.Wait()
	s.TypedRune('1')
	s.TypedRune('a')
	s.TypedKey(&fyne.KeyEvent{Name: fyne.KeyLeft})
	c := screentest.Open(t, env, id)
	p := screentest.Photo("alone.jpg")
	p.Check, p.Leg = check, inspect.Left
	if _, _, err := env.Desk.KeepPhoto(context.Background(), c, p); err != nil {
		t.Fatal(err)
	}
	s.load()
	env.Run.Wait()
	if s.then != -1 || s.now != 0 || !strings.Contains(s.told.Text, "The next visit makes a pair") {
		t.Fatalf("then %d, now %d, %q", s.then, s.now, s.thenSays.Text)
	}
	s.SetMode(Slider)
	s.TypedRune('a')
	s.TypedKey(&fyne.KeyEvent{Name: fyne.KeyLeft})
	s.pressed(0)
	env.Run.Wait()
	if f := screentest.Told(env).Failures; len(f) > 0 {
		t.Fatal(f)
	}
}

// On a first visit the drawing of the check stands where then would be, and
// after the work the two photos of that visit are the pair.
func TestFirstVisit(t *testing.T) {
	env := screentest.Env(t)
	id := screentest.First(t, env, "full")
	c := screentest.Open(t, env, id)
	vault := phototest.Photos{}
	env.Photos = vault
	add := func(i int, stage inspect.Stage) {
		p := screentest.Photo(fmt.Sprintf("IMG_05%02d.JPG", i))
		p.Width, p.Height, p.Check, p.Leg, p.Stage = phototest.Width, phototest.Height, check, inspect.Left, stage
		vault[p.SHA256] = poses[i]
		if _, _, err := env.Desk.KeepPhoto(context.Background(), c, p); err != nil {
			t.Fatal(err)
		}
	}
	add(0, inspect.Received)
	s := New(env, place.Where{Visit: id, Check: check, Leg: inspect.Left}).(*Screen)
	env.Window.SetPadded(false)
	env.Window.SetContent(s.Content())
	env.Window.Resize(fyne.NewSize(1190, 700))
	s.Opened()
	env.Run.Wait()
	d, ok := s.drawing().(*checkdraw.Drawing)
	if !ok || d.Name() != "scratch" || !strings.Contains(s.told.Text, "new and at the limit") || !s.work.Hidden {
		t.Fatalf("%v %q", d, s.thenSays.Text)
	}
	if shown := s.stage.Objects[0].(*fyne.Container).Objects; len(shown) != 2 || shown[1] != s.right {
		t.Fatalf("%d beside each other", len(shown))
	}
	picture(t, env, "first", 1190, 700)
	picture(t, env, "first-narrow", 552, 400)
	add(1, inspect.AfterWork)
	s.load()
	env.Run.Wait()
	if s.then != 0 || s.now != 1 || s.work.Hidden || !s.work.Selected() {
		t.Fatalf("then %d, now %d", s.then, s.now)
	}
	if !strings.HasPrefix(s.thenSays.Text, "Before the work: ") || !strings.HasPrefix(s.nowSays.Text, "After the work: ") {
		t.Errorf("%q %q", s.thenSays.Text, s.nowSays.Text)
	}
}

// With earlier visits B goes between then and now, and before and after.
func TestBeforeAndAfterTheWork(t *testing.T) {
	s := opened(t, screentest.Env(t), true)
	if !s.work.Hidden {
		t.Fatal("offered without a photo after the work")
	}
	s.TypedRune('b')
	if s.then != 1 || s.now != 2 {
		t.Fatal("moved")
	}
	c := screentest.Open(t, s.env, s.where.Visit)
	p := screentest.Photo("IMG_0409.JPG")
	p.Width, p.Height, p.Check, p.Leg, p.Stage = phototest.Width, phototest.Height, check, inspect.Left, inspect.AfterWork
	s.env.Photos.(phototest.Photos)[p.SHA256] = poses[0]
	if _, _, err := s.env.Desk.KeepPhoto(context.Background(), c, p); err != nil {
		t.Fatal(err)
	}
	s.load()
	s.env.Run.Wait()
	if len(s.data.strip) != 4 || s.now != 3 || s.then != 1 || s.work.Hidden {
		t.Fatalf("then %d, now %d of %d", s.then, s.now, len(s.data.strip))
	}
	s.TypedRune('b')
	s.env.Run.Wait()
	if s.then != 2 || s.now != 3 || !s.work.Selected() || s.left.Photo().Image == nil {
		t.Fatalf("then %d, now %d", s.then, s.now)
	}
	s.TypedRune('b')
	s.env.Run.Wait()
	if s.then != 1 || s.now != 3 {
		t.Fatalf("back: then %d, now %d", s.then, s.now)
	}
}
