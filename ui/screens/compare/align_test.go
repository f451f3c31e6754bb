package compare

import (
	"math"
	"strings"
	"testing"

	"fyne.io/fyne/v2"

	"forkwear/inspect"
	"forkwear/media/scale"
	"forkwear/ui/place"
	"forkwear/ui/screens/phototest"
	"forkwear/ui/screens/screentest"
	"forkwear/ui/widgets"
)

// The map of now onto then is known from both poses; the drawn photos have a
// grained bench, which a real photo may lack. Limit: 2.1 pixels of a picture 1008
// pixels wide, the worst that ECC after rough marks left in a trial on rendered
// pictures (OpenCV 4.6, findTransformECC).
func TestAlignsByItself(t *testing.T) {
	s := opened(t, screentest.Env(t), true)
	s.TypedRune('a')
	s.env.Run.Wait()
	f, ok := s.fits[s.pair()]
	if !ok || !f.good {
		t.Fatalf("not aligned: %q", f.says)
	}
	if !s.aligned.Selected() || s.right.Photo().Image != f.laid.Image || !strings.Contains(s.told.Text, "Likeness") {
		t.Errorf("not shown aligned: %q", s.told.Text)
	}
	for _, y := range []float64{-7, 7} {
		got, err := f.to.Apply(scale.Point(poses[2].At(0, y)))
		want := poses[1].At(0, y)
		if err != nil || math.Hypot(got.X-want.X, got.Y-want.Y) > 2.1*phototest.Width/1008 {
			t.Errorf("the scratch's end lies at %.1f, want %.1f (%v)", got, want, err)
		}
	}
	s.TypedRune('a')
	if s.right.Photo().Image == f.laid.Image {
		t.Error("still laid upon then after A")
	}
	s.SetMode(Blink)
	s.TypedKey(&fyne.KeyEvent{Name: fyne.KeySpace})
	if s.both.Showing() != widgets.ShowSecond || !s.nowSays.TextStyle.Bold {
		t.Error("Space does not turn")
	}
	s.SetMode(SideBySide)
}

func TestMarksMoveWithTheirPhoto(t *testing.T) {
	a, b := poses[1], poses[2]
	var from, to []scale.Point
	for _, q := range [][2]float64{{-60, -40}, {70, -50}, {60, 45}, {-70, 50}} {
		from, to = append(from, scale.Point(b.At(q[0], q[1]))), append(to, scale.Point(a.At(q[0], q[1])))
	}
	h, err := scale.FitHomography(from, to)
	if err != nil {
		t.Fatal(err)
	}
	s := opened(t, screentest.Env(t), true)
	l := s.data.layers[s.data.strip[2].Photo.ID]
	l.Marks = []inspect.Mark{{Kind: inspect.MarkLine, Points: []inspect.Spot{b.At(0, -7), b.At(0, 7)}}}
	got := moved(l, h).Marks[0].Points
	for i, y := range []float64{-7, 7} {
		if want := a.At(0, y); math.Hypot(got[i].X-want.X, got[i].Y-want.Y) > 1e-6 {
			t.Errorf("point %d at %v, want %v", i, got[i], want)
		}
	}
}

func TestAlignsByPoints(t *testing.T) {
	s := opened(t, screentest.Env(t), true)
	s.startPoints()
	if !s.marking || s.take.Hidden {
		t.Fatal("no marking")
	}
	for _, q := range [][2]float64{{-40, -30}, {40, -20}, {50, 30}} {
		s.left.OnPoint(poses[1].At(q[0], q[1]))
		s.right.OnPoint(poses[2].At(q[0], q[1]))
	}
	s.left.OnPoint(poses[1].At(-50, 40))
	if s.pairs() != 3 {
		t.Fatalf("%d pairs", s.pairs())
	}
	s.dropPoint()
	if len(s.points[0]) != 3 {
		t.Fatal("the lone point stays")
	}
	s.TypedRune('a')
	s.env.Run.Wait()
	f := s.fits[s.pair()]
	if !f.good || s.marking || !strings.HasPrefix(s.told.Text, "Aligned. By 3 points") {
		t.Fatalf("%v %q", s.marking, s.told.Text)
	}
}

// One pixel of then for two of now is no map: refused in words, and the points
// stay to be corrected.
func TestPointsOnOnePlaceAreRefused(t *testing.T) {
	s := opened(t, screentest.Env(t), true)
	s.startPoints()
	for range 2 {
		s.left.OnPoint(poses[1].At(0, 0))
		s.right.OnPoint(poses[2].At(0, 0))
	}
	s.alignByPoints()
	s.env.Run.Wait()
	if !s.marking || !strings.HasPrefix(s.told.Text, "Not aligned: ") {
		t.Fatalf("%v %q", s.marking, s.told.Text)
	}
	s.TypedKey(&fyne.KeyEvent{Name: fyne.KeyEscape})
	if s.marking || len(screentest.Told(s.env).Gone) != 0 {
		t.Error("Escape leaves the marking first")
	}
	s.TypedKey(&fyne.KeyEvent{Name: fyne.KeyEscape})
	if g := screentest.Told(s.env).Gone; len(g) != 1 || g[0].Name != place.Inspect || g[0].Check != check {
		t.Errorf("%v", g)
	}
}
