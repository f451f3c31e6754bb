package compare

import (
	"context"
	"fmt"
	"image/png"
	"math"
	"os"
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/software"

	"forkwear/inspect"
	"forkwear/media/scale"
	"forkwear/ui/checkdraw"
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

// TestPictures writes the screen to look at into the folder that
// FORKWEAR_SHEET names.
func TestPictures(t *testing.T) {
	dir := os.Getenv("FORKWEAR_SHEET")
	if dir == "" {
		t.Skip("set FORKWEAR_SHEET to a folder to get the pictures")
	}
	for _, dark := range []bool{false, true} {
		env := screentest.EnvIn(t, dark)
		s := opened(t, env, true)
		id := s.data.strip[2].Photo.ID
		if _, err := env.Desk.Mark(context.Background(), inspect.Mark{PhotoID: id, Kind: inspect.MarkCircle, Points: []inspect.Spot{poses[2].At(0, 0), poses[2].At(9, 0)}, Text: "grown"}); err != nil {
			t.Fatal(err)
		}
		s.load()
		shot := func(name string, w, h float32) { picture(t, env, fmt.Sprintf("%s-dark=%v", name, dark), w, h) }
		shot("side", 1190, 700)
		s.SetAligned(true)
		shot("aligned", 1190, 700)
		s.SetMode(Slider)
		s.looked(widgets.Look{Zoom: 3, X: 0.4, Y: 0.5})
		shot("slider", 1190, 700)
		s.looked(widgets.Whole)
		s.SetAligned(false)
		s.startPoints()
		for _, q := range [][2]float64{{-40, -30}, {40, -20}} {
			s.left.OnPoint(poses[1].At(q[0], q[1]))
			s.right.OnPoint(poses[2].At(q[0], q[1]))
		}
		shot("points", 1190, 700)
		s.endPoints()
		s.SetMode(Blink)
		shotAt := func(w, h float32) { env.Window.Resize(fyne.NewSize(w, h)) }
		shotAt(1190, 700)
		s.SetMode(SideBySide)
		shot("narrow", 552, 400)
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

// picture writes what is shown into the folder that FORKWEAR_SHEET names.
func picture(t *testing.T, env *place.Env, name string, w, h float32) {
	t.Helper()
	dir := os.Getenv("FORKWEAR_SHEET")
	if dir == "" {
		return
	}
	env.Run.Wait()
	software.RenderCanvas(env.Window.Canvas(), fyne.CurrentApp().Settings().Theme()) // texts get their sizes
	env.Window.Resize(fyne.NewSize(w, h-1))
	env.Window.Resize(fyne.NewSize(w, h))
	f, err := os.Create(fmt.Sprintf("%s/compare-%s.png", dir, name))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	if err := png.Encode(f, software.RenderCanvas(env.Window.Canvas(), fyne.CurrentApp().Settings().Theme())); err != nil {
		t.Fatal(err)
	}
}
