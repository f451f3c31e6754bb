package forklife

import (
	"context"
	"fmt"
	"image"
	"strings"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/lang"
	"fyne.io/fyne/v2/widget"

	"forkwear/inspect"
	"forkwear/inspect/catalog"
	"forkwear/inspect/shop"
	"forkwear/ui/place"
	"forkwear/ui/run"
	"forkwear/ui/screens/rows"
	"forkwear/ui/tongue"
	"forkwear/ui/widgets"
	"forkwear/ui/words"
)

// pointed is what stands beside the plot: the reading that is pointed at, else
// the newest, with its photo where there is one.
type pointed struct {
	box   *fyne.Container
	photo *widgets.PhotoView
	told  *widget.RichText
	visit inspect.ID             // whose reading it is
	seen  map[string]image.Image // small, so that going to and fro decodes nothing again
	stop  func()
}

// keptPhotos is how many small photos stay decoded.
const keptPhotos = 12

// linger is how long the pointer rests on a point before its photo is read.
const linger = 60 * time.Millisecond

func newPointed() *pointed {
	p := &pointed{photo: widgets.NewPhotoView(), told: rows.Quiet(""), seen: map[string]image.Image{}, stop: func() {}}
	p.box = container.NewVBox(container.New(&tall{height: 190}, p.photo), p.told)
	return p
}

// drop forgets the photos.
func (p *pointed) drop() {
	p.stop()
	p.seen = map[string]image.Image{}
}

// showPoint tells a reading of the trend beside the plot and shows its photo.
func (s *Screen) showPoint(visit inspect.ID) {
	said := ""
	if at, ok := s.pointOf(visit); ok {
		said = toldPoint(s.life.checks[s.chosen.SelectedIndex()].check, at, s.trend)
	}
	s.showBeside(visit, said)
}

// showBeside shows what is said of a visit, and its photo of the check.
func (s *Screen) showBeside(visit inspect.ID, said string) {
	p := s.beside
	p.stop()
	p.visit = visit
	rows.SetQuiet(p.told, said)
	if said == "" {
		p.photo.Hide()
		return
	}
	photo, ok := s.photoOf(visit, s.life.checks[s.chosen.SelectedIndex()])
	p.photo.Show()
	if !ok {
		p.photo.SetPhoto(nil, lang.L("No photo of this check at this visit"))
		return
	}
	if img, ok := p.seen[photo.SHA256]; ok {
		p.photo.SetPhoto(img, "")
		return
	}
	p.photo.SetPhoto(nil, lang.L("Loading …"))
	s.loadBeside(photo)
}

// loadBeside reads the photo of a point in a worker; a pointer that only passes
// by reads nothing.
func (s *Screen) loadBeside(photo inspect.Photo) {
	p, turn := s.beside, s.turn
	visit := p.visit
	p.stop = run.Go(s.env.Run, func(ctx context.Context) (image.Image, error) {
		select {
		case <-ctx.Done():
			return nil, ctx.Err()
		case <-time.After(linger):
		}
		return s.env.Photos.Preview(ctx, photo.SHA256, 480)
	}, func(img image.Image, err error) {
		if s.closed || turn != s.turn || p.visit != visit {
			return
		}
		if err != nil {
			p.photo.SetPhoto(nil, inspect.SaidIn(tongue.Say, err))
			return
		}
		if len(p.seen) >= keptPhotos {
			clear(p.seen)
		}
		p.seen[photo.SHA256] = img
		p.photo.SetPhoto(img, "")
	})
}

func (s *Screen) pointOf(visit inspect.ID) (shop.TrendPoint, bool) {
	if s.trend != nil {
		for _, p := range s.trend.Points {
			if p.Visit == visit {
				return p, true
			}
		}
	}
	return shop.TrendPoint{}, false
}

// photoOf is the photo of a check at a visit: the newest that can be used.
func (s *Screen) photoOf(visit inspect.ID, k check) (inspect.Photo, bool) {
	var best inspect.Photo
	found := false
	for _, p := range s.life.photos {
		if p.VisitID != visit || p.Check != k.check.ID || p.Leg != k.leg && p.Leg != inspect.Whole {
			continue
		}
		if !found || p.Usable && !best.Usable || p.Usable == best.Usable && p.WallTime > best.WallTime {
			best, found = p, true
		}
	}
	return best, found
}

// toldPoint writes a reading with its day, its hours and how sure it is.
func toldPoint(k catalog.Check, p shop.TrendPoint, t *shop.Trend) string {
	return strings.Join([]string{
		words.Date(p.On),
		fmt.Sprintf(lang.L("Found: %s"), words.Reading(k, rawOf(k, p))),
		fmt.Sprintf(lang.L("At %s on the part"), axisValue(t, p.Hours)),
		fmt.Sprintf(lang.L("Wear used: %s, give or take %s (k = 2)"), words.Share(p.Used), words.Share(2*p.U)),
	}, "\n")
}

// labelOf is the same in one line, for the plot.
func labelOf(k catalog.Check, p shop.TrendPoint, t *shop.Trend) string {
	return fmt.Sprintf("%s, %s: %s", words.Date(p.On), axisValue(t, p.Hours), words.Reading(k, rawOf(k, p)))
}

func rawOf(k catalog.Check, p shop.TrendPoint) inspect.Reading {
	raw := inspect.Reading{Answer: inspect.Measured, Value: p.Raw, Unit: p.Unit}
	if k.Kind == catalog.Grade {
		raw.Answer = inspect.Graded
	}
	return raw
}

// axisValue writes a value of the long axis: hours, or months.
func axisValue(t *shop.Trend, v float64) string {
	if t != nil && t.Check.Grows == catalog.ByMonths {
		return fmt.Sprintf(lang.L("%s months"), words.Fixed(v, 0))
	}
	return words.Hours(v)
}

// onPoint opens the visit of a point, at the check that is shown.
func (s *Screen) onPoint(id string) {
	k := s.life.checks[s.chosen.SelectedIndex()]
	s.env.Go(place.Where{Name: place.Inspect, Visit: inspect.ID(id), Check: k.check.ID, Leg: k.leg})
}
