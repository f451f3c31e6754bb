package dropoff

import (
	"context"
	"fmt"
	"image"
	"path/filepath"
	"slices"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/dialog"
	"fyne.io/fyne/v2/lang"
	"fyne.io/fyne/v2/storage"
	"fyne.io/fyne/v2/widget"

	"forkwear/inspect"
	"forkwear/ui/place"
	"forkwear/ui/run"
	"forkwear/ui/tongue"
	"forkwear/ui/widgets"
	"forkwear/ui/words"
)

// photoPlace is one of the four photos that are taken before anything is touched.
type photoPlace struct {
	key, role string
	leg       inspect.Leg
}

var photoPlaces = []photoPlace{
	{"left", "side", inspect.Left},
	{"right", "side", inspect.Right},
	{"serial", "serial", inspect.Whole},
	{"damage", "damage", inspect.Whole},
}

func (p photoPlace) word() string {
	switch p.key {
	case "left":
		return lang.L("Left side")
	case "right":
		return lang.L("Right side")
	case "serial":
		return lang.L("Serial number")
	}
	return lang.L("Damage")
}

// placed is a photo that lies in a place of the form. Its bytes are in the vault
// already; its record is filed with the visit, which does not exist yet.
type placed struct {
	Photo    inspect.Photo
	Unsorted bool // it had its record, without a visit
}

// photoCell is a place as it is shown.
type photoCell struct {
	place  photoPlace
	cell   *widgets.PhotoCell
	note   *widget.Label
	newest *widgets.Chip
	away   *widgets.Chip
}

func (s *Screen) buildPhotos() fyne.CanvasObject {
	grid := container.NewGridWithColumns(2)
	for _, p := range photoPlaces {
		c := &photoCell{place: p, note: quiet("", true)}
		c.cell = widgets.NewPhotoCell(func(string) { s.onChoose(c) })
		c.newest = widgets.NewChip(lang.L("Newest photo"), func() { s.onNewest(c) })
		c.away = widgets.NewChip(lang.L("Take out"), func() { s.onPhotoAway(c) })
		s.cells = append(s.cells, c)
		grid.Add(container.NewVBox(container.New(high{150}, c.cell), c.note, container.NewHBox(c.newest, c.away)))
	}
	s.syncs = append(s.syncs, s.showPhotos)
	return section(lang.L("Photos, before anything is touched"), grid,
		flush(quiet(lang.L("Press a place to choose a file, or drop files on it. “Newest photo” takes the last one that came in and belongs to no visit yet."), true)))
}

// high gives its only child a height.
type high struct{ height float32 }

// MinSize implements fyne.Layout.
func (h high) MinSize(os []fyne.CanvasObject) fyne.Size {
	return fyne.NewSize(os[0].MinSize().Width, h.height)
}

// Layout implements fyne.Layout.
func (h high) Layout(os []fyne.CanvasObject, s fyne.Size) { os[0].Resize(s) }

// showPhotos puts the form's photos into the cells.
func (s *Screen) showPhotos() {
	for _, c := range s.cells {
		p, ok := s.form.Photos[c.place.key]
		show(c.away, ok)
		if !ok {
			c.cell.SetID("place:"+c.place.key, c.place.word())
			c.cell.SetFailed("place:"+c.place.key, lang.L("press or drop a photo"))
			c.says("", false)
			continue
		}
		c.says(photoSays(p.Photo), !p.Photo.Usable)
		if id := c.place.key + ":" + p.Photo.SHA256; c.cell.ID() != id {
			c.cell.SetID(id, c.place.word())
			s.loadPhoto(c, id, p.Photo.SHA256)
		}
	}
}

// photoSays is what stands under a photo: its date, or why it must be taken again.
func photoSays(p inspect.Photo) string {
	if p.Usable {
		return words.PhotoDate(p)
	}
	if len(p.Remarks) == 0 {
		return lang.L("not usable: take it again")
	}
	var why []string
	for _, r := range p.Remarks {
		why = append(why, tongue.Say(r))
	}
	return fmt.Sprintf(lang.L("%s: take it again"), strings.Join(why, ", "))
}

func (c *photoCell) says(text string, alarm bool) {
	c.note.Importance = widget.LowImportance
	if c.note.TextStyle.Bold = alarm; alarm {
		c.note.Importance = widget.DangerImportance
	}
	show(c.note, text != "")
	c.note.SetText(text)
}

// cellPixels is the longer side of a photo in a cell, about twice what is shown.
const cellPixels = 560

func (s *Screen) loadPhoto(c *photoCell, id, sum string) {
	photos := s.env.Photos
	s.stops["photo "+c.place.key] = run.Go(s.env.Run, func(ctx context.Context) (image.Image, error) {
		return photos.Preview(ctx, sum, cellPixels)
	}, func(img image.Image, err error) {
		switch {
		case ctxErr(err):
		case err != nil:
			c.cell.SetFailed(id, lang.L("can't be shown"))
		default:
			c.cell.SetImage(id, img)
		}
	})
}

// pictureEndings are those that the file dialog shows; what a file is, its
// bytes tell.
var pictureEndings = []string{".jpg", ".jpeg", ".png", ".heic", ".heif", ".tif", ".tiff", ".webp"}

