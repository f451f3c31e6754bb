package settings

import (
	"context"
	"fmt"
	"image"
	"slices"
	"strings"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/lang"
	"fyne.io/fyne/v2/widget"

	"forkwear/inspect"
	"forkwear/inspect/shop"
	"forkwear/ui/run"
	"forkwear/ui/screens/rows"
	"forkwear/ui/screens/visitbar"
	"forkwear/ui/widgets"
	"forkwear/ui/words"
)

// cameras is how far the clock of each camera is off.
type cameras struct {
	all     []shop.Camera
	list    *fyne.Container
	open    string // the camera whose clock is being set
	queue   visitbar.Queue
	offset  *widget.Entry
	shown   *widget.Entry
	refused rows.Refusal
	photos  []inspect.Photo // of the open camera, newest first
	cells   []*widgets.PhotoCell
	strip   *fyne.Container
	chosen  inspect.Photo // the photo of the shop's clock
	learn   *fyne.Container
}

const (
	clockPhotos      = 8   // of a camera are offered as photos of the shop's clock
	clockPhotoPixels = 280 // of their thumbs
)

// buildCameras is the part of the page about photos: where they come from and
// what their cameras' clocks show.
func (s *Screen) buildCameras() fyne.CanvasObject {
	c := &s.cameras
	c.list = container.NewVBox()
	return container.NewVBox(rows.Gap(), rows.Title(lang.L("Watched folder"), false), s.buildFolder(),
		rows.Gap(), rows.Title(lang.L("Clocks of the cameras"), false),
		rows.Quiet(lang.L("Photos are filed by their time, so a clock that is off files them wrong. A correction counts when a photo is looked at; the photo itself stays as it is.")),
		c.list)
}

// loadCameras brings the cameras of the library.
func (s *Screen) loadCameras() {
	s.listenFolder()
	run.Go(s.env.Run, s.env.Desk.Cameras, func(all []shop.Camera, err error) {
		if s.closed {
			return
		}
		if err != nil {
			s.env.Say.Failed(err)
			return
		}
		s.cameras.all = all
		s.showCameras()
	})
}

func (s *Screen) showCameras() {
	c := &s.cameras
	c.list.RemoveAll()
	if len(c.all) == 0 {
		c.list.Add(rows.Quiet(lang.L("No photo of a camera that gives its name is here yet.")))
	}
	for _, cam := range c.all {
		p := rows.NewPress([]rows.Column{{Share: 2}, {Share: 1.2, Right: true}}, func() { s.onCamera(cam.Name) },
			rows.Cell{Text: cam.Name, Under: photosWord(cam.Photos)}, rows.Cell{Text: clockWord(cam.Clock)})
		p.SetSelected(cam.Name == c.open)
		c.list.Add(p)
		if cam.Name == c.open {
			c.list.Add(s.clockForm(cam))
		}
	}
	rows.Settle(s.page)
}

func photosWord(n int) string {
	if n == 1 {
		return lang.L("1 photo")
	}
	return fmt.Sprintf(lang.L("%d photos"), n)
}

func clockWord(c *inspect.CameraClock) string {
	if c == nil || c.Add == 0 {
		return lang.L("as it shows")
	}
	return words.Offset(c.Add)
}

// onCamera opens the clock of a camera, or folds it.
func (s *Screen) onCamera(name string) {
	c := &s.cameras
	if c.open == name {
		c.open = ""
		s.showCameras()
		return
	}
	c.open, c.photos, c.chosen = name, nil, inspect.Photo{}
	s.showCameras()
	run.Go(s.env.Run, func(ctx context.Context) ([]inspect.Photo, error) {
		all, err := s.env.Desk.Lib.Photos(ctx, inspect.PhotoFilter{})
		var out []inspect.Photo
		for i := len(all) - 1; i >= 0 && len(out) < clockPhotos; i-- {
			if p := all[i]; p.Camera() == name && p.WallTime != "" && p.DateSource != "file time" {
				out = append(out, p)
			}
		}
		return out, err
	}, func(ps []inspect.Photo, err error) {
		switch {
		case s.closed || c.open != name:
		case err != nil:
			s.env.Say.Failed(err)
		default:
			c.photos = ps
			s.showClockPhotos()
		}
	})
}

