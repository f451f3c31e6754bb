package inspection

import (
	"context"
	"fmt"
	"image"
	"slices"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/dialog"
	fynetheme "fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"forkwear/inspect"
	"forkwear/inspect/shop"
	"forkwear/ui/place"
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
	tray                              *fyne.Container
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
	p.title = heading("Photos")
	p.now, p.then = widgets.NewPhotoView(), widgets.NewPhotoView()
	p.now.OnTapped = func(_, _ float64) { s.turnPhoto() }
	p.backToTray = widgets.NewChip("back to the tray", s.detachShown)
	p.trayTitle, p.report = heading("Tray"), quiet("")
	p.report.Hide()
	p.tray = container.NewGridWrap(fyne.NewSize(140, 116))
	add := container.NewGridWithColumns(2,
		widgets.NewTextButton("Add photos", false, s.chooseFile), widgets.NewTextButton("Add a folder", false, s.chooseFolder))
	p.none = quiet("")
	p.none.Alignment = fyne.TextAlignCenter
	p.noneFrame = widgets.NewCard(p.none)
	views := container.New(photoPair{}, container.NewStack(p.now, p.noneFrame), p.then)
	top := container.NewBorder(nil, nil, nil, p.backToTray, p.title)
	scroll := container.NewVScroll(p.tray)
	scroll.SetMinSize(fyne.NewSize(140, 132))
	p.trayHint = widget.NewLabel("tap or + attaches")
	p.trayHint.SizeName = fynetheme.SizeNameCaptionText
	head := container.NewBorder(nil, nil, nil, p.trayHint, p.trayTitle)
	p.column = container.NewBorder(top, container.NewVBox(head, add, p.report, scroll), nil, nil, views)
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
		caption := "No photo of this check yet. Add photos, or drop them on the window."
		if len(s.trayPhotos()) > 0 {
			caption = "No photo of this check yet. + takes the newest of the tray."
		}
		p.none.SetText(caption)
		p.now.SetPhoto(nil, "")
		delete(p.filled, p.now)
	} else {
		shown := here[p.turn%len(here)]
		p.nowID, p.nowSum = shown.ID, shown.SHA256
		caption := "now: " + captionOf(shown, s.kase.Claim.Hours)
		if len(here) > 1 {
			caption = fmt.Sprintf("%d of %d, %s", p.turn%len(here)+1, len(here), caption)
		}
		s.fill(p.now, shown.SHA256, caption, func() bool { return p.nowSum == shown.SHA256 })
	}
	p.now.Hidden, p.noneFrame.Hidden = len(here) == 0, len(here) > 0
	p.backToTray.Hidden = len(here) == 0 || s.kase.Visit.Closed()
	then, _, visit, had, _ := s.kase.ThenAndNow(s.at.check, s.at.leg)
	p.then.Hidden = !had
	p.thenSum = ""
	if had {
		p.thenSum = then.SHA256
		s.fill(p.then, then.SHA256, "then: "+captionOf(then, visit.Hours), func() bool { return p.thenSum == then.SHA256 })
	}
	s.showTray()
	p.column.Refresh()
}

// captionOf says when a photo was taken, at how many hours, and what is wrong
// with it.
func captionOf(p inspect.Photo, hours float64) string {
	text := words.PhotoDate(p) + ", " + words.Hours(hours)
	if !p.Usable {
		text = "blurred, take it again · " + text
	}
	return text
}

func (s *Screen) showTray() {
	p := &s.photos
	tray := s.trayPhotos()
	p.trayTitle.SetText(fmt.Sprintf("Tray: %d", len(tray)))
	p.trayHint.Hidden = len(tray) == 0 || s.kase.Visit.Closed()
	tray = tray[:min(len(tray), shownInTray)]
	for len(p.cells) < len(tray) {
		p.cells = append(p.cells, newTrayCell(s))
	}
	p.tray.Objects = nil
	for i, ph := range tray {
		cell := p.cells[i]
		cell.photo.SetID(string(ph.ID), cellCaption(ph))
		p.tray.Objects = append(p.tray.Objects, cell.object)
		s.picture(ph.SHA256, cellPixels, func(img image.Image, err error) {
			if err != nil {
				cell.photo.SetFailed(string(ph.ID), "can't be shown")
				return
			}
			cell.photo.SetImage(string(ph.ID), img)
		})
	}
	p.tray.Refresh()
}

func cellCaption(p inspect.Photo) string {
	switch {
	case !p.Usable:
		return "blurred, take it again"
	case p.DateSource != "exif":
		return "no camera date"
	}
	return words.PhotoDate(p)
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
			v.SetPhoto(nil, "the photo can't be shown: "+err.Error())
			return
		}
		v.SetPhoto(img, caption)
		s.photos.filled[v] = sum + caption
	})
}

// picture gives pixels at once where they are kept, else as soon as a worker
// has them.
func (s *Screen) picture(sum string, px int, done func(image.Image, error)) {
	p := &s.photos
	key := fmt.Sprintf("%s/%d", sum, px)
	if img, ok := p.pictures[key]; ok {
		done(img, nil)
		return
	}
	if s.env.Photos == nil {
		return
	}
	for i := range p.asks {
		if p.asks[i].key == key {
			p.asks[i].done = append(p.asks[i].done, done)
			return
		}
	}
	p.asks = append(p.asks, ask{key: key, sum: sum, px: px, done: []func(image.Image, error){done}})
	s.fetch()
}

