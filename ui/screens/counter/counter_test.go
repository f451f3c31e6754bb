package counter

import (
	"image"
	"image/color"
	"math"
	"testing"

	"fyne.io/fyne/v2"

	"forkwear/inspect"
	"forkwear/ui/place"
	"forkwear/ui/screens/screentest"
)

func opened(t *testing.T) (*place.Env, inspect.ID, *Screen) {
	t.Helper()
	env := screentest.Env(t)
	id := screentest.Decided(t, env)
	s := New(env, place.Where{Visit: id}).(*Screen)
	env.Window.SetContent(s.Content())
	s.Opened()
	env.Run.Wait()
	if len(s.data.cards) < 2 {
		t.Fatalf("%d cards, want some: %v", len(s.data.cards), screentest.Told(env).Failures)
	}
	return env, id, s
}

func TestAnswerIsKeptAndGoesOn(t *testing.T) {
	env, id, s := opened(t)
	first := s.data.cards[0]
	if s.wipe == nil || s.wipe.then == nil || s.wipe.now == nil {
		t.Fatal("the sample's wiper has a photo of then and of now: both should show")
	}
	s.Answer(false)
	env.Run.Wait()
	c := screentest.Open(t, env, id)
	if len(c.Consents) != 1 || c.Consents[0].Accepted || c.Consents[0].AssessmentID != first.Assessment.ID ||
		c.Consents[0].By != "First Customer" || c.Consents[0].How != "here" {
		t.Fatalf("consents %+v", c.Consents)
	}
	if s.at != 1 {
		t.Fatalf("at card %d, want the next", s.at)
	}
}

func TestNothingThatGoesBackInIsAsked(t *testing.T) {
	_, _, s := opened(t)
	for _, l := range s.data.cards {
		if l.Assessment.InForce() == inspect.Reuse || l.Assessment.NotOpened {
			t.Errorf("%s is asked", l.Part.ID)
		}
	}
}

func TestKeysGoOnAndStopAtTheEnds(t *testing.T) {
	_, _, s := opened(t)
	key := func(n fyne.KeyName) { s.TypedKey(&fyne.KeyEvent{Name: n}) }
	key(fyne.KeyLeft)
	if s.at != 0 {
		t.Fatalf("at %d before the first", s.at)
	}
	key(fyne.KeyRight)
	if s.at != 1 {
		t.Fatalf("at %d, want 1", s.at)
	}
	s.Show(1000)
	key(fyne.KeyRight)
	if s.at != len(s.data.cards)-1 {
		t.Fatalf("at %d past the last", s.at)
	}
}

func TestWipeShowsThenLeftOfTheBorder(t *testing.T) {
	fill := func(c color.RGBA) image.Image {
		img := image.NewRGBA(image.Rect(0, 0, 40, 20))
		for i := range img.Pix {
			img.Pix[i] = []uint8{c.R, c.G, c.B, c.A}[i%4]
		}
		return img
	}
	red, blue := color.RGBA{200, 0, 0, 255}, color.RGBA{0, 0, 200, 255}
	w := NewWipe()
	w.SetThen(fill(red))
	w.SetNow(fill(blue))
	w.SetAt(0.5)
	img := w.paint(400, 200).(*image.RGBA)
	if got := img.RGBAAt(50, 20); got != red {
		t.Errorf("left of the border %v, want then", got)
	}
	if got := img.RGBAAt(350, 20); got != blue {
		t.Errorf("right of the border %v, want now", got)
	}
	for _, tc := range []struct{ in, want float64 }{{-3, 0}, {7, 1}, {math.Inf(1), 1}} {
		if w.SetAt(tc.in); w.At() != tc.want {
			t.Errorf("border at %v for %v, want %v", w.At(), tc.in, tc.want)
		}
	}
	if w.SetAt(math.NaN()); w.At() != 1 {
		t.Errorf("NaN moved the border to %v", w.At())
	}
	w.paint(0, 0)
}
