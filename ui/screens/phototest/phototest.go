// Package phototest draws photos of a scratched tube with a bank card beside it
// for the tests of the screens that compare and measure: all sizes in them are
// known, in mm.
//
// Glossary
//
//   - scene: what lies on the bench, in mm; 0, 0 is the middle of the scratch.
//   - pose: how the camera looks straight down on it: pixels a mm, turn, shift.
package phototest

import (
	"bytes"
	"context"
	"image"
	"image/color"
	"math"
	"sync"

	"forkwear/inspect"
	"forkwear/media/scale"
	"forkwear/ui/place"
)

// Size of the photos in full.
const (
	Width  = 4000
	Height = 3000
)

// Scene in mm. The tube runs from top to bottom.
const (
	Radius  = 16.0
	TubeX   = -4.0 // its axis
	CardX   = 30.0 // the card's top left corner
	CardY   = -30.0
	corner  = 3.18 // radius of the card's corners (ISO/IEC 7810, from memory)
	scratch = 0.45 // width
)

// Pose of the camera. Pixels a mm are of the full photo.
type Pose struct {
	PerMM  float64
	Turn   float64 // radians
	DX, DY float64 // where the scene's 0, 0 lies beside the photo's middle
	Length float64 // of the scratch in mm
	Lamp   float64 // -1 to 1: from which side the light comes
}

// At is the place in the full photo of a place in the scene.
func (p Pose) At(x, y float64) inspect.Spot {
	s, c := math.Sincos(p.Turn)
	return inspect.Spot{X: Width/2 + p.DX + p.PerMM*(c*x-s*y), Y: Height/2 + p.DY + p.PerMM*(s*x+c*y)}
}

// Card are the corners of the card in the full photo.
func (p Pose) Card() []inspect.Spot {
	return []inspect.Spot{p.At(CardX, CardY), p.At(CardX+scale.CardWidth, CardY),
		p.At(CardX+scale.CardWidth, CardY+scale.CardHeight), p.At(CardX, CardY+scale.CardHeight)}
}

// Ends are the ends of the scratch in the full photo.
func (p Pose) Ends() (a, b inspect.Spot) { return p.At(0, -p.Length/2), p.At(0, p.Length/2) }

// Photos is a vault of drawn photos, by SHA-256.
type Photos map[string]Pose

var _ place.Photos = Photos{}

// Import implements place.Photos.
func (Photos) Import(context.Context, []string, func(done, total int, name string)) []place.Imported {
	return nil
}

// Preview implements place.Photos.
func (ps Photos) Preview(_ context.Context, sum string, px int) (image.Image, error) {
	p, ok := ps[sum]
	if !ok {
		return nil, inspect.Refuse(inspect.NotFound, "there is no such photo in the vault")
	}
	drawnMu.Lock()
	defer drawnMu.Unlock()
	key := drawing{p, px}
	img, ok := drawn[key]
	if !ok {
		img = Draw(p, px)
		drawn[key] = img
	}
	return &image.RGBA{Pix: bytes.Clone(img.Pix), Stride: img.Stride, Rect: img.Rect}, nil
}

// drawing is what was drawn before: drawing takes longer than any test.
type drawing struct {
	pose Pose
	px   int
}

var (
	drawnMu sync.Mutex
	drawn   = map[drawing]*image.RGBA{}
)

// Draw draws a pose px pixels wide.
func Draw(p Pose, px int) *image.RGBA {
	return DrawPart(p, px, image.Rect(0, 0, px, px*Height/Width))
}

// DrawPart draws a part of what Draw draws, whose Bounds say where it lies.
func DrawPart(p Pose, px int, part image.Rectangle) *image.RGBA {
	img := image.NewRGBA(part)
	w := px
	k := Width / float64(px)
	s, c := math.Sincos(p.Turn)
	blur := k / p.PerMM // one pixel, mm
	for y := part.Min.Y; y < part.Max.Y; y++ {
		for x := part.Min.X; x < part.Max.X; x++ {
			u, v := ((float64(x)+.5)*k-Width/2-p.DX)/p.PerMM, ((float64(y)+.5)*k-Height/2-p.DY)/p.PerMM
			X, Y := c*u+s*v, -s*u+c*v
			g := grey(p, X, Y, blur)
			g.shade *= 1 + 0.12*p.Lamp*(float64(x)/float64(w)-0.5)
			g.shade += 3 * (hash(x, y, int(p.PerMM*7)) - 0.5)
			img.SetRGBA(x, y, g.rgba())
		}
	}
	return img
}

