package sample

import (
	"context"
	"fmt"
	"time"

	"forkwear/inspect"
	"forkwear/inspect/catalog"
	"forkwear/inspect/shop"
)

// mostPictures of a stage: as many as a technician in a hurry takes.
var mostPictures = map[inspect.Stage]int{inspect.Received: 1, inspect.Stripped: 2}

// wish is a picture that is being drawn and filed while the work goes on.
type wish struct {
	shot   shot
	place  inspect.Photo // check, leg, stage and role
	at     time.Time
	size   string // the check that a size on it answers, "" none
	made   chan struct{}
	photo  inspect.Photo
	marked taken
	err    error
}

// ask begins to draw a picture.
func (f *Filler) ask(ctx context.Context, s shot, place inspect.Photo, size string) *wish {
	s.at = f.now
	w := &wish{shot: s, place: place, at: f.now, size: size, made: make(chan struct{})}
	go func() {
		defer close(w.made)
		select {
		case f.slots <- struct{}{}:
		case <-ctx.Done():
			w.err = ctx.Err()
			return
		}
		defer func() { <-f.slots }()
		if w.marked, w.err = f.draw(s); w.err == nil {
			w.photo, w.err = f.Keep(ctx, Drawing{JPEG: w.marked.jpeg, Name: s.name, Card: s.of == ofTubeCard})
			w.marked.jpeg = nil
		}
	}()
	return w
}

// wait gives the photo of a wish as it is to be kept.
func (w *wish) wait() (inspect.Photo, error) {
	<-w.made
	p := w.photo
	p.Drawn, p.Usable, p.Remarks, p.FileName = true, true, nil, w.shot.name
	p.Check, p.Leg, p.Stage, p.Role = w.place.Check, w.place.Leg, w.place.Stage, w.place.Role
	return p, w.err
}

// photograph asks for pictures of the most telling checks of a stage, one of a
// zone.
func (f *Filler) photograph(ctx context.Context, b *begun, stage inspect.Stage) {
	seen := map[string]bool{}
	for _, p := range f.desk.Positions(b.c, stage) {
		of, drawable := subjectOf(p.Check)
		drawable = drawable && b.plan.rider.pictured(p.Check.Zone, stage)
		r, ok := b.c.At(p)
		switch {
		case p.Check.ID == scratchCheck && ok && r.Answer == inspect.NotFine && b.scratch > 0 && p.Leg == inspect.Left && stage == inspect.Received:
			f.beside(ctx, b, p, wear{grade: 1, scratch: b.scratch}, scratchLength)
			seen[p.Check.Zone] = true
		case p.Check.ID == coatingLoss && b.bare[p.Leg] > 0:
			f.beside(ctx, b, p, wear{grade: 3, bare: b.bare[p.Leg]}, coatingLoss)
		case ok && drawable && p.Check.Photo && r.Answer == inspect.Graded && !seen[p.Check.Zone] && len(seen) < mostPictures[stage]:
			seen[p.Check.Zone] = true
			f.now = f.now.Add(time.Minute)
			place := f.placeOf(b.c, p)
			s := shot{of: of, place: place, wear: wear{grade: r.Value, place: place}}
			b.wishes = append(b.wishes, f.ask(ctx, f.dressed(b, s, p.Check.ID+"-"+string(p.Leg)), evidence(p), ""))
		}
	}
}

// pictured tells whether this fork's pictures of a zone are taken: the same ones
// at every visit, so that they make pairs, and others on another fork.
func (r *rider) pictured(zone string, stage inspect.Stage) bool {
	switch {
	case zone == "stanchions" || stage == inspect.Received:
		return true
	case r.number%4 == 3:
		return false
	case zone == "seals":
		return r.number%2 == 0
	case zone == "bushings":
		return r.number%4 == 1
	}
	return true
}

