package main

import (
	"context"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/lang"
	"fyne.io/fyne/v2/widget"

	"forkwear/cmd/forkwear/sample"
	"forkwear/inspect"
	"forkwear/inspect/shop"
	"forkwear/ui/place"
	"forkwear/ui/widgets"
)

// settings shows the parts of the long page that stand below its first screen.
func (g *guide) settings(context.Context) error {
	for _, p := range []struct{ name, title string }{
		{"settings-cameras", lang.L("Clocks of the cameras")}, {"settings-prices", lang.L("Prices")}} {
		g.do(func() { g.win.frame.Go(place.Where{Name: place.Settings}) })
		if err := g.scrollTo(p.title); err != nil {
			return err
		}
		if err := g.shot(p.name); err != nil {
			return err
		}
	}
	return nil
}

// tray chooses the first photo of those that wait for their fork.
func (g *guide) tray(context.Context) error {
	g.do(func() { g.win.frame.Go(place.Where{Name: place.Tray}) })
	keys, ok := g.win.frame.Screen().(place.Keyed)
	if !ok {
		return fmt.Errorf("the tray %T takes no keys", g.win.frame.Screen())
	}
	for _, k := range []fyne.KeyName{fyne.KeyRight, fyne.KeyLeft} {
		g.do(func() { keys.TypedKey(&fyne.KeyEvent{Name: k}) })
	}
	return g.shot("tray")
}

// dropPhotos drops the four pictures of a fork on the drop-off form.
func (g *guide) dropPhotos(fork inspect.Fork) error {
	drop, ok := g.win.frame.Screen().(place.Dropping)
	if !ok {
		return fmt.Errorf("the drop-off screen %T takes no photos", g.win.frame.Screen())
	}
	drawn, err := sample.AtCounter(fork, time.Now())
	if err != nil {
		return err
	}
	var files []string
	for _, d := range drawn {
		file := filepath.Join(g.out, "sample", d.Name)
		if err := os.WriteFile(file, d.JPEG, 0o600); err != nil {
			return err
		}
		files = append(files, file)
	}
	g.do(func() { drop.Dropped(files, fyne.Position{}) })
	if err := g.scrollTo(lang.L("Photos, before anything is touched")); err != nil {
		return err
	}
	return g.shot("drop-off-photos")
}

// evidence looks at then and now of a scratch that was measured at several
// visits, and at one of its photos; then it goes back to the fork at hand.
func (g *guide) evidence(ctx context.Context) error {
	visit := g.win.frame.Where().Visit
	pair, err := g.pair(ctx)
	if err != nil {
		return err
	}
	at := place.Where{Name: place.Compare, Visit: pair.VisitID, Check: pair.Check, Leg: pair.Leg, Photo: pair.ID}
	if err := g.visit("compare", at); err != nil {
		return err
	}
	if err := g.typed('a', "compare-aligned"); err != nil {
		return err
	}
	if err := g.typed('2', "compare-slider"); err != nil {
		return err
	}
	at.Name = place.Measure
	if err := g.visit("measure", at); err != nil {
		return err
	}
	if err := g.typed('m', "measure-marks"); err != nil {
		return err
	}
	g.do(func() { g.win.frame.Go(place.Where{Name: place.Inspect, Visit: visit}) })
	return nil
}

// typed types a key into the screen and takes its picture.
func (g *guide) typed(r rune, name string) error {
	keys, ok := g.win.frame.Screen().(place.Keyed)
	if !ok {
		return fmt.Errorf("the screen %T takes no keys", g.win.frame.Screen())
	}
	g.do(func() { keys.TypedRune(r) })
	return g.shot(name)
}

