package scale

import (
	"math"
	"math/rand/v2"
	"testing"
)

// bench is a pinhole camera over a tube that lies along x, its axis through
// the origin, its top at z = -radius (z points away from the camera). The
// pictures are made by another way than the package measures: places on the
// surface are projected, and the outline follows from the plane figure of
// circle and tangent.
type bench struct {
	camera           Camera
	radius           float64
	eye              vec
	right, down, out vec
}

// newBench looks at the tube's top from a distance, tilted along the tube, to
// the side of it, and rolled (radians).
func newBench(distance, tilt, side, roll, radius float64) bench {
	b := bench{camera: Camera{3300, Point{2016, 1512}}, radius: radius}
	target := vec{0, 0, -radius}
	look := vec{math.Sin(tilt), math.Cos(tilt) * math.Sin(side), math.Cos(tilt) * math.Cos(side)}
	b.eye = target.minus(look.times(distance))
	b.out = look
	right := vec{1, 0, 0}.minus(look.times(look[0])).unit()
	down := look.cross(right)
	b.right = right.times(math.Cos(roll)).plus(down.times(math.Sin(roll)))
	b.down = look.cross(b.right)
	return b
}

func (b bench) project(p vec) Point {
	d := p.minus(b.eye)
	z := d.dot(b.out)
	return Point{b.camera.Centre.X + b.camera.Focal*d.dot(b.right)/z, b.camera.Centre.Y + b.camera.Focal*d.dot(b.down)/z}
}

// onTube projects a place on the skin: mm along, angle around from the top.
func (b bench) onTube(along, angle float64) Point {
	return b.project(vec{along, b.radius * math.Sin(angle), -b.radius * math.Cos(angle)})
}

// edges are the outlines: seen along the tube the eye is at distance q and
// angle a from the axis, tangents touch at a +- acos(radius/q).
func (b bench) edges() [4]Point {
	a, half := math.Atan2(b.eye[1], -b.eye[2]), math.Acos(b.radius/math.Hypot(b.eye[1], b.eye[2]))
	return [4]Point{b.onTube(-40, a-half), b.onTube(40, a-half), b.onTube(-40, a+half), b.onTube(40, a+half)}
}

// card lies in the plane that touches the tube's top, beside the tube.
func (b bench) card() []Point {
	at := func(x, y float64) Point { return b.project(vec{x - CardWidth/2, y + b.radius + 5, -b.radius}) }
	return []Point{at(0, 0), at(CardWidth, 0), at(CardWidth, CardHeight), at(0, CardHeight)}
}

const degree = math.Pi / 180

// TestExactPictures: with marks without error every way gives the truth.
func TestExactPictures(t *testing.T) {
	for _, c := range []struct{ distance, tilt, side, roll, angle float64 }{
		{250, 0, 0, 0, 0}, {300, 35, 0, 10, 30}, {300, -20, 25, -40, -20}, {400, 10, -30, 90, 10}, {280, 0, 0, 180, 30},
	} {
		b := newBench(c.distance, c.tilt*degree, c.side*degree, c.roll*degree, 18)
		u := DefaultUncertainty()
		s := Scene{Camera: b.camera, Tube: &Tube{36, b.edges()}}
		a := c.angle * degree
		around, err1 := s.Length([]Point{b.onTube(3, a-10/36.0), b.onTube(3, a+10/36.0)}, u) // 10 mm of arc
		patch, err2 := s.Area([]Point{b.onTube(0, a), b.onTube(6, a), b.onTube(6, a+4/18.0), b.onTube(0, a+4/18.0)}, u)
		if err1 != nil || err2 != nil || !near(around.Value, 10, 1e-6) || !near(patch.Value, 24, 1e-6) {
			t.Errorf("%+v: around %v (%v), area %v (%v)", c, around.Value, err1, patch.Value, err2)
		}
		corners := b.card()
		if math.Abs(c.roll) > 60 { // then another corner is top left; the order stays clockwise
			n := int(math.Round(c.roll/90)+4) % 4
			corners = append(append([]Point{}, corners[4-n:]...), corners[:4-n]...)
		}
		flat, err := Scene{Camera: b.camera, Card: corners}.Length([]Point{b.onTube(-5, 0), b.onTube(5, 0)}, u)
		if err != nil || !near(flat.Value, 10, 1e-6) {
			t.Errorf("%+v: along the top by the card %v (%v)", c, flat.Value, err)
		}
		p, err := NewPlane(corners)
		if err != nil {
			t.Fatal(err)
		}
		pose, err := p.Pose(b.camera)
		middle := vec{0, CardHeight/2 + 23, -18}
		if err != nil || !near(pose.Distance, middle.minus(b.eye).length(), 1e-6) || pose.Misfit > 1e-9 {
			t.Errorf("%+v: pose %+v (%v)", c, pose, err)
		}
		cyl, err := NewCylinder(b.camera, *s.Tube)
		if err != nil {
			t.Fatal(err)
		}
		if rel := (Scene{}).cardAgainstTube(pose, cyl); rel != "The card agrees with the tube's diameter; by it the tube's top lies 0 mm above the card." {
			t.Errorf("%+v: %s", c, rel)
		}
	}
}