// clockForm sets a clock by hand or learns it from a photo.
func (s *Screen) clockForm(cam shop.Camera) fyne.CanvasObject {
	c := &s.cameras
	c.offset, c.shown, c.refused = widget.NewEntry(), widget.NewEntry(), rows.NewRefusal()
	c.offset.SetPlaceHolder(lang.L("such as +1 h or -00:03:20"))
	c.offset.OnSubmitted = func(string) { s.onOffset(cam.Name) }
	c.shown.OnSubmitted = func(string) { s.onLearn(cam.Name) }
	byHand := container.NewBorder(nil, nil, nil, widgets.NewTextButton(lang.L("Set"), false, func() { s.onOffset(cam.Name) }), rows.Target(c.offset))
	c.strip = container.NewGridWrap(fyne.NewSize(148, 124))
	c.learn = container.NewVBox(rows.Quiet(lang.L("What did the shop's clock show in it? Time, or date and time.")),
		container.NewBorder(nil, nil, nil, widgets.NewTextButton(lang.L("Learn"), false, func() { s.onLearn(cam.Name) }), rows.Target(c.shown)))
	c.learn.Hide()
	box := container.NewVBox(rows.Quiet(lang.L("Add to what its clock shows")), byHand,
		rows.Quiet(lang.L("Or learn it: choose a photo of the shop's clock, taken with this camera.")), c.strip, c.learn, c.refused.RichText)
	if cam.Clock != nil && cam.Clock.Add != 0 {
		box.Add(container.NewHBox(widgets.NewTextButton(lang.L("Its clock is right"), false, func() { s.keepClock(cam.Name, 0, lang.L("taken as right")) })))
	}
	return rows.Inset(box)
}

// showClockPhotos offers photos that may show the shop's clock.
func (s *Screen) showClockPhotos() {
	c := &s.cameras
	c.cells, c.strip.Objects = nil, nil
	for _, p := range c.photos {
		id := string(p.ID)
		cell := widgets.NewPhotoCell(func(string) { s.onClockPhoto(p) })
		cell.SetID(id, words.PhotoDate(p)) // as the camera shows it
		c.cells = append(c.cells, cell)
		c.strip.Add(cell)
		if s.env.Photos == nil {
			continue
		}
		run.Go(s.env.Run, func(ctx context.Context) (image.Image, error) {
			return s.env.Photos.Preview(ctx, p.SHA256, clockPhotoPixels)
		}, func(img image.Image, err error) {
			if err != nil {
				cell.SetFailed(id, lang.L("can't be shown"))
				return
			}
			cell.SetImage(id, img)
		})
	}
	if len(c.photos) == 0 {
		c.strip.Add(rows.Quiet(lang.L("none yet")))
	}
	rows.Settle(s.page)
}

func (s *Screen) onClockPhoto(p inspect.Photo) {
	c := &s.cameras
	c.chosen = p
	for i, cell := range c.cells {
		cell.SetSelected(c.photos[i].ID == p.ID)
	}
	c.learn.Show()
	if _, clock, ok := strings.Cut(p.WallTime, "T"); ok {
		c.shown.SetPlaceHolder(lang.L("such as") + " " + clock)
	}
	rows.Settle(s.page)
	s.env.Window.Canvas().Focus(c.shown)
}

// onOffset keeps a correction that was typed.
func (s *Screen) onOffset(camera string) {
	add, err := readOffset(s.cameras.offset.Text)
	s.refuseClock(err)
	if err == nil {
		s.keepClock(camera, add, words.Offset(add))
	}
}

func (s *Screen) refuseClock(err error) {
	s.cameras.refused.Set(err)
	rows.Settle(s.page)
}

// onLearn learns the clock from the chosen photo.
func (s *Screen) onLearn(camera string) {
	c, d := &s.cameras, s.env.Desk
	zone := d.Zone
	if zone == nil {
		zone = time.Local
	}
	near, _ := d.TakenAt(c.chosen, nil)
	shown, err := readShown(c.shown.Text, near, zone)
	s.refuseClock(err)
	if err != nil {
		return
	}
	photo, before := c.chosen, s.addOf(camera)
	var learnt inspect.CameraClock
	c.queue.Do(s.env.Run, func(ctx context.Context) (err error) {
		learnt, err = d.LearnClock(ctx, photo, shown)
		return err
	}, func(err error) { s.clockKept(camera, words.Offset(learnt.Add), before, err) })
}

func (s *Screen) addOf(camera string) time.Duration {
	i := slices.IndexFunc(s.cameras.all, func(c shop.Camera) bool { return c.Name == camera })
	if i < 0 || s.cameras.all[i].Clock == nil {
		return 0
	}
	return s.cameras.all[i].Clock.Add
}

// keepClock keeps a correction, with the way back.
func (s *Screen) keepClock(camera string, add time.Duration, said string) {
	before := s.addOf(camera)
	s.cameras.queue.Do(s.env.Run, func(ctx context.Context) error { return s.env.Desk.SetClock(ctx, camera, add) },
		func(err error) { s.clockKept(camera, said, before, err) })
}

// clockKept tells it, and tries the photos of the tray anew.
func (s *Screen) clockKept(camera, said string, before time.Duration, err error) {
	if err != nil {
		s.refuseClock(err)
		s.env.Say.Failed(err)
		return
	}
	back := words.Offset(before)
	s.env.Say.Saved(fmt.Sprintf(lang.L("Clock of %s: %s"), camera, said), func() { s.keepClock(camera, before, back) })
	s.cameras.open = ""
	if !s.closed {
		s.loadCameras()
	}
	if s.env.Arrivals != nil {
		s.env.Arrivals.SortAgain()
	}
}
