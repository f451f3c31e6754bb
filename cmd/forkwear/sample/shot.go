package sample

import (
	"bytes"
	"fmt"
	"image"
	"image/jpeg"
	"math"
	"math/rand/v2"
	"time"

	"forkwear/inspect"
	"forkwear/media/scale"
)

// subject is what a drawn photo shows.
type subject int

const (
	ofTube subject = iota
	ofTubeCard
	ofSeal
	ofBushing
	ofBoot
	ofLeft
	ofRight
	ofSerial
	ofDamage
	ofClock
)

// shot is one photo to be drawn. Its place keeps the same scratches in the same
// places at every visit; its visit varies camera, light and grain.
type shot struct {
	of           subject
	place, visit uint64
	wear         wear
	words        string     // a serial number, a ticket, the clock's time
	fork         string     // as the card names it
	card         inspect.ID // of the visit whose card lies there
	diameter     float64    // of the tube, mm
	at           time.Time  // the true time
	camera       int        // of cameras
	rough        int        // JPEG quality below the usual one, 0 usual
	blurred      bool       // by a moved camera
	name         string
}

// taken is a drawn photo and where the planted things came in it.
type taken struct {
	jpeg   []byte
	card   []scale.Point
	groove []scale.Point
	bare   []scale.Point
}

// stage is how the camera, the part and the card stand to each other in a shot.
type stage struct {
	light  float64
	cam    camera
	mat    camera // of what is drawn flat: only the mat behind it is in space
	tube   round
	lying  lying
	placed taken // where planted things come in the picture
}

// stand sets the shot up: the camera is held a little otherwise each time.
func (s shot) stand() stage {
	rng := rand.New(rand.NewPCG(s.visit, s.place))
	in := func(most float64) float64 { return most * (2*rng.Float64() - 1) }
	g := stage{light: 1 + in(0.06)}
	g.mat = lookAt(vec{in(6), in(6), -190 + in(9)}, vec{in(3), in(3), 0}, in(0.06))
	switch s.of {
	case ofTubeCard:
		g.cam = lookAt(vec{in(8), in(9), -176 + in(7)}, vec{in(3), in(3), 0}, in(0.06))
		g.tube = tubeAt(-54, s.diameter/2, 0.04)
		// the card lies on a holder that is clamped to the tube: nearly the same each time
		held := rand.New(rand.NewPCG(s.place, 17))
		g.lying = lying{middle: vec{42 + 4*held.Float64() + in(0.5), 14*held.Float64() - 7 + in(0.7), 0}}
		g.lying.sin, g.lying.cos = math.Sincos(0.2*held.Float64() - 0.1 + in(0.012))
		g.placed = taken{card: g.lying.corners(g.cam), groove: spotsOf(g.cam, g.tube, s.wear.groove(6)), bare: spotsOf(g.cam, g.tube, s.wear.ring(40))}
	case ofSeal:
		g.cam = lookAt(vec{in(6), -62 + in(6), -118 + in(6)}, vec{in(2), 2 + in(2), 4}, in(0.05))
		g.tube = tubeAt(0, s.diameter/2, 0.03)
	case ofLeft, ofRight:
		g.mat = lookAt(vec{in(30), in(30), -430 + in(20)}, vec{}, in(0.02))
	default:
		g.cam = lookAt(vec{in(9), in(8), -112 + in(7)}, vec{in(3), in(2), 0}, in(0.07))
		g.tube = tubeAt(0, s.diameter/2, 0.05)
	}
	return g
}

// draw makes the photo. The same shot is the same file.
func (s shot) draw() (taken, error) {
	g := s.stand()
	c := newCanvas(g.light)
	defer spare.Put(c.img)
	if err := s.paint(c, g); err != nil {
		return g.placed, err
	}
	if s.blurred {
		smear(c.img)
	}
	return s.file(c.finish(s.visit), g.placed)
}

// file is the photo as its camera writes it.
func (s shot) file(img image.Image, out taken) (taken, error) {
	var buf bytes.Buffer
	quality := 84
	if s.rough > 0 {
		quality = s.rough
	}
	if err := jpeg.Encode(&buf, img, &jpeg.Options{Quality: quality}); err != nil {
		return out, fmt.Errorf("%s can't be written: %w", s.name, err)
	}
	out.jpeg = withEXIF(buf.Bytes(), s.at.Add(-cameras[s.camera].ahead), cameras[s.camera].model)
	return out, nil
}

// paint draws what stands on the stage.
func (s shot) paint(c *canvas, g stage) (err error) {
	dark := func(float64, float64) float64 { return 0 }
	switch s.of {
	case ofTube, ofDamage:
		c.bench(g.cam, s.diameter, s.place, g.tube.shadow)
		c.tube(g.cam, g.tube, s.wear)
	case ofTubeCard:
		l := g.lying
		if l.printed, err = printCard(s.card, s.words, s.fork); err != nil {
			return err
		}
		c.bench(g.cam, s.diameter, s.place, func(x, y float64) float64 { return math.Max(g.tube.shadow(x, y), l.shadow(x, y)) })
		c.tube(g.cam, g.tube, s.wear)
		c.card(g.cam, l)
	case ofSeal:
		c.bench(g.cam, s.diameter+12, s.place, g.tube.shadow)
		c.wiper(g.cam, g.tube, s.wear.grade, wear{place: s.place})
	case ofBushing:
		c.bench(g.mat, 60, s.place, dark)
		c.ringed(s.wear.grade, s.place)
	case ofBoot:
		c.bench(g.mat, 30, s.place, func(x, y float64) float64 {
			return step(62, 22, math.Abs(x+2)) * step(96, 70, math.Abs(y+6))
		})
		c.boot(s.wear.grade, s.place)
	case ofLeft, ofRight:
		c.bench(g.mat, 60, s.place, dark)
		c.fork(s.place, s.of == ofLeft)
	case ofSerial:
		c.serial(s.words, s.place)
	case ofClock:
		c.clock(s.at.Hour(), s.at.Minute())
	}
	return nil
}

// shadow is how dark a tube makes the bench behind it.
func (t round) shadow(x, y float64) float64 {
	d := vec{x, y, 0}.minus(t.foot).dot(t.side) - 0.55*t.radius
	return 1 - step(0.2*t.radius, 1.5*t.radius, math.Abs(d))
}

// smear moves the picture over itself, as a camera that was not held still.
func smear(img *image.RGBA) {
	const reach = 17
	for y := range img.Rect.Dy() {
		row := img.Pix[y*img.Stride : (y+1)*img.Stride]
		src := append([]uint8(nil), row...)
		for x := range img.Rect.Dx() {
			for k := range 3 {
				sum := 0
				for d := -reach; d <= reach; d++ {
					sum += int(src[4*max(0, min(x+d, img.Rect.Dx()-1))+k])
				}
				row[4*x+k] = uint8(sum / (2*reach + 1))
			}
		}
	}
}

// drawnCamera is one of the shop's cameras; ahead is the true time less what its
// clock says.
type drawnCamera struct {
	model string
	ahead time.Duration
}

// The cameras of the shop. The second one's clock was never set right.
var cameras = []drawnCamera{{"Sample shop", 0}, {"Bench camera 2", 67 * time.Minute}, {"Sample phone", 0}}
