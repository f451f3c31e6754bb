package draw

import (
	"bytes"
	"image"
	"image/png"
	"testing"

	"forkwear/ui/theme/tokens"
)

func TestEveryZoneIsDrawnFoundAndListedOnce(t *testing.T) {
	for _, v := range []View{Assembled, Stripped} {
		for _, in := range []Inside{Air, Coil, DamperOnly, AirAndDamper, Empty} {
			for _, double := range []bool{false, true} {
				o := DefaultOptions(false)
				o.View, o.LeftInside, o.DoubleCrown = v, in, double
				seen := map[Zone]bool{}
				for _, z := range Zones(o) {
					if seen[z] {
						t.Errorf("%v is listed twice", z)
					}
					seen[z] = true
					if Bounds(600, 800, z, o).Empty() {
						t.Errorf("view %d, inside %d: %v is listed but not drawn", v, in, z)
					}
				}
				for _, o := range newFigure(600, 800, o).ops {
					if o.tint && o.zone.ID != "" && !seen[o.zone] {
						t.Errorf("view %d, inside %d: %v is drawn but cannot be reached", v, in, o.zone)
					}
				}
			}
		}
	}
}

func TestDrawingStaysInsideItsFrame(t *testing.T) {
	for _, v := range []View{Assembled, Stripped} {
		for _, size := range []image.Point{{150, 240}, {300, 400}, {500, 900}, {900, 300}} {
			o := DefaultOptions(false)
			o.View = v
			frame := image.Rectangle{Max: size}
			f := newFigure(size.X, size.Y, o)
			for _, z := range f.zones() {
				if b := Bounds(size.X, size.Y, z, o); !b.In(frame) {
					t.Errorf("%v at %v reaches %v", z, size, b)
				}
				r, q := f.markRadius(), f.places[z]
				if q.X-r < 0 || q.X+r > float64(size.X) || q.Y-r < 0 || q.Y+r > float64(size.Y) {
					t.Errorf("the mark of %v at %v is cut: %v", z, size, q)
				}
			}
		}
	}
}

func TestZoneUnderPoint(t *testing.T) {
	o := DefaultOptions(false)
	f := newFigure(500, 900, o)
	at := func(x, y float64) (float64, float64) { return x*f.scale + f.dx, y*f.scale + f.dy }
	for _, c := range []struct {
		x, y float64 // in the units of the drawing
		want Zone
	}{
		{-spread, 350, Zone{Stanchions, Left}},
		{spread, 350, Zone{Stanchions, Right}},
		{-spread, 520, Zone{Seals, Left}},
		{spread, 570, Zone{Bushings, Right}},
		{-spread, 640, Zone{Lowers, Left}},
		{-spread, 850, Zone{Spring, Left}},
		{spread, 850, Zone{Damper, Right}},
		{0, 190, Zone{ID: Crown}},
		{0, 60, Zone{ID: Crown}},
		{0, 926, Zone{ID: Fasteners}},
		{-spread, 984, Zone{Fasteners, Left}},
		{spread, 150, Zone{Controls, Right}},
	} {
		x, y := at(c.x, c.y)
		if got, ok := f.zoneAt(x, y); !ok || got != c.want {
			t.Errorf("at %v, %v lies %v (%v), want %v", c.x, c.y, got, ok, c.want)
		}
	}
	if z, ok := f.zoneAt(2, 2); ok {
		t.Errorf("the corner of the page belongs to %v", z)
	}
}

// A state changes the picture, inside its zone and at its mark, and no two
// marks look the same.
func TestStatesAreSeen(t *testing.T) {
	o := DefaultOptions(false)
	z := Zone{Stanchions, Left}
	plain := Paint(300, 400, nil, o)
	var all []*image.RGBA
	for _, st := range []State{{Mark: Missing, Done: 4, Of: 9}, {Mark: Reuse}, {Mark: Measure}, {Mark: Replace}, {Mark: DoNotRide}, {Mark: Replace, Count: 2}} {
		img := Paint(300, 400, States{z: st}, o)
		for _, other := range append(all, plain) {
			if bytes.Equal(img.Pix, other.Pix) {
				t.Errorf("%+v looks like another state", st)
			}
		}
		all = append(all, img)
	}
}

func TestTintIsFifteenPerCent(t *testing.T) {
	o := DefaultOptions(false)
	img := Paint(600, 900, States{{Stanchions, Right}: {Mark: Reuse}}, o)
	b := Bounds(600, 900, Zone{Stanchions, Right}, o)
	got := img.RGBAAt(b.Min.X+b.Dx()/3, b.Min.Y+b.Dy()*2/3)
	want := tokens.Over(tokens.Tint(o.Palette.Reuse), o.Palette.Panel)
	if max(absDiff(got.R, want.R), absDiff(got.G, want.G), absDiff(got.B, want.B)) > 2 {
		t.Errorf("the stanchion is filled with %v, want %v", got, want)
	}
}

func absDiff(a, b uint8) int { return max(int(a)-int(b), int(b)-int(a)) }

func TestStateWithoutSideGoesForBoth(t *testing.T) {
	s := States{{ID: Seals}: {Mark: Replace}, {Seals, Right}: {Mark: Reuse}}
	if got := s.of(Zone{Seals, Left}).Mark; got != Replace {
		t.Errorf("left seals have %v", got)
	}
	if got := s.of(Zone{Seals, Right}).Mark; got != Reuse {
		t.Errorf("right seals have %v", got)
	}
}

func TestBrakeMountIsOnTheLeftLeg(t *testing.T) {
	o := DefaultOptions(false)
	l, r := Bounds(600, 900, Zone{Lowers, Left}, o), Bounds(600, 900, Zone{Lowers, Right}, o)
	if l.Max.X >= 300 || r.Min.X <= 300 {
		t.Fatalf("left %v is not left of right %v", l, r)
	}
	if l.Dx() <= r.Dx() {
		t.Error("the left leg is no wider than the right one, the brake mount is missing")
	}
}

func TestRenderPNGAndOddSizes(t *testing.T) {
	var b bytes.Buffer
	if err := RenderPNG(&b, 300, 500, sampleStates(), DefaultOptions(true)); err != nil {
		t.Fatal(err)
	}
	img, err := png.Decode(&b)
	if err != nil || img.Bounds().Dx() != 300 || img.Bounds().Dy() != 500 {
		t.Fatalf("the PNG is %v, %v", img.Bounds(), err)
	}
	for _, s := range [][2]int{{0, 0}, {-5, 10}, {1, 1}, {3, 2000}, {2000, 3}} {
		if got := Image(s[0], s[1], sampleStates(), false); got.Bounds().Empty() {
			t.Errorf("%v gave no picture", s)
		}
		Paint(s[0], s[1], nil, Options{})
	}
}

func BenchmarkPaint(b *testing.B) {
	for b.Loop() {
		Paint(500, 800, sampleStates(), DefaultOptions(false))
	}
}