// ask is a picture that is wanted: large ones are fetched before cells.
type ask struct {
	key, sum string
	px       int
	done     []func(image.Image, error)
	running  bool
}

// fetch gets one picture after the other, so that a full tray does not take all
// of the machine.
func (s *Screen) fetch() {
	p := &s.photos
	next := -1
	for i, a := range p.asks {
		if a.running {
			return
		}
		if next < 0 || a.px > p.asks[next].px {
			next = i
		}
	}
	if next < 0 {
		return
	}
	p.asks[next].running = true
	a := p.asks[next]
	later(s, func(ctx context.Context) (image.Image, error) {
		return s.env.Photos.Preview(ctx, a.sum, a.px)
	}, func(img image.Image, err error) { s.fetched(a.key, img, err) })
}

func (s *Screen) fetched(key string, img image.Image, err error) {
	p := &s.photos
	i := slices.IndexFunc(p.asks, func(a ask) bool { return a.key == key })
	a := p.asks[i]
	p.asks = slices.Delete(p.asks, i, i+1)
	if err == nil {
		if len(p.pictures) >= keptPictures {
			clear(p.pictures)
		}
		p.pictures[key] = img
	}
	for _, done := range a.done {
		done(img, err)
	}
	s.fetch()
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
		s.tell("The tray is empty: add photos, or drop them on the window.")
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
			s.env.Say.Saved("Photo of "+words.PartAt(p.Check.Name, p.Leg), func() { s.detach(id) })
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
		done: func() { s.env.Say.Saved("Photo is back in the tray", nil) },
	})
}

func (s *Screen) chooseFile() {
	if !s.mayWrite() {
		return
	}
	dialog.ShowFileOpen(func(r fyne.URIReadCloser, err error) {
		switch {
		case err != nil:
			s.env.Say.Failed(err)
		case r != nil:
			_ = r.Close() // only its name is wanted
			s.importPhotos([]string{r.URI().Path()})
		}
	}, s.env.Window)
}

func (s *Screen) chooseFolder() {
	if !s.mayWrite() {
		return
	}
	dialog.ShowFolderOpen(func(u fyne.ListableURI, err error) {
		switch {
		case err != nil:
			s.env.Say.Failed(err)
		case u != nil:
			s.importPhotos([]string{u.Path()})
		}
	}, s.env.Window)
}

// Dropped implements place.Dropping.
func (s *Screen) Dropped(paths []string, _ fyne.Position) { s.importPhotos(paths) }

// importPhotos takes files and folders in beside the window, then files them in
// the tray in one errand.
func (s *Screen) importPhotos(paths []string) {
	if len(paths) == 0 || !s.mayWrite() {
		return
	}
	var stop func()
	update, done := s.env.Say.Working("Taking in photos", func() {
		if stop != nil {
			stop()
		}
	})
	stop = later(s, func(ctx context.Context) ([]place.Imported, error) {
		progress := func(n, of int, name string) {
			s.env.Run.Tell(func() { update(fmt.Sprintf("Taking in photos: %d of %d, %s", n, of, name)) })
		}
		return s.env.Photos.Import(ctx, paths, progress), nil
	}, func(in []place.Imported, err error) {
		done()
		if err != nil {
			s.env.Say.Failed(err)
			return
		}
		s.fileImported(in)
	})
}

func (s *Screen) fileImported(in []place.Imported) {
	var t tally
	s.send(errand{
		work: func(ctx context.Context, c *shop.Case) error {
			for _, x := range in {
				if x.Err != nil {
					t.lines = append(t.lines, x.Err.Error())
					continue
				}
				_, existed, err := s.env.Desk.KeepPhoto(ctx, c, x.Photo)
				if err != nil {
					return err
				}
				t.add(x.Photo, existed)
			}
			return nil
		},
		done: func() {
			s.photos.report.SetText(t.words())
			s.photos.report.Show()
			s.env.Say.Saved(t.first(), nil)
		},
	})
}

// tally is what came of an import.
type tally struct {
	added, known int
	lines        []string
}

func (t *tally) add(p inspect.Photo, existed bool) {
	if existed {
		t.known++
		t.lines = append(t.lines, p.FileName+": the same photo was here already")
		return
	}
	t.added++
	switch {
	case !p.Usable:
		t.lines = append(t.lines, p.FileName+": blurred, take it again")
	case p.DateSource != "exif":
		t.lines = append(t.lines, p.FileName+": no camera date")
	}
}

func (t *tally) first() string {
	text := fmt.Sprintf("%d photos added to the tray", t.added)
	if t.added == 1 {
		text = "1 photo added to the tray"
	}
	if t.known > 0 {
		text += fmt.Sprintf(", %d known already", t.known)
	}
	return text
}

func (t *tally) words() string {
	lines := append([]string{t.first()}, t.lines...)
	if more := len(lines) - reportedLines; more > 0 {
		lines = append(lines[:reportedLines], fmt.Sprintf("and %d more", more))
	}
	return strings.Join(lines, "\n")
}