// tally counts scenes: mean relative error and how often the range held the
// truth.
type tally struct{ n, held, bias float64 }

func (y *tally) add(m Measured, truth float64) {
	y.n++
	y.bias += m.Value/truth - 1
	if m.Low <= truth && truth <= m.High {
		y.held++
	}
}

func (y tally) check(t *testing.T, name string) {
	t.Helper()
	bias, held := y.bias/y.n*100, y.held/y.n*100
	t.Logf("%s: %.0f scenes, bias %+.2f %%, truth within the 95 %% range in %.1f %%", name, y.n, bias, held)
	if math.Abs(bias) >= 1 || held < 93 || held > 97 {
		t.Errorf("%s: bias %+.2f %% (under 1 is wanted), coverage %.1f %% (93 to 97)", name, bias, held)
	}
}

// TestTubeCoverage: marks and focal length drawn with the stated errors, any
// pose of the camera; the limits are those of the task: bias < 1 %, 93..97 %.
func TestTubeCoverage(t *testing.T) {
	r := rand.New(rand.NewPCG(41, 42))
	uniform := func(lo, hi float64) float64 { return lo + (hi-lo)*r.Float64() }
	var length, area tally
	for n := range 600 {
		b := newBench(uniform(230, 400), uniform(-35, 35)*degree, uniform(-30, 30)*degree, uniform(-180, 180)*degree, uniform(15, 20))
		u := DefaultUncertainty()
		u.Seed = uint64(n)
		s := Scene{Camera: b.camera, Tube: &Tube{2 * b.radius, b.edges()}}.shaken(r, u)
		facing := math.Atan2(b.eye[1], -b.eye[2]) // the line nearest to the lens
		along, angle := uniform(-15, 15), facing+uniform(-45, 20)*degree
		var end Point
		truth := 0.0
		for truth < 6 {
			along2, angle2 := uniform(-15, 15), facing+uniform(-50, 50)*degree
			end, truth = b.onTube(along2, angle2), math.Hypot(along2-along, b.radius*(angle2-angle))
		}
		m, err := s.Length(shake(r, []Point{b.onTube(along, angle), end}, u.ClickSigma), u)
		if err != nil {
			t.Fatal(err)
		}
		length.add(m, truth)
		w, h := uniform(5, 12), uniform(4, 8)
		patch := []Point{b.onTube(along, angle), b.onTube(along+w, angle), b.onTube(along+w, angle+h/b.radius), b.onTube(along, angle+h/b.radius)}
		if m, err = s.Area(shake(r, patch, u.ClickSigma), u); err != nil {
			t.Fatal(err)
		}
		area.add(m, w*h)
	}
	length.check(t, "length on a tube")
	area.check(t, "area on a tube")
}

// TestCardCoverage: a flat surface beside the card, up to some mm off its plane.
func TestCardCoverage(t *testing.T) {
	r := rand.New(rand.NewPCG(43, 44))
	uniform := func(lo, hi float64) float64 { return lo + (hi-lo)*r.Float64() }
	var length tally
	for n := range 500 {
		b := newBench(uniform(230, 400), uniform(-35, 35)*degree, uniform(-30, 30)*degree, uniform(-30, 30)*degree, 18)
		u := DefaultUncertainty()
		u.Seed = uint64(n)
		s := Scene{Camera: b.camera, Card: b.card()}.shaken(r, u)
		height := r.NormFloat64() * u.HeightSigma
		x, y, size, way := uniform(-20, 20), uniform(-20, 20), uniform(6, 25), uniform(0, 2*math.Pi)
		at := func(d float64) Point {
			return b.project(vec{x + d*math.Cos(way), y + d*math.Sin(way), -b.radius - height})
		}
		m, err := s.Length(shake(r, []Point{at(0), at(size)}, u.ClickSigma), u)
		if err != nil {
			t.Fatal(err)
		}
		length.add(m, size)
	}
	length.check(t, "length beside a card")
}

// TestCardOnTubeIsBiased: why a card alone does not do around a tube: 10 mm of
// arc 30 degrees to the side, straight from above, come out about 17 % short
// (pinhole simulation by hand: cos 30 degrees and the greater distance).
func TestCardOnTubeIsBiased(t *testing.T) {
	b := newBench(250, 0, 0, 0, 18)
	s := Scene{Card: b.card(), Tube: &Tube{36, b.edges()}}
	a := 30 * degree
	m, err := s.Length([]Point{b.onTube(0, a-10/36.0), b.onTube(0, a+10/36.0)}, DefaultUncertainty())
	if err != nil || m.Method != ByCardAlong || !near(m.Value/10-1, -0.17, 0.03) {
		t.Errorf("%+v %v", m, err)
	}
}
