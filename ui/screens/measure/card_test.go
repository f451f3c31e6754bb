package measure

import (
	"context"
	"image"
	"image/color"
	"image/draw"
	"math"
	"strings"
	"testing"

	"forkwear/inspect"
	"forkwear/media/scale"
	"forkwear/ui/place"
	"forkwear/ui/screens/cardprint"
	"forkwear/ui/screens/phototest"
	"forkwear/ui/screens/screentest"
)

// A printed card at 98 % makes the 12 mm 11.76 (arithmetic), and says so; a bank
// card is not corrected.
func TestPrintedCardIsCorrected(t *testing.T) {
	env := screentest.Env(t)
	if err := env.Desk.Lib.PutPreference(context.Background(), cardprint.Key, "0.98"); err != nil {
		t.Fatal(err)
	}
	s, _ := opened(t, env, true)
	a, b := pose.Ends()
	s.onPoint(a)
	env.Run.Wait()
	s.onPoint(b)
	env.Run.Wait()
	if s.result == nil || math.Abs(s.result.Value-12) > 0.001 || s.printed.Hidden {
		t.Fatalf("a bank card: %+v", s.result)
	}
	s.TypedRune('b')
	env.Run.Wait()
	if math.Abs(s.result.Value-11.76) > 0.001 || !strings.Contains(text(s.method), "98.0 %") {
		t.Fatalf("a printed one: %+v", s.result)
	}
	s.onHandle(0, s.card[0], true)
	env.Run.Wait()
	if !s.cardFrom.printed || math.Abs(s.result.Value-11.76) > 0.001 {
		t.Errorf("dragging a corner made another card of it: %+v", s.result)
	}
}

// What is missed is said; of several candidates F takes the next.
func TestCardsMissedAndSeveral(t *testing.T) {
	env := screentest.Env(t)
	s, _ := opened(t, env, false)
	s.toggleCard()
	for want, r := range map[string]search{"covered or cut off": {seen: true}, "reduced picture": {}, "No card was found. ": {inFull: true}} {
		if got := r.missed(); !strings.Contains(got, want) {
			t.Errorf("%+v: %q", r, got)
		}
	}
	one := s.usualCard()
	two := append([]inspect.Spot(nil), one...)
	for i := range two {
		two[i].X += 300
	}
	s.cards = []found{{corners: one, sigma: 3}, {corners: two, sigma: 7.5}}
	s.takeFound(0)
	env.Run.Wait()
	if !strings.Contains(s.cardSays, "1 of 2") || s.findCard.Text() != "The next one  F" {
		t.Errorf("%q %q", s.cardSays, s.findCard.Text())
	}
	s.TypedRune('f')
	env.Run.Wait()
	if s.card[0] != two[0] || s.cardFrom.sigma != 7.5 || !strings.Contains(s.cardSays, "2 of 2") {
		t.Errorf("%v %q", s.card, s.cardSays)
	}
	s.TypedRune('f')
	env.Run.Wait()
	if s.card[0] != one[0] {
		t.Error("not round")
	}
}

// Back goes where one came from; in a window that knows no place before, to the
// check.
func TestBackGoesWhereOneCameFrom(t *testing.T) {
	env := screentest.Env(t)
	s, _ := opened(t, env, true)
	came := true
	env.Back = func() bool { return came }
	s.Back()
	if g := screentest.Told(env).Gone; len(g) != 0 {
		t.Fatalf("%v", g)
	}
	came = false
	s.Back()
	if g := screentest.Told(env).Gone; len(g) != 1 || g[0].Name != place.Inspect || g[0].Check != "stanchions.scratch" {
		t.Fatalf("%v", g)
	}
}

// onlyInFull shows the card in the full photo only: the reduced one is too
// coarse for it.
type onlyInFull struct {
	phototest.Photos
	empty bool
}

func (onlyInFull) Preview(_ context.Context, _ string, px int) (image.Image, error) {
	return grounded(px), nil
}

func (o onlyInFull) Full(context.Context, string) (*image.RGBA, error) {
	out := grounded(phototest.Width)
	if !o.empty {
		a, b := pose.At(phototest.CardX-6, phototest.CardY-6), pose.At(phototest.CardX+scale.CardWidth+6, phototest.CardY+scale.CardHeight+6)
		part := phototest.DrawPart(pose, phototest.Width, image.Rect(int(a.X)-60, int(a.Y), int(b.X), int(b.Y)).Intersect(out.Rect))
		draw.Draw(out, part.Rect, part, part.Rect.Min, draw.Src)
	}
	return out, nil
}

func grounded(px int) *image.RGBA {
	img := image.NewRGBA(image.Rect(0, 0, px, px*phototest.Height/phototest.Width))
	draw.Draw(img, img.Rect, image.NewUniform(color.RGBA{96, 88, 70, 255}), image.Point{}, draw.Src)
	return img
}

// What the reduced picture does not show is looked for at full size; where that
// shows none either, the words say so. Corners as drawn (phototest), within 7.5
// pixels as in TestCardIsFound.
func TestCardIsLookedForAtFullSize(t *testing.T) {
	for _, empty := range []bool{false, true} {
		env := screentest.Env(t)
		s, _ := opened(t, env, false)
		env.Photos = onlyInFull{empty: empty}
		s.load()
		env.Run.Wait()
		s.toggleCard()
		env.Run.Wait()
		s.lookForCard()
		env.Run.Wait()
		if s.canvas.Pixel() != 1 {
			t.Errorf("empty %v: one pixel shown is %v of the photo", empty, s.canvas.Pixel())
		}
		if empty {
			if !strings.HasPrefix(s.cardSays, "No card was found. ") || s.cards != nil {
				t.Errorf("%q, %v", s.cardSays, s.cards)
			}
			continue
		}
		if len(s.cards) == 0 {
			t.Fatal(s.cardSays)
		}
		for i, want := range pose.Card() {
			if got := s.card[i]; math.Hypot(got.X-want.X, got.Y-want.Y) > 7.5 {
				t.Errorf("corner %d at %.1f, want %.1f: %s", i+1, got, want, s.cardSays)
			}
		}
	}
}