type tint struct{ shade, warm float64 }

func (t tint) rgba() color.RGBA {
	q := func(f float64) uint8 { return uint8(math.Max(0, math.Min(255, f))) }
	return color.RGBA{q(t.shade * (1 + t.warm)), q(t.shade), q(t.shade * (1 - t.warm)), 255}
}

// grey is the light of one place of the scene.
func grey(p Pose, x, y, blur float64) tint {
	out := bench(x, y)
	if in := soft(boxed(x-CardX, y-CardY), blur); in > 0 {
		face := tint{225 - 25*line(y-CardY-9, 4, blur) - 90*stripe(x-CardX, y-CardY), 0.02}
		out = mix(out, face, in)
	}
	o := (x - TubeX) / Radius
	if in := soft(Radius-math.Abs(x-TubeX), blur); in > 0 {
		n := math.Sqrt(math.Max(0, 1-o*o))
		shine := math.Exp(-math.Pow((o+0.35+0.05*p.Lamp)/0.09, 2)) + 0.5*math.Exp(-math.Pow((o-0.45)/0.14, 2))
		tube := tint{38 + 62*n + 95*shine, 0.16}
		if y > 42 { // the wiper and the lower leg
			tube = tint{24 + 40*n, 0.02}
		}
		out = mix(out, tube, in)
		if d := soft(scratch/2-math.Abs(x), blur) * soft(p.Length/2-math.Abs(y), blur); d > 0 {
			out = mix(out, tint{206, 0.01}, d)
		}
	}
	return out
}

func mix(a, b tint, t float64) tint {
	return tint{a.shade*(1-t) + b.shade*t, a.warm*(1-t) + b.warm*t}
}

// soft is 0 outside, 1 inside, over one pixel.
func soft(inside, blur float64) float64 { return math.Max(0, math.Min(1, inside/blur+0.5)) }

// boxed is how far a place lies inside the card with its round corners.
func boxed(x, y float64) float64 {
	dx, dy := math.Abs(x-scale.CardWidth/2)-scale.CardWidth/2+corner, math.Abs(y-scale.CardHeight/2)-scale.CardHeight/2+corner
	return corner - math.Hypot(math.Max(dx, 0), math.Max(dy, 0)) - math.Min(math.Max(dx, dy), 0)
}

func line(y, half, blur float64) float64 { return soft(half-math.Abs(y), blur) }

// stripe is a row of digits on the card, as little boxes.
func stripe(x, y float64) float64 {
	if y > 30 && y < 34 && x > 8 && x < 70 && math.Mod(x, 4) < 2.4 {
		return 1
	}
	return 0
}

// bench is a scratched wooden board: grain along x, knots and spots.
func bench(x, y float64) tint {
	g := 88 + 4*math.Sin(y*0.9+2*math.Sin(x*0.03)) + 3*math.Sin(y*2.7+x*0.11) + 9*noise(x*0.3, y*0.8)
	for _, q := range [][3]float64{{-60, -40, 5}, {-72, 25, 8}, {20, 55, 6}, {80, 45, 4}, {-40, 60, 5}, {60, -55, 6}, {-90, -10, 4}} {
		if d := math.Hypot(x-q[0], y-q[1]); d < q[2] {
			g -= 45 * (1 - d/q[2])
		}
	}
	return tint{g, 0.2}
}

// noise is smooth, the same every time.
func noise(x, y float64) float64 {
	x0, y0 := math.Floor(x), math.Floor(y)
	fx, fy := x-x0, y-y0
	at := func(i, j float64) float64 { return 2*hash(int(x0+i), int(y0+j), 5) - 1 }
	top, low := at(0, 0)*(1-fx)+at(1, 0)*fx, at(0, 1)*(1-fx)+at(1, 1)*fx
	return top*(1-fy) + low*fy
}

func hash(x, y, z int) float64 {
	h := uint32(x)*374761393 + uint32(y)*668265263 + uint32(z)*2246822519
	h = (h ^ h>>13) * 1274126177
	return float64((h^h>>16)&0xffff) / 0xffff
}
