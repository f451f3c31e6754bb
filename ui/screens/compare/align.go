package compare

import (
	"context"
	"errors"
	"fmt"

	"fyne.io/fyne/v2/lang"

	"forkwear/inspect"
	"forkwear/media/align"
	"forkwear/media/scale"
	"forkwear/ui/marks"
	"forkwear/ui/screens/photopair"
	"forkwear/ui/tongue"
	"forkwear/ui/widgets"
	"forkwear/ui/words"
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
func (s *Screen) align(what string, pairs []align.Pair) {
	older, now, key := s.picture(s.then), s.picture(s.now), s.pair()
	if older.Image == nil || now.Image == nil || s.busy {
		return
	}
	s.busy = true
	s.told.SetText(fmt.Sprintf("%s …", what))
	until, stop := context.WithCancel(s.open)
	s.stopAlign = stop
	_, done := s.env.Say.Working(what, stop)
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
		f = fit{says: fmt.Sprintf(lang.L("Not aligned: %s"), inspect.SaidIn(tongue.Say, err))}
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
		return s.noThen()
	case s.busy:
		return fmt.Sprintf("%s …", lang.L("Looking how the two photos lie upon each other"))
	case s.want && ok:
		return f.says
	case s.mode == Blink:
		return lang.L("By turns; Space turns by hand. As taken: a lamp or a camera that stood elsewhere looks like a change.")
	}
	return lang.L("As taken: a lamp or a camera that stood elsewhere looks like a change.")
}

// fitOf aligns two previews and draws now anew. It runs in a worker.
func fitOf(ctx context.Context, then, now widgets.CanvasPhoto, pairs []align.Pair) (fit, error) {
	var t align.Transform
	var says string
	if len(pairs) == 0 {
		found, rep, err := photopair.Find(ctx, then.Image, now.Image, 0)
		if err != nil {
			return fit{}, err
		}
		if !rep.Accepted {
			return fit{says: fmt.Sprintf(lang.L("Not aligned: %s Align by points instead: mark two to four places on both."), sentence(tongue.Say(rep.Why)))}, nil
		}
		t, says = found, agreement(rep)
	} else {
		start, off, err := align.Landmarks(pairs)
		if err != nil {
			return fit{}, err
		}
		t, says = start, fmt.Sprintf(lang.L("By %d points"), len(pairs))
		if len(pairs) > 4 {
			says = fmt.Sprintf(lang.L("By %d points, which agree within %s pixels"), len(pairs), words.Fixed(off, 1))
		}
		a, _ := photopair.Grey(then.Image, 0)
		b, _ := photopair.Grey(now.Image, 0)
		finer, rep, err := align.Refine(ctx, a, b, start)
		switch {
		case err != nil:
			return fit{}, err
		case rep.Accepted:
			t, says = finer, fmt.Sprintf(lang.L("%s, then refined. %s"), says, agreement(rep))
		default:
			says = fmt.Sprintf(lang.L("%s. Not refined: %s"), says, sentence(tongue.Say(rep.Why)))
		}
	}
	if err := ctx.Err(); err != nil {
		return fit{}, err
	}
	laid := widgets.CanvasPhoto{Image: photopair.Laid(then.Image, now.Image, t), Width: then.Width, Height: then.Height}
	whole := align.Rescaled(t, ratio(then), ratio(now))
	laid.Layer = moved(now.Layer, whole)
	return fit{true, laid, whole, fmt.Sprintf(lang.L("Aligned. %s"), says)}, nil
}

func agreement(rep align.Report) string {
	return fmt.Sprintf(lang.L("Likeness %s of 1 (as taken %s)."), words.Fixed(rep.CorrelationAfter, 2), words.Fixed(rep.CorrelationBefore, 2))
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
