package compare

import (
	"context"
	"fmt"
	"image"

	"fyne.io/fyne/v2/lang"

	"forkwear/inspect"
	"forkwear/ui/run"
	"forkwear/ui/tongue"
	"forkwear/ui/widgets"
)

// soon does one job after the other beside the window, so that a long strip
// never takes all of the machine; what is urgent goes before the rest. A job
// ends with until.
func soon[T any](s *Screen, until context.Context, urgent bool, work func(context.Context) (T, error), done func(T, error)) {
	start := func() {
		run.Go(s.env.Run, func(ctx context.Context) (T, error) {
			ctx, stop := context.WithCancel(ctx)
			defer stop()
			defer context.AfterFunc(until, stop)()
			return work(ctx)
		}, func(v T, err error) {
			defer s.next()
			done(v, err)
		})
	}
	if urgent {
		s.jobs = append([]func(){start}, s.jobs...)
	} else {
		s.jobs = append(s.jobs, start)
	}
	if !s.working {
		s.next()
	}
}

func (s *Screen) next() {
	s.working = len(s.jobs) > 0 && !s.closed
	if s.working {
		start := s.jobs[0]
		s.jobs = s.jobs[1:]
		start()
	}
}

// ask gets the preview of a photo, once.
func (s *Screen) ask(sum string) {
	if s.asked[sum] {
		return
	}
	s.asked[sum] = true
	photos := s.env.Photos
	soon(s, s.open, true, func(ctx context.Context) (image.Image, error) { return photos.Preview(ctx, sum, previewPixels) },
		func(img image.Image, err error) {
			if !s.closed {
				s.arrived(sum, img, err)
			}
		})
}

func (s *Screen) arrived(sum string, img image.Image, err error) {
	if err != nil {
		delete(s.asked, sum)
		s.env.Say.Failed(err)
		s.told.SetText(fmt.Sprintf(lang.L("A photo can't be shown: %s"), inspect.SaidIn(tongue.Say, err)))
		return
	}
	s.keep(sum, img)
	s.fill()
	s.says()
	if s.want {
		s.alignPair()
	}
}

// kept is how many previews stay in memory: about 8 MB each.
const kept = 8

func (s *Screen) keep(sum string, img image.Image) {
	if len(s.pixels) >= kept {
		for old := range s.pixels {
			if old != s.sum(s.then) && old != s.sum(s.now) {
				delete(s.pixels, old)
				delete(s.asked, old)
			}
		}
	}
	s.pixels[sum] = img
}

func (s *Screen) sum(i int) string {
	if i < 0 {
		return ""
	}
	return s.data.strip[i].Photo.SHA256
}

// picture is a photo of the strip as it was taken.
func (s *Screen) picture(i int) widgets.CanvasPhoto {
	if i < 0 {
		return widgets.CanvasPhoto{}
	}
	p := s.data.strip[i].Photo
	return widgets.CanvasPhoto{Image: s.pixels[p.SHA256], Width: p.Width, Height: p.Height, Layer: s.data.layers[p.ID]}
}

// fill puts the photos into the canvases, without moving what is looked at.
func (s *Screen) fill() {
	then, now := s.picture(s.then), s.picture(s.now)
	if f, ok := s.fits[s.pair()]; ok && s.want && f.good && !s.marking {
		now = f.laid
	}
	look := s.left.Look()
	s.left.SetPhoto(then)
	s.right.SetPhoto(now)
	s.both.SetPhoto(then)
	s.both.SetOther(now)
	if s.then < 0 {
		look = s.right.Look()
	}
	s.looked(look)
}
