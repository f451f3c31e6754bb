package counter

import (
	"context"
	"image"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/lang"
	"fyne.io/fyne/v2/layout"

	"forkwear/inspect"
	"forkwear/inspect/shop"
	"forkwear/ui/forkdraw"
	"forkwear/ui/forkdraw/draw"
	"forkwear/ui/marks"
	"forkwear/ui/run"
	"forkwear/ui/screens/visitbar"
	"forkwear/ui/widgets"
	"forkwear/ui/words"
)

// pictures are the photos of then and now, or the drawing of the fork where
// there is none of then.
func (s *Screen) pictures(k card) fyne.CanvasObject {
	l := k.line
	if !seen(l) {
		return container.NewBorder(nil, visitbar.Quiet(lang.L("No photo was taken of this part.")), nil, nil, s.drawing(k))
	}
	s.wipe = NewWipe()
	s.wipe.SetBeside(s.beside)
	wipe := s.wipe
	s.photo(k, l.Then, func(img image.Image) { wipe.SetThen(img); s.lay(wipe) })
	s.photo(k, l.Now, func(img image.Image) { wipe.SetNow(img); s.lay(wipe) })
	then := lang.L("Then: first visit, this is the baseline")
	if l.Then != nil {
		then = lang.L("Then") + ": " + words.TakenOf(s.data.story.Case, *l.Then)
		if l.ThenVisit != nil {
			then += " · " + words.Hours(l.ThenVisit.Hours)
		}
	}
	now := lang.L("Now: no photo today")
	if l.Now != nil {
		now = lang.L("Now") + ": " + words.TakenOf(s.data.story.Case, *l.Now) + " · " + words.Hours(s.data.story.Case.Claim.Hours)
	}
	right := visitbar.Text(now)
	right.Alignment = fyne.TextAlignTrailing
	var middle fyne.CanvasObject = layout.NewSpacer()
	if l.Then != nil && l.Now != nil {
		word := lang.L("Side by side")
		if s.beside {
			word = lang.L("One over the other")
		}
		middle = widgets.NewChip(word, s.onBeside)
	}
	captions := container.New(captions{}, visitbar.Text(then), middle, right)
	if l.Then != nil || l.Now == nil {
		return container.NewBorder(nil, captions, nil, nil, s.wipe)
	}
	return container.NewBorder(nil, captions, nil, nil, visitbar.Columns([]float32{-1, -2}, s.drawing(k), s.wipe))
}

// captions stand under the photos: then left, now right, the press between.
type captions struct{}

// MinSize implements fyne.Layout.
func (captions) MinSize(os []fyne.CanvasObject) fyne.Size {
	return fyne.NewSize(300, max(os[0].MinSize().Height, os[1].MinSize().Height, os[2].MinSize().Height))
}

// Layout implements fyne.Layout.
func (captions) Layout(os []fyne.CanvasObject, s fyne.Size) {
	mid := os[1].MinSize().Width
	side := max(0, (s.Width-mid)/2-8)
	os[0].Resize(fyne.NewSize(side, s.Height))
	os[0].Move(fyne.NewPos(0, 0))
	os[1].Resize(fyne.NewSize(mid, s.Height))
	os[1].Move(fyne.NewPos((s.Width-mid)/2, 0))
	os[2].Resize(fyne.NewSize(side, s.Height))
	os[2].Move(fyne.NewPos(s.Width-side, 0))
}

func (s *Screen) drawing(k card) fyne.CanvasObject {
	d := forkdraw.NewForkDrawing(nil)
	d.SetDoubleCrown(s.data.story.Case.Sheet.Crown == "dual")
	states := draw.States{}
	for _, p := range append([]shop.JobPart{{Assessment: k.line.Assessment, Part: k.line.Part}}, k.asked...) {
		mark := draw.Replace
		if p.Assessment.InForce() == inspect.Measure {
			mark = draw.Measure
		}
		states[draw.Zone{ID: p.Part.Zone, Side: sideOf(p.Assessment.Leg)}] = draw.State{Mark: mark}
	}
	d.SetStates(states)
	d.SetMinHeight(leastPicture)
	return d
}

func sideOf(l inspect.Leg) string {
	switch l {
	case inspect.Left:
		return draw.Left
	case inspect.Right:
		return draw.Right
	}
	return ""
}

// large is the longer side of a photo here, about twice what it is shown at.
const large = 1600

// photo brings one photo with its marks drawn.
func (s *Screen) photo(k card, p *inspect.Photo, show func(image.Image)) {
	if p == nil {
		return
	}
	photo, photos, drawn := *p, s.env.Photos, k.marks[p.ID]
	cancelled := false
	stop := run.Go(s.env.Run, func(ctx context.Context) (image.Image, error) {
		img, err := photos.Preview(ctx, photo.SHA256, large)
		if err != nil || len(drawn) == 0 {
			return img, err
		}
		return marks.Over(img, photo.Width, photo.Height, marks.Layer{Marks: drawn}), nil
	}, func(img image.Image, err error) {
		if cancelled {
			return
		}
		if err != nil {
			s.env.Say.Failed(err)
			return
		}
		show(img)
	})
	s.photos = append(s.photos, func() { cancelled = true; stop() })
}

// lay moves today's photo upon the other once both are there.
func (s *Screen) lay(w *Wipe) {
	then, now := w.then, w.now
	if then == nil || now == nil || s.layer == nil {
		return
	}
	cancelled, layer := false, s.layer
	stop := run.Go(s.env.Run, func(ctx context.Context) (image.Image, error) { return layer(ctx, then, now) },
		func(img image.Image, err error) {
			if !cancelled && err == nil && img != nil { // else both stay as they were taken
				w.SetLaid(img)
			}
		})
	s.photos = append(s.photos, func() { cancelled = true; stop() })
}
