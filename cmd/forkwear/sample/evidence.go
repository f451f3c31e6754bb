package sample

import (
	"context"
	"fmt"
	"math"
	"math/rand/v2"

	"forkwear/inspect"
	"forkwear/inspect/shop"
	"forkwear/media/scale"
)

// The checks that a size on a photo answers, and the one that opens the first.
const (
	scratchCheck  = "stanchions.scratch"
	scratchLength = "stanchions.scratch_length"
	coatingLoss   = "stanchions.coating_loss"
)

// keepPictures files the pictures of a visit, marks and measures them.
func (f *Filler) keepPictures(ctx context.Context, b *begun) error {
	for _, w := range b.wishes {
		p, err := w.wait()
		if err != nil {
			return err
		}
		f.now = w.at
		kept, _, err := f.desk.KeepPhoto(ctx, b.c, p)
		if err != nil {
			return err
		}
		if w.size != "" {
			if err := f.measure(ctx, b, w, kept); err != nil {
				return fmt.Errorf("%s: %w", w.shot.name, err)
			}
		}
	}
	b.wishes = nil
	return nil
}

// measure clicks along what is planted as a person does, half a pixel off, keeps
// the size as a reading and marks the place.
func (f *Filler) measure(ctx context.Context, b *begun, w *wish, p inspect.Photo) error {
	rng := rand.New(rand.NewPCG(w.shot.visit, hash(w.size)))
	click := func(ps []scale.Point) []scale.Point {
		out := append([]scale.Point(nil), ps...)
		for i := range out {
			out[i].X += 0.5 * rng.NormFloat64()
			out[i].Y += 0.5 * rng.NormFloat64()
		}
		return out
	}
	corners := w.marked.card
	if len(p.Card) == 4 { // found when the photo came in
		for i, s := range p.Card {
			corners[i] = scale.Point{X: s.X, Y: s.Y}
		}
	}
	scene := scale.Scene{Camera: scale.CameraOf(pictureW, pictureH, film35), Card: corners}
	m := inspect.PhotoMeasure{PhotoID: p.ID, Kind: "length", Card: spots(corners), Unit: "mm"}
	marks, truth := w.marked.groove, w.shot.wear.scratch
	measure := scene.Length
	if w.size == coatingLoss {
		m.Kind, m.Unit = "area", "mm2"
		marks, truth, measure = w.marked.bare, w.shot.wear.bare, scene.Area
	}
	clicked := click(marks)
	got, err := measure(clicked, scale.DefaultUncertainty())
	if err != nil {
		return err
	}
	if m.Kind == "area" {
		m.Outline = spots(clicked)
	} else {
		m.Line = spots(clicked)
	}
	m.Value, m.Low, m.High, m.Method, m.Remarks = got.Value, got.Low, got.High, got.Method, got.Remarks
	kept, err := f.desk.KeepMeasure(ctx, b.c, m, w.size, w.place.Leg, "", w.place.Stage)
	if err != nil {
		return err
	}
	f.Planted[kept.ID] = truth
	return f.mark(ctx, b, w, p)
}

// mark draws over the photo what the technician wants the customer to see.
func (f *Filler) mark(ctx context.Context, b *begun, w *wish, p inspect.Photo) error {
	mark := inspect.Mark{PhotoID: p.ID, Kind: inspect.MarkCircle, Text: "bare metal"}
	if w.size == coatingLoss {
		x, y, r := around(w.marked.bare)
		mark.Points = []inspect.Spot{{X: x, Y: y}, {X: x + 1.7*r, Y: y}}
	} else {
		tip := w.marked.groove[len(w.marked.groove)-1]
		mark.Kind, mark.Text = inspect.MarkArrow, "lower end"
		if b.plan.nth > 0 {
			mark.Text = "longer than last time"
		}
		mark.Points = []inspect.Spot{{X: tip.X - 130, Y: tip.Y + 90}, {X: tip.X - 8, Y: tip.Y + 5}}
	}
	_, err := f.desk.Mark(ctx, mark)
	return err
}

func around(ps []scale.Point) (x, y, r float64) {
	for _, p := range ps {
		x, y = x+p.X/float64(len(ps)), y+p.Y/float64(len(ps))
	}
	for _, p := range ps {
		r = math.Max(r, math.Hypot(p.X-x, p.Y-y))
	}
	return x, y, r
}

func spots(ps []scale.Point) []inspect.Spot {
	var out []inspect.Spot
	for _, p := range ps {
		out = append(out, inspect.Spot{X: p.X, Y: p.Y})
	}
	return out
}

// Signature is an invented one: loops whose form goes by the name.
func Signature(name string) inspect.Signature {
	rng := rand.New(rand.NewPCG(hash(name), 5))
	var out inspect.Signature
	x := 0.08
	for range 2 {
		var stroke []inspect.Spot
		n := 5 + rng.IntN(4)
		high, wide := 0.16+0.10*rng.Float64(), 0.30/float64(n)
		for i := range n * 7 {
			k := float64(i) / 7
			tall := high * (1 + 0.9*math.Exp(-k))
			stroke = append(stroke, inspect.Spot{
				X: math.Max(0, math.Min(1, x+wide*k+0.030*math.Sin(2*math.Pi*k+1))),
				Y: math.Max(0, math.Min(1, 0.56-0.04*k/float64(n)+tall*math.Sin(2*math.Pi*k+0.6*math.Sin(k)))),
			})
		}
		out = append(out, stroke)
		x += 0.40
	}
	return out
}

// consents are the customer's answers: signed at the counter, or by phone.
func (f *Filler) consents(ctx context.Context, b *begun) error {
	name, how := b.plan.rider.customer.Name, "phone"
	if b.plan.nth%2 == 0 {
		how = shop.SignedHere
	}
	asked := 0
	for _, a := range b.c.Assessments {
		if a.InForce() != inspect.Replace || a.NotOpened {
			continue
		}
		asked++
		if err := f.desk.Consent(ctx, b.c, a, true, name, how, "the report"); err != nil {
			return err
		}
	}
	if asked == 0 || how != shop.SignedHere {
		return nil
	}
	_, err := f.desk.Sign(ctx, b.c, name, how, Signature(name), fmt.Sprintf("the report, %d lines", asked))
	return err
}
