package forklife

import (
	"context"
	"fmt"
	"image"
	"math"
	"strings"

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
	"forkwear/ui/screens/visitbar"
	"forkwear/ui/tongue"
	"forkwear/ui/widgets"
	"forkwear/ui/words"
)

func (s *Screen) buildWear() fyne.CanvasObject {
	title := rows.Title(lang.L("Wear of the parts in it"), false)
	if len(s.life.checks) == 0 {
		return container.NewVBox(title, rows.Quiet(lang.L("Nothing that grows with use was read on this fork yet. The first reading is a baseline, the second makes a line.")))
	}
	var names []string
	for _, k := range s.life.checks {
		names = append(names, k.name(s.env.Desk.Catalog))
	}
	s.chosen = widget.NewSelect(names, s.onChosen)
	s.plot = widgets.NewTrendPlot(widgets.Trend{EmptyWord: lang.L("Loading …")})
	s.plot.OnTapped = s.onPoint
	s.plot.OnHover = s.onHover
	s.told, s.reading, s.photos = rows.Quiet(""), rows.Quiet(""), rows.Title(lang.L("Photos of this check"), false)
	s.compare = widgets.NewTextButton(lang.L("Compare these photos"), false, s.onCompare)
	s.strip = container.NewHBox()
	s.large = widgets.NewPhotoView()
	s.large.Hide()
	s.beside = newPointed()
	s.views = s.newViews(s.plot)
	plot := rows.Beside(widgets.NewCard(container.New(&tall{height: 300}, s.views.box)), s.beside.box, .64, 520)
	steps := container.NewHBox(widgets.NewTextButton("‹", false, func() { s.step(-1) }), widgets.NewTextButton("›", false, func() { s.step(1) }))
	return container.NewVBox(container.NewBorder(nil, nil, nil, steps, title), s.chosen, s.views.bar, plot, s.reading, s.told,
		container.NewBorder(nil, nil, nil, s.compare, s.photos), container.NewHScroll(s.strip), container.New(&tall{height: 360}, s.large))
}

// tall gives its one object a height; nothing while it is hidden.
type tall struct{ height float32 }

// MinSize implements fyne.Layout.
func (t *tall) MinSize(os []fyne.CanvasObject) fyne.Size {
	if !os[0].Visible() {
		return fyne.NewSize(0, 0)
	}
	return fyne.NewSize(os[0].MinSize().Width, max(t.height, os[0].MinSize().Height))
}

// Layout implements fyne.Layout.
func (t *tall) Layout(os []fyne.CanvasObject, s fyne.Size) {
	os[0].Move(fyne.NewPos(0, 0))
	os[0].Resize(s)
}

// chooseFirst shows the check that was asked for, else the first.
func (s *Screen) chooseFirst() {
	if s.chosen == nil {
		return
	}
	at := 0
	for i, k := range s.life.checks {
		if k.check.ID == s.where.Check && (s.where.Leg == inspect.Whole || k.leg == s.where.Leg) {
			at = i
			break
		}
	}
	s.chosen.SetSelectedIndex(at)
}

func (s *Screen) step(by int) {
	if n := len(s.life.checks); n > 0 {
		s.chosen.SetSelectedIndex((s.chosen.SelectedIndex() + by + n) % n)
	}
}

func (s *Screen) onChosen(string) {
	at := s.chosen.SelectedIndex()
	if at < 0 {
		return
	}
	k := s.life.checks[at]
	s.turn++
	turn := s.turn
	s.trend = nil
	s.showPoint("")
	s.plot.SetTrend(widgets.Trend{EmptyWord: lang.L("Loading …")})
	rows.SetQuiet(s.told, "")
	rows.SetQuiet(s.reading, last(k, s.life.sheet))
	s.showPhotos(k)
	s.showFittings(k)
	newest := s.life.newest
	s.cancels = append(s.cancels, run.Go(s.env.Run, func(ctx context.Context) (*shop.Trend, error) {
		return s.env.Desk.Trend(ctx, newest, k.check, k.leg)
	}, func(t *shop.Trend, err error) {
		if turn == s.turn && !s.closed {
			s.onTrend(k, t, err)
			s.loadPhoto(0)
		}
	}))
}

