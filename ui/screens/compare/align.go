package compare

import (
	"context"
	"errors"
	"fmt"
	"image"
	"image/draw"

	"fyne.io/fyne/v2/lang"

	"forkwear/inspect"
	"forkwear/media/align"
	"forkwear/media/scale"
	"forkwear/ui/marks"
	"forkwear/ui/widgets"
)

// fit is what came of aligning a pair.
type fit struct {
	good bool
	laid widgets.CanvasPhoto // now, as seen from where then was taken
	to   align.Transform     // photo pixels of now to those of then
	says string
}

// alignPair lays now upon then by the program alone, once per pair.
func (s *Screen) alignPair() {
	if _, done := s.fits[s.pair()]; done || s.busy || s.then < 0 {
		s.show()
		return
	}
	s.align(lang.L("Looking how the two photos lie upon each other"), nil)
}

// align works beside the window; pairs may be nil.
func (s *Screen) align(words string, pairs []align.Pair) {
	older, now, key := s.picture(s.then), s.picture(s.now), s.pair()
	if older.Image == nil || now.Image == nil || s.busy {
		return
	}
	s.busy = true
	s.told.SetText(words + " …")
	until, stop := context.WithCancel(s.open)
	s.stopAlign = stop
	_, done := s.env.Say.Working(words, stop)
	soon(s, until, true, func(ctx context.Context) (fit, error) { return fitOf(ctx, older, now, pairs) },
		func(f fit, err error) {
			stop()
			done()
			s.busy = false
			if !s.closed {
				s.fitted(key, f, err, len(pairs) == 0)
			}
		})
}

// fitted takes in what came of an alignment; byItself is one without points.
func (s *Screen) fitted(key pair, f fit, err error, byItself bool) {
	if errors.Is(err, context.Canceled) { // another pair, or as taken, was asked for
		s.again(key)
		return
	}
	if err != nil {
		f = fit{says: lang.L("Not aligned") + ": " + err.Error()}
	}
	if len(s.fits) >= kept { // each holds a picture of about 8 MB
		clear(s.fits)
	}
	if f.good || byItself {
		s.fits[key] = f
	}
	s.came(key, f)
}

// again goes on after an alignment that was called off.
func (s *Screen) again(key pair) {
	if key != s.pair() && s.want {
		s.alignPair()
		return
	}
	s.want = s.want && key != s.pair()
	s.show()
}

// came shows what came of one alignment.
func (s *Screen) came(key pair, f fit) {
	if key != s.pair() {
		s.again(key)
		return
	}
	if s.marking && f.good {
		s.endPoints()
	}
	s.show()
	s.told.SetText(f.says)
}

// SetAligned shows now laid upon then, or as it was taken.
func (s *Screen) SetAligned(on bool) {
	if s.then < 0 {
		return
	}
	s.want = on
	if !on {
		s.stopAlign()
		s.show()
		return
	}
	s.alignPair()
}

// tell says how the pair lies.
func (s *Screen) tell() string {
	f, ok := s.fits[s.pair()]
	switch {
	case s.marking:
		return lang.L("Mark the same place on both photos, two to four times, far apart: an edge, a screw, a mark. Drag a point to correct it, Backspace takes the last one off.")
	case s.then < 0:
		return ""
	case s.busy:
		return lang.L("Looking how the two photos lie upon each other") + " …"
	case s.want && ok:
		return f.says
	case s.mode == Blink:
		return lang.L("By turns. Space turns by hand.") + " " + lang.L("As taken: a lamp or a camera that stood elsewhere looks like a change.")
	}
	return lang.L("As taken: a lamp or a camera that stood elsewhere looks like a change.")
}

// fitOf aligns two previews and draws now anew. It runs in a worker.
func fitOf(ctx context.Context, then, now widgets.CanvasPhoto, pairs []align.Pair) (fit, error) {
	a, b := grey(then.Image), grey(now.Image)
	var t align.Transform
	var says string
	if len(pairs) == 0 {
		found, rep, err := align.Find(ctx, a, b)
		if err != nil {
			return fit{}, err
		}
		if !rep.Accepted {
			return fit{says: lang.L("Not aligned") + ": " + sentence(rep.Why) + " " + lang.L("Align by points instead: mark two to four places on both.")}, nil
		}
		t, says = found, agreement(rep)
	} else {
		start, off, err := align.Landmarks(pairs)
		if err != nil {
			return fit{}, err
		}
		t, says = start, fmt.Sprintf(lang.L("By %d points"), len(pairs))
		if len(pairs) > 4 {
			says += fmt.Sprintf(lang.L(", which agree within %.1f pixels"), off)
		}
		finer, rep, err := align.Refine(ctx, a, b, start)
		switch {
		case err != nil:
			return fit{}, err
		case rep.Accepted:
			t, says = finer, says+", "+lang.L("then refined")+". "+agreement(rep)
		default:
			says += ". " + lang.L("Not refined") + ": " + sentence(rep.Why)
		}
	}
	if err := ctx.Err(); err != nil {
		return fit{}, err
	}
	size := then.Image.Bounds().Size()
	laid := widgets.CanvasPhoto{Image: align.Warp(size, now.Image, t), Width: then.Width, Height: then.Height}
	whole := align.Rescaled(t, ratio(then), ratio(now))
	laid.Layer = moved(now.Layer, whole)
	return fit{true, laid, whole, lang.L("Aligned") + ". " + says}, nil
}

func agreement(rep align.Report) string {
	return fmt.Sprintf(lang.L("Likeness %.2f of 1 (as taken %.2f)."), rep.CorrelationAfter, rep.CorrelationBefore)
}

func sentence(s string) string {
	if s == "" || s[len(s)-1] == '.' {
		return s
	}
	return s + "."
}

// ratio is how many photo pixels one preview pixel stands for.
func ratio(p widgets.CanvasPhoto) float64 {
	if w := p.Image.Bounds().Dx(); w > 0 && p.Width > 0 {
		return float64(p.Width) / float64(w)
	}
	return 1
}

// moved gives what is drawn over now as it lies over then; scales and masks
// stay behind, they belong to the photo as taken.
func moved(l marks.Layer, h scale.Homography) marks.Layer {
	out := marks.Layer{Marks: marks.Moved(l.Marks, h)}
	for _, m := range l.Measures {
		lines := marks.Moved([]inspect.Mark{{Points: m.Line}, {Points: m.Outline}}, h)
		if len(lines) != 2 {
			continue
		}
		m.Card, m.Known, m.Tube, m.Damage = nil, nil, nil, nil
		m.Line, m.Outline = lines[0].Points, lines[1].Points
		out.Measures = append(out.Measures, m)
	}
	return out
}

func grey(img image.Image) *image.Gray {
	b := img.Bounds()
	out := image.NewGray(image.Rect(0, 0, b.Dx(), b.Dy()))
	if rgba, ok := img.(*image.RGBA); ok { // the luma of ITU-R BT.601, as image/color has it
		for y := range b.Dy() {
			row := rgba.Pix[y*rgba.Stride:]
			for x := range b.Dx() {
				r, g, bl := int(row[4*x]), int(row[4*x+1]), int(row[4*x+2])
				out.Pix[y*out.Stride+x] = uint8((19595*r + 38470*g + 7471*bl + 1<<15) >> 16)
			}
		}
		return out
	}
	draw.Draw(out, out.Rect, img, b.Min, draw.Src)
	return out
}
