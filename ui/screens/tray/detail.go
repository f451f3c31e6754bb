package tray

import (
	"context"
	"fmt"
	"image"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/lang"
	"fyne.io/fyne/v2/layout"
	fynetheme "fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"forkwear/inspect"
	"forkwear/ui/screens/rows"
	"forkwear/ui/theme"
	"forkwear/ui/widgets"
	"forkwear/ui/words"
)

// detail shows the photo at the cursor and where the chosen ones can go.
type detail struct {
	box      *fyne.Container
	view     *widgets.PhotoView
	frame    *fyne.Container // of the view
	more     *widget.RichText
	facts    *widget.RichText
	doubts   *widget.RichText
	heading  *widget.RichText
	visits   *fyne.Container
	presses  []*rows.Press
	away     *widgets.TextButton
	hint     *widget.RichText
	page     *container.Scroll
	of       string // whose pixels and suggestions are shown or on their way
	turn     int
	stops    []func()
	offers   []offer
	alike    []inspect.Photo
	offersOf string
}

const largePixels = 900

func (s *Screen) buildDetail() {
	d := &s.detail
	d.view = widgets.NewPhotoView()
	d.facts, d.doubts = rows.Quiet(""), rows.Quiet("")
	d.doubts.Hide()
	d.heading = rows.Title("", false)
	d.visits = container.New(layout.NewCustomPaddedVBoxLayout(4))
	d.away = widgets.NewTextButton("", false, s.setAside)
	d.hint = rows.Quiet(lang.L("Arrows go through the photos, with Shift they choose more; Space chooses or lets go. The numbers 1 to 9 file them."))
	d.more = rows.Quiet("")
	d.frame = container.New(highView{}, d.view)
	d.page = container.NewVScroll(rows.Inset(container.NewVBox(d.frame, d.facts, d.doubts, d.heading, d.visits, d.more, rows.Gap(), d.away, d.hint)))
	d.box = container.NewStack(d.page)
}

// chosen brings the detail in line with what is chosen.
func (s *Screen) chosen() {
	d := &s.detail
	keys := s.grid.choice.picked()
	x, ok := s.shotBy(s.grid.choice.cursor)
	if !ok || x.coming() {
		d.cancel()
		d.view.SetPhoto(nil, "")
		d.frame.Hide()
		rows.SetQuiet(d.facts, lang.L("Choose photos to see them large and to file them."))
		d.doubts.Hide()
		d.alike = nil
	} else if d.of != x.key {
		s.showShot(x)
	}
	s.showOffers(len(keys))
}

// showShot shows one photo large; pixels, suggestions and look-alikes come as
// soon as workers have them.
func (s *Screen) showShot(x shot) {
	d := &s.detail
	d.cancel()
	d.of, d.alike = x.key, nil
	d.frame.Show()
	d.turn++
	turn := d.turn
	d.view.SetPhoto(s.thumbs.get(x.key), "")
	rows.SetQuiet(d.facts, s.factsOf(x))
	s.showDoubts(x)
	if s.env.Photos != nil {
		d.stops = append(d.stops, later(s, func(ctx context.Context) (image.Image, error) {
			return s.env.Photos.Preview(ctx, x.photo.SHA256, largePixels)
		}, func(img image.Image, err error) {
			switch {
			case d.turn != turn || d.of != x.key:
			case err != nil:
				d.view.SetPhoto(nil, lang.L("can't be shown")+": "+err.Error())
			default:
				d.view.SetPhoto(img, "")
			}
		}))
	}
	d.stops = append(d.stops, later(s, func(ctx context.Context) (lookedUp, error) { return s.lookUp(ctx, x) }, func(f lookedUp, err error) {
		if d.turn != turn || d.of != x.key {
			return
		}
		if err != nil { // the list stays without suggestions
			s.env.Say.Failed(err)
			return
		}
		d.offers, d.offersOf, d.alike = f.offers, x.key, f.alike
		s.showDoubts(x)
		s.showOffers(len(s.grid.choice.picked()))
	}))
}

// lookedUp is what is looked up for the photo at the cursor.
type lookedUp struct {
	offers []offer
	alike  []inspect.Photo
}

func (s *Screen) lookUp(ctx context.Context, x shot) (f lookedUp, err error) {
	if f.offers, err = s.offersFor(ctx, x); err != nil {
		return f, err
	}
	f.alike, err = s.env.Desk.LooksLike(ctx, x.photo)
	return f, err
}

// factsOf says when and by what a photo was taken.
func (s *Screen) factsOf(x shot) string {
	when := words.Taken(s.env.Desk, x.photo, s.clocks)
	for _, c := range s.clocks {
		if c.Camera == x.photo.Camera() && c.Add != 0 && x.photo.DateSource == "exif" {
			when += " (" + fmt.Sprintf(lang.L("camera's clock corrected by %s"), words.Offset(c.Add)) + ")"
		}
	}
	parts := []string{when}
	if c := x.photo.Camera(); c != "" {
		parts = append(parts, c)
	}
	return strings.Join(append(parts, x.photo.FileName), " · ")
}

func (s *Screen) showDoubts(x shot) {
	d := &s.detail
	var parts []string
	for _, w := range x.doubts {
		parts = append(parts, w.Words)
	}
	if len(d.alike) > 0 {
		parts = append(parts, fmt.Sprintf(lang.L("Looks like the photo of %s."), words.Taken(s.env.Desk, d.alike[0], s.clocks)))
	}
	d.doubts.Hidden = len(parts) == 0
	if len(parts) > 0 {
		d.doubts.Segments = []widget.RichTextSegment{&widget.TextSegment{Text: strings.Join(parts, "\n"),
			Style: widget.RichTextStyle{ColorName: theme.ColorNameReplace, SizeName: fynetheme.SizeNameCaptionText}}}
		d.doubts.Refresh()
	}
	rows.Settle(d.page)
}

// highView gives the large photo its height.
type highView struct{}

// MinSize implements fyne.Layout.
func (highView) MinSize([]fyne.CanvasObject) fyne.Size { return fyne.NewSize(200, 236) }

// Layout implements fyne.Layout.
func (highView) Layout(os []fyne.CanvasObject, s fyne.Size) { os[0].Resize(s) }

// cancel stops what is on its way for the photo that was shown.
func (d *detail) cancel() {
	for _, stop := range d.stops {
		stop()
	}
	d.stops, d.of = nil, ""
}