// last tells the newest reading and the limit.
func last(k check, sheet catalog.Sheet) string {
	if w := words.Limit(k.check, sheet); w != "" {
		return fmt.Sprintf(lang.L("Last: %s · %s"), words.Reading(k.check, k.last), w)
	}
	return fmt.Sprintf(lang.L("Last: %s"), words.Reading(k.check, k.last))
}

func (s *Screen) onTrend(k check, t *shop.Trend, err error) {
	s.trend = t
	switch {
	case err != nil:
		s.env.Say.Failed(err)
		s.plot.SetTrend(widgets.Trend{EmptyWord: lang.L("No line can be drawn")})
		rows.SetQuiet(s.told, inspect.SaidIn(tongue.Say, err))
	case t == nil:
		s.plot.SetTrend(widgets.Trend{EmptyWord: lang.L("The part that is in now was never read by this check")})
		rows.SetQuiet(s.told, lang.L("Earlier readings belong to a part that was taken out."))
	default:
		s.plot.SetTrend(s.plotOf(k.check, t))
		rows.SetQuiet(s.told, told(t, k.check))
	}
	s.showPoint(s.newestPoint())
	rows.Settle(s.page)
}

// plotOf draws wear used in percent of the way from new to the limit.
func (s *Screen) plotOf(k catalog.Check, t *shop.Trend) widgets.Trend {
	out := widgets.Trend{Unit: lang.L("% worn"), Limit: 100, HasLimit: true, LimitWord: lang.L("limit"),
		NextVisit: t.Now + t.Horizon, HasNext: t.Horizon > 0, NextWord: lang.L("next visit"),
		Across: visitbar.Across(t), EmptyWord: lang.L("One baseline reading: the next visit makes a line")}
	for _, p := range t.Points {
		out.Readings = append(out.Readings, widgets.Reading{ID: string(p.Visit), Hours: p.Hours, Value: 100 * p.Used, U: 100 * p.U,
			Label: labelOf(k, p, t), Date: words.Date(p.On)})
	}
	for _, b := range t.Band {
		out.Band = append(out.Band, widgets.BandPoint{Hours: b.T, Low: 100 * b.Low, Mid: 100 * b.Mean, High: 100 * b.High})
	}
	return out
}

func told(t *shop.Trend, k catalog.Check) string {
	var text string
	switch {
	case t.Baseline:
		text = lang.L("Baseline taken: the next visit makes a line.")
	case t.NoTrend:
		text = lang.L("It does not clearly grow yet: no time to the limit can be told.")
	case len(t.Points) > 0 && t.Points[len(t.Points)-1].Used >= 1:
		text = lang.L("Its last reading is at or over the limit.")
	case t.Left != nil:
		text = fmt.Sprintf(lang.L("About %s left to the limit."), words.LeftOf(k, &inspect.HoursLeft{P05: math.Max(0, t.Left.P05), P50: t.Left.P50, P95: t.Left.P95}))
	}
	if t.PriorOnly && !t.Baseline {
		text += " " + lang.L("This part was read once: the slope comes from other forks and from the expected life.")
	}
	if t.Told != "" {
		text += " " + strings.TrimSuffix(t.Told, ".") + "."
	}
	if k.Grows == catalog.ByMonths {
		text += " " + lang.L("This check grows with months, so the axis counts months.")
	}
	return strings.TrimSpace(text)
}

func (s *Screen) onHover(id string) {
	s.point(inspect.ID(id), id != "")
	if id != "" { // else the last one pointed at stays beside the plot
		s.showPoint(inspect.ID(id))
	}
}

// point marks the visit of a point in the list of visits and says what a press does.
func (s *Screen) point(visit inspect.ID, on bool) {
	for _, l := range s.lines {
		l.press.SetSelected(on && l.visit == visit)
	}
	if !on {
		s.env.Say.Hint("")
		return
	}
	s.env.Say.Hint(lang.L("Press or Enter: this visit in Inspect, at this check"))
}

// newestPoint is the visit of the newest reading of the trend shown.
func (s *Screen) newestPoint() inspect.ID {
	if s.trend == nil || len(s.trend.Points) == 0 {
		return ""
	}
	return s.trend.Points[len(s.trend.Points)-1].Visit
}