// pair is the newest photo that was measured and has one of an earlier visit
// beside it.
func (g *guide) pair(ctx context.Context) (inspect.Photo, error) {
	ps, err := g.lib.db.Photos(ctx, inspect.PhotoFilter{})
	if err != nil {
		return inspect.Photo{}, err
	}
	slices.SortStableFunc(ps, func(a, b inspect.Photo) int { return b.AddedAt.Compare(a.AddedAt) })
	for _, p := range ps {
		if p.VisitID == "" || p.Check == "" {
			continue
		}
		sizes, err := g.lib.desk.Measures(ctx, p.ID)
		if err != nil {
			return p, err
		}
		if len(sizes[p.ID]) == 0 {
			continue
		}
		c, err := g.lib.desk.Open(ctx, p.VisitID)
		if err != nil {
			return p, err
		}
		if all := c.Through(p.Check, p.Leg); len(all) > 1 && all[0].Photo.VisitID != p.VisitID {
			return p, nil
		}
	}
	return inspect.Photo{}, errors.New("the sample shop has no photo that was measured at two visits")
}

// counterPages is what the tour needs of the customer's view.
type counterPages interface {
	Show(i int)
	Answer(yes bool)
}

// sign answers all that the customer is asked, and signs.
func (g *guide) sign(ctx context.Context, visit inspect.ID) error {
	pages, ok := g.win.frame.Screen().(counterPages)
	if !ok {
		return fmt.Errorf("the counter screen %T can't be turned over", g.win.frame.Screen())
	}
	c, err := g.lib.desk.Open(ctx, visit)
	if err != nil {
		return err
	}
	prices, err := g.lib.desk.Prices(ctx)
	if err != nil {
		return err
	}
	jobs := g.lib.desk.Jobs(c, c.Assessments, prices)
	for i := range jobs {
		if jobs[i].Verdict != inspect.Reuse {
			g.do(func() { pages.Show(i) })
			g.do(func() { pages.Answer(true) })
		}
	}
	g.do(func() { pages.Show(len(jobs)) })
	if err := g.shot("counter-end"); err != nil {
		return err
	}
	if c, err = g.lib.desk.Open(ctx, visit); err != nil {
		return err
	}
	name := c.Customer.Name
	if _, err := g.lib.desk.Sign(ctx, c, name, shop.SignedHere, sample.Signature(name), "counter view"); err != nil {
		return err
	}
	g.do(func() { g.win.frame.Go(place.Where{Name: place.Decide, Visit: visit}) })
	g.do(func() { g.win.frame.Go(place.Where{Name: place.Counter, Visit: visit}) })
	if pages, ok = g.win.frame.Screen().(counterPages); !ok {
		return errors.New("the counter was left and did not open again")
	}
	g.do(func() { pages.Show(len(jobs)) })
	return g.shot("counter-signed")
}

// scrollTo brings a heading of the screen to the top of the page that holds it.
func (g *guide) scrollTo(title string) error {
	found := false
	g.do(func() {
		page, head := headed(g.win.frame.Screen().Content(), nil, title)
		if found = page != nil; found {
			d := g.win.app.Driver()
			at := d.AbsolutePositionForObject(head).Y - d.AbsolutePositionForObject(page.Content).Y
			page.ScrollToOffset(fyne.NewPos(0, at))
		}
	})
	if !found {
		return fmt.Errorf("the heading %q is not on the page", title)
	}
	return nil
}

// headed finds a heading by its words, and the page that scrolls it.
func headed(o fyne.CanvasObject, page *container.Scroll, title string) (*container.Scroll, fyne.CanvasObject) {
	switch x := o.(type) {
	case *fyne.Container:
		for _, child := range x.Objects {
			if p, head := headed(child, page, title); p != nil {
				return p, head
			}
		}
	case *container.Scroll:
		return headed(x.Content, x, title)
	case *widgets.Page:
		return headed(x.Scroll, page, title)
	case *widgets.Card: // its content is shown by any renderer of it
		for _, child := range x.CreateRenderer().Objects() {
			if p, head := headed(child, page, title); p != nil {
				return p, head
			}
		}
	case *widget.RichText:
		if x.String() == title {
			return page, x
		}
	case *widget.Label:
		if x.Text == title {
			return page, x
		}
	case *canvas.Text:
		if x.Text == title {
			return page, x
		}
	}
	return nil, nil
}
