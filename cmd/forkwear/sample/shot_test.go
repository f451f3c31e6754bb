package sample

import (
	"bytes"
	"context"
	"image"
	"image/draw"
	"image/jpeg"
	"math"
	"testing"
	"time"

	"forkwear/media/align"
	"forkwear/media/alike"
	"forkwear/media/benchcard"
	"forkwear/media/exif"
	"forkwear/media/scale"
)

const aVisit = "0192f0c4-1234-7abc-8def-0123456789ab"

func cardShot(visit uint64, w wear) shot {
	return shot{of: ofTubeCard, place: w.place, visit: visit, wear: w, words: "No. 40", fork: "Tarn 36", card: aVisit, diameter: 36,
		at: time.Date(2026, 11, 19, 10, 8, 0, 0, time.UTC), name: "t.jpg"}
}

func drawn(t *testing.T, s shot) (taken, image.Image) {
	t.Helper()
	got, err := s.draw()
	if err != nil {
		t.Fatal(err)
	}
	img, err := jpeg.Decode(bytes.NewReader(got.jpeg))
	if err != nil {
		t.Fatal(err)
	}
	return got, img
}

// The program's own finder reads the drawn card, and what is planted measures as
// long and as large as it was planted, by the card and by the tube. The truth is
// the geometry that the picture was drawn from.
func TestDrawnCardIsReadAndMeasures(t *testing.T) {
	for i, w := range []wear{{grade: 1, scratch: 18, place: 6}, {grade: 3, bare: 22, place: 7}} {
		got, img := drawn(t, cardShot(40+uint64(i), w))
		found, err := benchcard.Find(context.Background(), img)
		if err != nil || len(found) != 1 {
			t.Fatalf("%d cards found (%v)", len(found), err)
		}
		if id, ok := benchcard.Decode(found[0].Code); !ok || id != aVisit {
			t.Errorf("the card reads %q, of visit %q", found[0].Code, id)
		}
		for k, c := range found[0].Corners {
			if d := math.Hypot(c.X-got.card[k].X, c.Y-got.card[k].Y); d > 1.5 {
				t.Errorf("corner %d lies %.2f px off", k, d)
			}
		}
		scene := scale.Scene{Camera: scale.CameraOf(pictureW, pictureH, film35), Card: found[0].Corners[:]}
		length, err := scene.Length(got.groove, scale.DefaultUncertainty())
		if w.scratch > 0 && (err != nil || math.Abs(length.Value-w.scratch) > 0.02*w.scratch) {
			t.Errorf("the scratch measures %.2f mm, planted %.2f (%v)", length.Value, w.scratch, err)
		}
		if w.bare > 0 {
			area, err := scene.Area(got.bare, scale.DefaultUncertainty())
			if err != nil || math.Abs(area.Value-w.bare) > 0.04*w.bare {
				t.Errorf("the bare place measures %.2f mm2, planted %.2f (%v)", area.Value, w.bare, err)
			}
		}
		g := cardShot(40+uint64(i), w).stand()
		scene.Tube = &scale.Tube{Diameter: 36, Edges: g.tube.edges(g.cam)}
		if length, err = scene.Length(got.groove, scale.DefaultUncertainty()); w.scratch > 0 && (err != nil || math.Abs(length.Value-w.scratch) > 0.01*w.scratch) {
			t.Errorf("by the tube the scratch measures %.2f mm, planted %.2f (%v)", length.Value, w.scratch, err)
		}
	}
}

// The pixels show the scratch where it was planted: beside its line the tube is
// another colour than on it.
func TestScratchIsWhereItWasPlanted(t *testing.T) {
	got, img := drawn(t, cardShot(41, wear{grade: 0, scratch: 20, place: 6}))
	grey := func(p scale.Point) float64 {
		r, g, b, _ := img.At(int(p.X), int(p.Y)).RGBA()
		return float64(r+g+b) / 3 / 257
	}
	off := 0.0
	for _, p := range got.groove[1:5] {
		on, beside := 0.0, 0.0
		for d := -1.0; d <= 2; d++ {
			on = math.Max(on, math.Abs(grey(scale.Point{X: p.X + d, Y: p.Y})-grey(scale.Point{X: p.X - 12, Y: p.Y})))
			beside = math.Max(beside, math.Abs(grey(scale.Point{X: p.X - 24 + d, Y: p.Y})-grey(scale.Point{X: p.X - 12, Y: p.Y})))
		}
		off += on - beside
	}
	if off/4 < 15 {
		t.Errorf("the scratch stands out by %.1f grey levels, want 15 or more", off/4)
	}
}

// Two visits' pictures of one tube are laid upon each other by the program, and
// the upper end of the scratch, which does not move on the tube, comes where it
// was.
func TestThenAndNowAlign(t *testing.T) {
	plain := func(img image.Image) *image.Gray {
		g := image.NewGray(img.Bounds())
		draw.Draw(g, g.Rect, img, image.Point{}, draw.Src)
		return g
	}
	for _, of := range []subject{ofTubeCard, ofTube} {
		old := cardShot(40, wear{grade: 1, scratch: 12, place: 6})
		late := cardShot(57, wear{grade: 1, scratch: 19, place: 6})
		old.of, late.of = of, of
		_, a := drawn(t, old)
		_, b := drawn(t, late)
		g, h := old.stand(), late.stand()
		then, now := g.cam.project(g.tube.place(-20, -1.5)), h.cam.project(h.tube.place(-20, -1.5))
		tr, rep, err := align.Find(context.Background(), plain(a), plain(b))
		if err != nil || !rep.Accepted {
			t.Errorf("%d: not aligned: %+v (%v)", of, rep, err)
			continue
		}
		p, err := tr.Apply(now)
		was, off := math.Hypot(now.X-then.X, now.Y-then.Y), math.Hypot(p.X-then.X, p.Y-then.Y)
		t.Logf("%d: correlation %.2f, the end lay %.1f px off, aligned %.1f", of, rep.CorrelationAfter, was, off)
		if err != nil || off > 10 || off > was {
			t.Errorf("%d: aligned, the scratch's upper end lies %.1f px off, before %.1f (%v)", of, off, was, err)
		}
	}
}

// What the files say of themselves: date, offset, camera and focal length.
func TestFileSaysItsCamera(t *testing.T) {
	s := shot{of: ofSerial, words: "S1", camera: 1, at: time.Date(2026, 11, 19, 10, 8, 0, 0, time.UTC)}
	got, img := drawn(t, s)
	info, err := exif.Read(bytes.NewReader(got.jpeg), int64(len(got.jpeg)))
	if err != nil || info.WallTime != "2026-11-19T09:01:00" || info.Offset != "+00:00" || info.Model != "Bench camera 2" || info.FocalLength35 != film35 {
		t.Errorf("%+v (%v)", info, err)
	}
	s.rough = 55
	_, again := drawn(t, s)
	a, err := alike.Fingerprint(img)
	if err != nil {
		t.Fatal(err)
	}
	b, err := alike.Fingerprint(again)
	if err != nil {
		t.Fatal(err)
	}
	if n, err := alike.Distance(a, b); err != nil || n > alike.Same {
		t.Errorf("a picture saved anew differs in %d bits (%v)", n, err)
	}
}