// showPhotos puts the photos of a check through the years in a row.
func (s *Screen) showPhotos(k check) {
	s.strip.Objects, s.cells, s.wanted, s.photoFor = nil, nil, nil, ""
	s.large.Hide()
	for _, p := range s.life.photos {
		if p.Check != k.check.ID || p.Leg != k.leg && p.Leg != inspect.Whole {
			continue
		}
		s.addPhoto(p)
	}
	text := lang.L("Photos of this check")
	if len(s.cells) == 0 {
		text = lang.L("No photo of this check yet")
	}
	s.compare.Hidden = len(s.cells) < 2
	rows.SetTitle(s.photos, text)
	s.strip.Refresh()
	rows.Settle(s.page)
}

func (s *Screen) addPhoto(p inspect.Photo) {
	caption := words.TakenOf(s.life.newest, p)
	if h, ok := s.life.hours(p.VisitID); ok {
		caption = fmt.Sprintf("%s · %s", s.visitDate(p.VisitID), words.Hours(h))
	}
	cell := widgets.NewPhotoCell(func(string) { s.onPhoto(p) })
	cell.SetID(string(p.ID), caption)
	s.cells, s.wanted = append(s.cells, cell), append(s.wanted, p)
	s.strip.Add(container.NewGridWrap(fyne.NewSize(176, 150), cell))
}

// loadPhoto fills cell i, then the next: one after another, oldest first, so
// that a long strip never takes all of the machine.
func (s *Screen) loadPhoto(i int) {
	if i >= len(s.wanted) {
		return
	}
	turn, cell, p := s.turn, s.cells[i], s.wanted[i]
	s.cancels = append(s.cancels, run.Go(s.env.Run, func(ctx context.Context) (image.Image, error) {
		return s.env.Photos.Preview(ctx, p.SHA256, 352)
	}, func(img image.Image, err error) {
		if turn != s.turn || s.closed {
			return
		}
		if err != nil {
			cell.SetFailed(string(p.ID), inspect.SaidIn(tongue.Say, err))
		} else {
			cell.SetImage(string(p.ID), img)
		}
		s.loadPhoto(i + 1)
	}))
}

func (s *Screen) visitDate(id inspect.ID) string {
	for _, v := range s.life.visits {
		if v.Visit.ID == id {
			return words.Date(v.Visit.DroppedOff)
		}
	}
	return ""
}

// onCompare opens the pair of the chosen check, the photo shown large as now.
func (s *Screen) onCompare() {
	at := s.chosen.SelectedIndex()
	if at < 0 || len(s.life.visits) == 0 {
		return
	}
	k := s.life.checks[at]
	s.env.Go(place.Where{Name: place.Compare, Visit: s.life.visits[0].Visit.ID, Fork: s.where.Fork,
		Check: k.check.ID, Leg: k.leg, Photo: inspect.ID(s.photoFor)})
}

// onPhoto shows a photo large under the row, or takes it away again.
func (s *Screen) onPhoto(p inspect.Photo) {
	same := s.photoFor == string(p.ID)
	for _, c := range s.cells {
		c.SetSelected(!same && c.ID() == string(p.ID))
	}
	if same {
		s.photoFor = ""
		s.large.Hide()
		rows.Settle(s.page)
		return
	}
	s.photoFor = string(p.ID)
	s.large.SetPhoto(nil, lang.L("Loading …"))
	s.large.Show()
	rows.Settle(s.page)
	turn := s.turn
	s.cancels = append(s.cancels, run.Go(s.env.Run, func(ctx context.Context) (image.Image, error) {
		return s.env.Photos.Preview(ctx, p.SHA256, 1400)
	}, func(img image.Image, err error) {
		if turn != s.turn || s.closed || s.photoFor != string(p.ID) {
			return
		}
		if err != nil {
			s.env.Say.Failed(err)
			s.large.SetPhoto(nil, inspect.SaidIn(tongue.Say, err))
			return
		}
		s.large.SetPhoto(img, fmt.Sprintf(lang.L("visit of %s · %s"), s.visitDate(p.VisitID), words.TakenOf(s.life.newest, p)))
	}))
}