func (s *Screen) onChoose(c *photoCell) {
	d := dialog.NewFileOpen(func(r fyne.URIReadCloser, err error) {
		switch {
		case err != nil:
			s.say(inspect.Refuse(inspect.NotFound, "the file can't be opened: choose another one (%w)", err))
		case r != nil:
			path := r.URI().Path()
			_ = r.Close() // it is read in a worker
			s.takePhotos([]string{path}, []*photoCell{c})
		}
	}, s.env.Window)
	d.SetFilter(storage.NewExtensionFileFilter(pictureEndings))
	d.Resize(fyne.NewSize(900, 600))
	d.Show()
}

// Dropped implements place.Dropping: on a place into it, elsewhere into the
// places that are empty.
func (s *Screen) Dropped(paths []string, at fyne.Position) {
	var free []*photoCell
	for _, c := range s.cells {
		o, size := fyne.CurrentApp().Driver().AbsolutePositionForObject(c.cell), c.cell.Size()
		if at.X >= o.X && at.Y >= o.Y && at.X < o.X+size.Width && at.Y < o.Y+size.Height {
			free = append([]*photoCell{c}, free...)
		} else if _, taken := s.form.Photos[c.place.key]; !taken {
			free = append(free, c)
		}
	}
	if len(free) == 0 {
		s.say(inspect.Refuse(inspect.Invalid, "all four places have their photo: drop one on a place to take another, or add more at the next step"))
		return
	}
	if len(paths) > len(free) {
		s.say(inspect.Refuse(inspect.Invalid, "there is room for %d of the %d photos: add the others at the next step", len(free), len(paths)))
		paths = paths[:len(free)]
	}
	s.takePhotos(paths, free)
}

// takePhotos brings files into the vault and puts each into its place.
func (s *Screen) takePhotos(paths []string, to []*photoCell) {
	photos := s.env.Photos
	for i := range paths {
		id := "place:" + to[i].place.key
		to[i].cell.SetID(id, to[i].place.word())
		to[i].cell.SetFailed(id, lang.L("taking it in …"))
	}
	run.Go(s.env.Run, func(ctx context.Context) ([]place.Imported, error) {
		return photos.Import(ctx, paths, func(int, int, string) {}), ctx.Err()
	}, func(got []place.Imported, err error) {
		for i, in := range got {
			if i >= len(to) {
				break // a folder holds more than one
			}
			if in.Err != nil {
				err = in.Err
				continue
			}
			if e := s.putPhoto(to[i], placed{Photo: in.Photo}); e != nil {
				err = e
			}
		}
		s.afterPhotos(err)
	})
}

// putPhoto puts a photo into a place, once only.
func (s *Screen) putPhoto(c *photoCell, p placed) error {
	for key, other := range s.form.Photos {
		if other.Photo.SHA256 == p.Photo.SHA256 && key != c.place.key {
			return inspect.Refuse(inspect.Invalid, "%s is in another place already: choose another photo", filepath.Base(p.Photo.FileName))
		}
	}
	if s.form.Photos == nil {
		s.form.Photos = map[string]placed{}
	}
	s.form.Photos[c.place.key] = p
	return nil
}

func (s *Screen) afterPhotos(err error) {
	if ctxErr(err) {
		return
	}
	if err != nil {
		s.env.Say.Failed(err)
		s.say(err)
	}
	s.showPhotos()
	s.relayout()
	s.changed()
}

// onNewest takes the newest photo that belongs to no visit and lies in no place.
func (s *Screen) onNewest(c *photoCell) {
	d := s.env.Desk
	run.Go(s.env.Run, d.Unsorted, func(ps []inspect.Photo, err error) {
		if err == nil {
			err = inspect.Refuse(inspect.NotFound, "no photo is waiting: take one, or choose a file")
			slices.Reverse(ps) // newest first, also of those that came at one moment
			slices.SortStableFunc(ps, func(a, b inspect.Photo) int { return b.AddedAt.Compare(a.AddedAt) })
			for _, p := range ps {
				if err = s.putPhoto(c, placed{Photo: p, Unsorted: true}); err == nil {
					break
				}
			}
		}
		s.afterPhotos(err)
	})
}

func (s *Screen) onPhotoAway(c *photoCell) {
	delete(s.form.Photos, c.place.key)
	s.afterPhotos(nil)
}

// filePhotos files the photos of the form with the visit; it runs in a worker.
// One that can't be filed does not keep the others.
func (s *Screen) filePhotos(ctx context.Context, v inspect.Visit, photos map[string]placed) error {
	if len(photos) == 0 {
		return nil
	}
	d := s.env.Desk
	c, err := d.Open(ctx, v.ID)
	if err != nil {
		return inspect.Refuse(inspect.CodeOf(err), "ticket %d is taken in, but its photos are not filed: %w", v.Ticket, err)
	}
	var failed []string
	for _, pl := range photoPlaces {
		p, ok := photos[pl.key]
		if !ok {
			continue
		}
		ph := p.Photo
		ph.Role, ph.Leg, ph.Stage = pl.role, pl.leg, inspect.Received
		if p.Unsorted {
			if err = d.File(ctx, ph.ID, v.ID); err == nil {
				ph.VisitID = v.ID
				err = d.Lib.PlacePhoto(ctx, ph)
			}
		} else {
			_, _, err = d.KeepPhoto(ctx, c, ph)
		}
		if err != nil {
			failed = append(failed, pl.word()+" ("+inspect.SaidIn(tongue.Say, err)+")")
		}
	}
	if failed == nil {
		return nil
	}
	return inspect.Refuse(inspect.Invalid, "ticket %d is taken in, but these photos are not filed: %s. Add them at Inspect", v.Ticket, strings.Join(failed, "; "))
}
