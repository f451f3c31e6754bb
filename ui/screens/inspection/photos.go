package inspection

import (
	"context"
	"fmt"
	"image"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/lang"
	fynetheme "fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"forkwear/inspect"
	"forkwear/inspect/shop"
	"forkwear/ui/place"
	"forkwear/ui/tongue"
	"forkwear/ui/widgets"
	"forkwear/ui/words"
)

// photoColumn is the pictures of the check at work and the tray.
type photoColumn struct {
	column                            *fyne.Container
	title                             *widget.Label
	noneFrame                         *widgets.Card
	now, then                         *widgets.PhotoView
	nowID                             inspect.ID // the photo shown large
	nowSum, thenSum                   string
	turn                              int // which of the check's photos, 0 the newest
	turnOf                            spot
	backToTray                        *widgets.Chip
	closer                            *fyne.Container // compare and measure
	tray                              *fyne.Container
	trayScroll                        *container.Scroll
	trayTitle, trayHint, report, none *widget.Label
	cells                             []*trayCell
	leaving                           map[inspect.ID]bool // on the way out of the tray
	pictures                          map[string]image.Image
	asks                              []ask
	filled                            map[*widgets.PhotoView]string // what each view shows
}

const (
	largePixels   = 1000
	cellPixels    = 280
	keptPictures  = 120
	shownInTray   = 60
	reportedLines = 6
)

func (s *Screen) buildPhotos() {
	p := &s.photos
	p.leaving, p.pictures, p.filled = map[inspect.ID]bool{}, map[string]image.Image{}, map[*widgets.PhotoView]string{}
	p.title = heading(lang.L("Photos"))
	p.now, p.then = widgets.NewPhotoView(), widgets.NewPhotoView()
	p.now.OnTapped = func(_, _ float64) { s.turnPhoto() }
	p.then.OnTapped = func(_, _ float64) { s.toCompare() }
	p.closer = container.NewGridWithColumns(2,
		widgets.NewTextButton(lang.L("Compare"), false, s.toCompare), widgets.NewTextButton(lang.L("Mark, measure"), false, s.toMeasure))
	p.backToTray = widgets.NewChip(lang.L("back to the tray"), s.detachShown)
	p.trayTitle, p.report = heading(lang.L("Tray")), quiet("")
	p.report.Hide()
	p.tray = container.NewGridWrap(fyne.NewSize(140, 116))
	add := container.NewGridWithColumns(2,
		widgets.NewTextButton(lang.L("Add photos"), false, s.chooseFile), widgets.NewTextButton(lang.L("Add a folder"), false, s.chooseFolder))
	p.none = quiet("")
	p.none.Alignment = fyne.TextAlignCenter
	p.noneFrame = widgets.NewCard(p.none)
	views := container.New(photoPair{}, container.NewStack(p.now, p.noneFrame), p.then)
	top := container.NewBorder(nil, nil, nil, p.backToTray, p.title)
	p.trayScroll = container.NewVScroll(p.tray)
	p.trayScroll.SetMinSize(fyne.NewSize(140, 120))
	p.trayHint = widget.NewLabel(lang.L("tap or + attaches"))
	p.trayHint.SizeName = fynetheme.SizeNameCaptionText
	head := container.NewBorder(nil, nil, nil, p.trayHint, p.trayTitle)
	p.column = container.NewBorder(top, container.NewVBox(s.buildEvidence(), p.closer, head, add, p.report, p.trayScroll), nil, nil, views)
}

// photosHere are the photos of the check at work, newest first.
func (s *Screen) photosHere() []inspect.Photo {
	var out []inspect.Photo
	for i := len(s.kase.Photos) - 1; i >= 0; i-- {
		p := s.kase.Photos[i]
		if p.Check != "" && p.Check == s.at.check && (p.Leg == s.at.leg || p.Leg == inspect.Whole) {
			out = append(out, p)
		}
	}
	return out
}

// trayPhotos is the tray without what is on its way to a check.
func (s *Screen) trayPhotos() []inspect.Photo {
	var out []inspect.Photo
	for _, p := range s.kase.Tray() {
		if !s.photos.leaving[p.ID] {
			out = append(out, p)
		}
	}
	return out
}

func (s *Screen) showPhotos() {
	p := &s.photos
	if p.turnOf != (spot{check: s.at.check, leg: s.at.leg}) {
		p.turn, p.turnOf = 0, spot{check: s.at.check, leg: s.at.leg}
	}
	here := s.photosHere()
	p.nowID, p.nowSum = "", ""
	if len(here) == 0 {
		caption := lang.L("No photo of this check yet. Add photos, or drop them on the window.")
		if len(s.trayPhotos()) > 0 {
			caption = lang.L("No photo of this check yet. + takes the newest of the tray.")
		}
		p.none.SetText(caption)
		p.now.SetPhoto(nil, "")
		delete(p.filled, p.now)
		s.showEvidence(inspect.Photo{})
	} else {
		shown := here[p.turn%len(here)]
		p.nowID, p.nowSum = shown.ID, shown.SHA256
		s.showEvidence(shown)
		caption := fmt.Sprintf(lang.L("now: %s"), s.captionOf(shown, s.kase.Claim.Hours))
		if len(here) > 1 {
			caption = fmt.Sprintf(lang.L("%d of %d, %s"), p.turn%len(here)+1, len(here), caption)
		}
		s.fill(p.now, shown.SHA256, caption, func() bool { return p.nowSum == shown.SHA256 })
	}
	p.now.Hidden, p.noneFrame.Hidden = len(here) == 0, len(here) > 0
	p.backToTray.Hidden = len(here) == 0 || s.kase.Visit.Closed()
	p.closer.Hidden = len(here) == 0
	then, _, visit, had, _ := s.kase.ThenAndNow(s.at.check, s.at.leg)
	had = had && s.evidence.like.Hidden // its room is taken by the photo that this one looks like
	p.then.Hidden = !had
	p.thenSum = ""
	if had {
		p.thenSum = then.SHA256
		s.fill(p.then, then.SHA256, fmt.Sprintf(lang.L("then: %s"), s.captionOf(then, visit.Hours)), func() bool { return p.thenSum == then.SHA256 })
	}
	s.showTray()
	p.column.Refresh()
}

