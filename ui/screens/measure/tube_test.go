package measure

import (
	"context"
	"image"
	"image/draw"
	"math"
	"strings"
	"testing"

	"forkwear/inspect"
	"forkwear/media/scale"
	"forkwear/ui/place"
	"forkwear/ui/screens/phototest"
	"forkwear/ui/screens/screentest"
)

// A mask that a person has painted on is known less well than one that the
// program alone drew, until the stroke is taken back.
func TestPaintedMaskHasAWiderRange(t *testing.T) {
	env := screentest.Env(t)
	s, _ := opened(t, env, true)
	s.setKind(DamageArea)
	env.Run.Wait()
	s.onDrawn(pose.At(-2, -9), pose.At(2, 9))
	env.Run.Wait()
	if s.result == nil {
		t.Fatal(s.refused)
	}
	fine := *s.result
	s.onBrush(pose.At(0, 0), false) // inside of it: the area stays about the same
	s.radius = 8
	s.onBrush(pose.At(0, 0.1), true)
	env.Run.Wait()
	rough := *s.result
	if rough.High-rough.Low < 1.3*(fine.High-fine.Low) || !strings.Contains(text(s.method), "corrected by hand") {
		t.Errorf("by the program %.2f to %.2f, painted %.2f to %.2f", fine.Low, fine.High, rough.Low, rough.High)
	}
	s.dropLast()
	env.Run.Wait()
	if s.result.High != fine.High || s.damage.strokes != 0 {
		t.Errorf("taken back: %+v, %d strokes", s.result, s.damage.strokes)
	}
}

// fineScene gives the tube before a pinhole camera, reduced and in full size.
type fineScene struct {
	phototest.Tube
	fetched *int
}

func (fineScene) Import(context.Context, []string, func(done, total int, name string)) []place.Imported {
	return nil
}

func (f fineScene) Preview(_ context.Context, _ string, px int) (image.Image, error) {
	return f.DrawPart(px, image.Rect(0, 0, px, px*phototest.Height/phototest.Width)), nil
}

// Full draws what is needed only: the rest stays black.
func (f fineScene) Full(context.Context, string) (*image.RGBA, error) {
	*f.fetched++
	out := image.NewRGBA(image.Rect(0, 0, phototest.Width, phototest.Height))
	part := f.DrawPart(phototest.Width, f.Box(phototest.Width, 90))
	draw.Draw(out, part.Rect, part, part.Rect.Min, draw.Src)
	return out, nil
}

// Through the screen: the tube's edges and diameter, a box drawn around the
// scratch, which is looked for at full size. A scratch of 10 mm runs slantwise
// over a tube seen from the side; limit 3 %, the range that is stated.
func TestDamageOnATubeThroughTheScreen(t *testing.T) {
	b := phototest.Tube{Distance: 180, Tilt: 0.2, Side: 0.3, Roll: 0.3, Focal: scale.CameraOf(phototest.Width, phototest.Height, 26).Focal,
		Along: 2, Around: 4, Way: 0.9, Length: 10, Wide: 0.5, Blur: 0.9, Light: 55, Noise: 4, Seed: 3}.Before()
	env := screentest.Env(t)
	s, _ := opened(t, env, false)
	fetched := 0
	env.Photos = fineScene{b, &fetched}
	s.load()
	env.Run.Wait()
	s.toggleTube()
	env.Run.Wait()
	s.diameter.Text = "32"
	s.typedScale("32")
	for i, e := range b.Edges() {
		s.onHandle(i, e, true)
	}
	env.Run.Wait()
	s.setKind(DamageLength)
	env.Run.Wait()
	box := b.Box(phototest.Width, 40)
	s.onDrawn(inspect.Spot{X: float64(box.Min.X), Y: float64(box.Min.Y)}, inspect.Spot{X: float64(box.Max.X), Y: float64(box.Max.Y)})
	env.Run.Wait()
	if fetched != 1 || s.canvas.Pixel() != 1 || s.damage == nil || s.damage.k != 1 {
		t.Fatalf("full size fetched %d times, pixel %v, %q", fetched, s.canvas.Pixel(), s.refused)
	}
	m := s.result
	if m == nil || math.Abs(m.Value-10) > 0.3 || !(m.Low <= 10 && 10 <= m.High) || m.Method != scale.ByTube {
		t.Fatalf("%+v %q", m, s.refused)
	}
	s.setKind(DamageArea)
	env.Run.Wait()
	if m = s.result; m == nil || !(m.Low <= 5 && 5 <= m.High) || math.Abs(m.Value-5) > 0.4 {
		t.Fatalf("area %+v %q, drawn with 5 mm2", m, s.refused)
	}
	t.Logf("10 mm: proposed on a tube; area 5 mm2 measured %.2f (%.2f to %.2f)", m.Value, m.Low, m.High)
}

// A scale that nobody has placed measures nothing: the lines stand anywhere
// when they are drawn, and a size from there would be made up.
func TestNoSizeFromAnUnplacedScale(t *testing.T) {
	env := screentest.Env(t)
	s, _ := opened(t, env, false)
	s.points = []inspect.Spot{{X: 100, Y: 100}, {X: 100, Y: 200}}
	for name, c := range map[string]struct{ toggle, place func() }{
		"tube": {s.toggleTube, func() {
			for i := range s.tube.Edges {
				s.tube.Edges[i].X += 5
			}
		}},
		"card": {func() { s.data.photo.Card = nil; s.toggleCard() }, func() {
			for i := range s.card {
				s.card[i].X += 5
			}
		}},
		"two points": {func() { s.toggleKnown(); s.known.MM = 10 }, func() { s.known.A.X += 5; s.known.B.X += 5 }},
	} {
		s.card, s.tube, s.known = nil, nil, nil
		c.toggle()
		env.Run.Wait()
		if todo, ok := s.ready(); ok || todo == "" || s.result != nil {
			t.Errorf("%s as drawn: ready %v, %q, result %v", name, ok, todo, s.result)
		}
		c.place()
		if todo, ok := s.ready(); !ok {
			t.Errorf("%s placed: %q", name, todo)
		}
	}
}