// beside asks for a picture of a tube with the bench card of the visit beside it.
func (f *Filler) beside(ctx context.Context, b *begun, p catalog.Position, w wear, size string) {
	f.now = f.now.Add(2 * time.Minute)
	w.place = f.placeOf(b.c, p)
	s := shot{of: ofTubeCard, place: w.place, wear: w, words: fmt.Sprintf("No. %d", b.c.Visit.Ticket), fork: b.c.Fork.Model, card: b.c.Visit.ID}
	s = f.dressed(b, s, p.Check.ID+"-"+string(p.Leg))
	f.last = &s
	b.wishes = append(b.wishes, f.ask(ctx, s, evidence(p), size))
}

// dressed adds what all pictures of a visit share.
func (f *Filler) dressed(b *begun, s shot, what string) shot {
	s.visit, s.diameter = uint64(b.c.Visit.Ticket), b.c.Sheet.Stanchion
	if s.diameter <= 0 {
		s.diameter = 35
	}
	if b.plan.nth%2 == 1 && f.Until.Sub(b.plan.on) < secondCamera {
		s.camera = 1
	}
	s.name = fmt.Sprintf("drawn-%03d-%s.jpg", b.c.Visit.Ticket, what)
	return s
}

// secondCamera is since when the shop has its second camera.
const secondCamera = 220 * 24 * time.Hour

func evidence(p catalog.Position) inspect.Photo {
	return inspect.Photo{Check: p.Check.ID, Leg: p.Leg, Stage: p.Stage, Role: "evidence"}
}

// placeOf names what is pictured: a part keeps its own scratches, a new one in
// its place has others. All pictures of a tube show the same tube.
func (f *Filler) placeOf(c *shop.Case, p catalog.Position) uint64 {
	fit, _ := c.Fitting(p.Check.Part, p.Leg)
	return hash(string(c.Fork.ID) + p.Check.Part + string(p.Leg) + string(fit.ID))
}

// subjectOf says which drawing shows a check.
func subjectOf(k catalog.Check) (subject, bool) {
	switch k.Zone {
	case "stanchions":
		return ofTube, true
	case "seals":
		return ofSeal, true
	case "bushings":
		return ofBushing, true
	case "damper":
		return ofBoot, true
	}
	return 0, false
}

func hash(s string) uint64 {
	h := uint64(14695981039346656037)
	for i := 0; i < len(s); i++ {
		h = (h ^ uint64(s[i])) * 1099511628211
	}
	return h
}

// counterShot is one of the four pictures that are taken before anything is
// touched.
type counterShot struct {
	of   subject
	leg  inspect.Leg
	role string
}

func counterShots() []counterShot {
	return []counterShot{{ofLeft, inspect.Left, "side"}, {ofRight, inspect.Right, "side"}, {ofSerial, inspect.Whole, "serial"}, {ofDamage, inspect.Whole, "damage"}}
}

// atCounter asks for the four pictures at drop-off.
func (f *Filler) atCounter(ctx context.Context, b *begun) {
	for _, p := range counterShots() {
		f.now = f.now.Add(20 * time.Second)
		s := f.dressed(b, p.shot(b.c.Fork), fmt.Sprintf("counter-%s-%s", p.role, p.leg))
		s.wear.scratch = b.scratch
		b.wishes = append(b.wishes, f.ask(ctx, s, inspect.Photo{Leg: p.leg, Stage: inspect.Received, Role: p.role}, ""))
	}
}

func (p counterShot) shot(fork inspect.Fork) shot {
	place := hash(string(fork.ID))
	return shot{of: p.of, place: place, words: fork.Serial, wear: wear{grade: 1.5, place: place}}
}

// AtCounter draws the four pictures of a fork that comes in at a time: left and
// right side, serial number, damage.
func AtCounter(fork inspect.Fork, at time.Time) ([]Drawing, error) {
	var out []Drawing
	for i, p := range counterShots() {
		s := p.shot(fork)
		s.visit, s.diameter, s.at = uint64(at.Unix()), 36, at.Add(time.Duration(i)*20*time.Second)
		s.name = fmt.Sprintf("counter-%d.jpg", i+1)
		got, err := s.draw()
		if err != nil {
			return nil, err
		}
		out = append(out, Drawing{JPEG: got.jpeg, Name: s.name})
	}
	return out, nil
}