// captionOf says when a photo was taken, at how many hours, and what is wrong
// with it.
func (s *Screen) captionOf(p inspect.Photo, hours float64) string {
	text := words.Taken(s.env.Desk, p, s.evidence.clocks) + ", " + words.Hours(hours)
	if !p.Usable {
		text = lang.L("blurred, take it again") + " · " + text
	}
	return text
}

func (s *Screen) showTray() {
	p := &s.photos
	tray := s.trayPhotos()
	p.trayTitle.SetText(fmt.Sprintf(lang.L("Tray: %d"), len(tray)))
	p.trayHint.Hidden = len(tray) == 0 || s.kase.Visit.Closed()
	if len(tray) == 0 || s.evidence.like.Visible() {
		p.trayScroll.Hide() // its room goes to the pictures
	} else {
		p.trayScroll.Show()
	}
	tray = tray[:min(len(tray), shownInTray)]
	for len(p.cells) < len(tray) {
		p.cells = append(p.cells, newTrayCell(s))
	}
	p.tray.Objects = nil
	for i, ph := range tray {
		cell := p.cells[i]
		cell.photo.SetID(string(ph.ID), s.cellCaption(ph))
		p.tray.Objects = append(p.tray.Objects, cell.object)
		s.picture(ph.SHA256, cellPixels, func(img image.Image, err error) {
			if err != nil {
				cell.photo.SetFailed(string(ph.ID), lang.L("can't be shown"))
				return
			}
			cell.photo.SetImage(string(ph.ID), img)
		})
	}
	p.tray.Refresh()
}

func (s *Screen) cellCaption(p inspect.Photo) string {
	if ds := s.doubtsOn(p); len(ds) > 0 { // the first is the gravest
		switch ds[0].Kind {
		case shop.DoubtUnusable:
			return lang.L("blurred, take it again")
		case shop.DoubtNoDate:
			return lang.L("no camera date")
		case shop.DoubtAlike:
			return lang.L("seen before")
		}
		return lang.L("check its date")
	}
	return words.Taken(s.env.Desk, p, s.evidence.clocks)
}

// fill shows a photo unless the view shows just that: it may be zoomed.
func (s *Screen) fill(v *widgets.PhotoView, sum, caption string, still func() bool) {
	if s.photos.filled[v] == sum+caption {
		return
	}
	s.photos.filled[v] = ""
	s.picture(sum, largePixels, func(img image.Image, err error) {
		if !still() {
			return
		}
		if err != nil {
			v.SetPhoto(nil, fmt.Sprintf(lang.L("the photo can't be shown: %s"), inspect.SaidIn(tongue.Say, err)))
			return
		}
		v.SetPhoto(img, caption)
		s.photos.filled[v] = sum + caption
	})
}

// toCompare shows the check's photos of then and now, the one shown as now.
func (s *Screen) toCompare() {
	s.env.Go(place.Where{Name: place.Compare, Visit: s.where.Visit, Check: s.at.check, Leg: s.at.leg, Photo: s.photos.nowID})
}

// toMeasure opens the photo that is shown to mark and measure on it.
func (s *Screen) toMeasure() {
	if s.photos.nowID != "" {
		s.env.Go(place.Where{Name: place.Measure, Visit: s.where.Visit, Check: s.at.check, Leg: s.at.leg, Photo: s.photos.nowID})
	}
}

func (s *Screen) turnPhoto() {
	s.photos.turn++
	s.showPhotos()
}

// attachNewest puts the newest photo of the tray to the check at work.
func (s *Screen) attachNewest() {
	if !s.mayWrite() {
		return
	}
	tray := s.trayPhotos()
	if len(tray) == 0 {
		s.tell(lang.L("The tray is empty: add photos, or drop them on the window."))
		return
	}
	s.attach(tray[0].ID)
}

func (s *Screen) attach(id inspect.ID) {
	p, ok := s.line()
	if !ok || !s.mayWrite() || s.photos.leaving[id] {
		return
	}
	s.photos.leaving[id] = true
	at, stage := s.at, s.stage
	s.send(errand{
		work: func(ctx context.Context, c *shop.Case) error {
			return s.env.Desk.Attach(ctx, c, id, at.check, at.leg, stage)
		},
		done: func() {
			delete(s.photos.leaving, id)
			s.photos.turn = 0
			s.env.Say.Saved(fmt.Sprintf(lang.L("Photo of %s"), words.PartAt(p.Check.Name, p.Leg)), func() { s.detach(id) })
		},
	})
	s.showPhotos()
}

func (s *Screen) detachShown() {
	if s.photos.nowID != "" && s.mayWrite() {
		s.detach(s.photos.nowID)
	}
}

func (s *Screen) detach(id inspect.ID) {
	s.send(errand{
		work: func(ctx context.Context, c *shop.Case) error { return s.env.Desk.Attach(ctx, c, id, "", "", "") },
		done: func() { s.env.Say.Saved(lang.L("Photo is back in the tray"), nil) },
	})
}
