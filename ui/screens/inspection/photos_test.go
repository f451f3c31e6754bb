package inspection

import (
	"strings"
	"testing"

	"fyne.io/fyne/v2"

	"forkwear/ui/screens/screentest"
)

func TestPhotoAttachedAndTakenBack(t *testing.T) {
	env := screentest.Env(t)
	s := open(t, env, screentest.Visit(t, env))
	newest := s.kase.Tray()[0]
	at := s.at
	press(env, s, "+")
	settle(env)
	if len(s.kase.Tray()) != 1 {
		t.Fatalf("the tray holds %d, want 1", len(s.kase.Tray()))
	}
	here := s.photosHere()
	if len(here) != 1 || here[0].ID != newest.ID || here[0].Check != at.check || here[0].Leg != at.leg {
		t.Errorf("photos of the check: %v, want %s", here, newest.FileName)
	}
	do(env, s, func() { screentest.Told(env).Undo() })
	settle(env)
	if len(s.kase.Tray()) != 2 {
		t.Errorf("the tray holds %d after undo, want 2", len(s.kase.Tray()))
	}
}

func TestImportTellsWhatCameOfEachFile(t *testing.T) {
	env := screentest.Env(t)
	s := open(t, env, screentest.Visit(t, env))
	before := len(s.kase.Tray())
	do(env, s, func() {
		s.Dropped([]string{"/in/IMG_1.JPG", "/in/IMG_2-undated.JPG", "/in/IMG_3-blurred.JPG", "/in/IMG_4-broken.JPG", "/in/IMG_0311.JPG"}, fyne.Position{})
	})
	settle(env)
	if n := len(s.kase.Tray()) - before; n != 3 {
		t.Errorf("%d photos came in, want 3", n)
	}
	for _, want := range []string{"3 photos added", "IMG_2-undated.JPG: no camera date", "IMG_3-blurred.JPG: blurred, take it again", "IMG_4-broken.JPG can't be read", "IMG_0311.JPG: the same photo was here already"} {
		if !strings.Contains(s.photos.report.Text, want) {
			t.Errorf("the report lacks %q:\n%s", want, s.photos.report.Text)
		}
	}
}

func TestDraggedOntoTheCardAttaches(t *testing.T) {
	env := screentest.Env(t)
	s := open(t, env, screentest.Visit(t, env))
	g := newGrip(s, s.photos.cells[1].photo) // the older of two
	older := s.kase.Tray()[1].ID
	drag := func(x, y float32) {
		do(env, s, func() {
			g.Dragged(&fyne.DragEvent{PointEvent: fyne.PointEvent{AbsolutePosition: fyne.NewPos(x, y)}})
			g.DragEnd()
		})
	}
	drag(1180, 690)
	if len(s.kase.Tray()) != 2 {
		t.Fatal("let go over the tray, a photo left it")
	}
	drag(560, 300)
	if here := s.photosHere(); len(here) != 1 || here[0].ID != older {
		t.Errorf("let go over the card: %d photos there, want the one that was dragged", len(here))
	}
}
