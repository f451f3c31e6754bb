package patterns

import (
	"fmt"
	"sort"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/lang"

	"forkwear/inspect"
	"forkwear/inspect/life"
	"forkwear/ui/place"
	"forkwear/ui/screens/rows"
	"forkwear/ui/tongue"
	"forkwear/ui/widgets"
)

// The two groups of a row's curves.
const here, rest = "here", "rest"

// curves draws how long the parts of a row last against the same part on the
// other forks. The marks carry the id of the fitting that ended there.
func (s *Screen) curves(r life.PatternRow) widgets.Chart {
	c := widgets.LifeChart()
	c.EmptyWord = lang.L("None of them has failed or worn out yet")
	records, ends := lives(s.data.fittings, r)
	l, err := life.NewLivesIn(tongue.Say, records, 0.95, false)
	if err != nil { // hours that cannot be; the row itself tells of them
		return c
	}
	sort.Slice(l.Groups, func(i, j int) bool { return l.Groups[i].Group < l.Groups[j].Group })
	for _, g := range l.Groups {
		if len(g.Steps) == 0 {
			continue
		}
		name := lang.L("these")
		if g.Group == rest {
			name = lang.L("others")
		}
		k := widgets.LifeCurve(name, g, longest(records, g.Group))
		for i, m := range k.Marks {
			id := ends[g.Group][m.Hours]
			k.Marks[i].ID = id
			if f, ok := s.data.fittings[id]; ok {
				k.Marks[i].Label = fmt.Sprintf("%s · %s", m.Label, f.fork.Label())
			}
		}
		c.Curves = append(c.Curves, k)
	}
	return c
}

// longest is how far a group was watched.
func longest(records []life.Record, group string) float64 {
	h := 0.0
	for _, r := range records {
		if r.Group == group {
			h = max(h, r.Hours)
		}
	}
	return h
}

// lives are the records of a row's part in two groups, and the first fitting
// that ended at some hours.
func lives(all map[string]fitted, r life.PatternRow) ([]life.Record, map[string]map[float64]string) {
	ends := map[string]map[float64]string{here: {}, rest: {}}
	var out []life.Record
	ids := make([]string, 0, len(all))
	for id := range all {
		ids = append(ids, id)
	}
	sort.Strings(ids)
	for _, id := range ids {
		f := all[id].life
		if f.Part != r.Part || !f.HoursKnown || f.End == inspect.EndArrival || !(f.Hours > f.EntryHours) {
			continue
		}
		rec := life.Record{Group: rest, Hours: f.Hours, End: f.End, Failed: f.End == inspect.EndFailed || f.End == inspect.EndWorn}
		if f.Sheet == r.Sheet {
			rec.Group = here
		}
		if f.EntryHours > 0 {
			entry := f.EntryHours
			rec.Entry = &entry
		}
		if rec.Failed && ends[rec.Group][f.Hours] == "" {
			ends[rec.Group][f.Hours] = id
		}
		out = append(out, rec)
	}
	return out, ends
}

// buildBehind is what stands behind a row: its fittings, or how long they last.
func (s *Screen) buildBehind(r life.PatternRow) fyne.CanvasObject {
	body := container.NewStack()
	plot := widgets.NewCurvePlot(s.curves(r))
	plot.OnHover = func(id string) {
		if f, ok := s.data.fittings[id]; ok {
			s.env.Say.Hint(fmt.Sprintf(lang.L("Press or Enter: the life of %s"), f.fork.Label()))
			return
		}
		s.env.Say.Hint("")
	}
	plot.OnTapped = func(id string) {
		if f, ok := s.data.fittings[id]; ok {
			s.env.Go(place.Where{Name: place.ForkLife, Fork: f.fork.ID})
		}
	}
	s.plot = plot
	list := s.fittings.WithHeading()
	curve := rows.Under(rows.Quiet(lang.L("How many of these are still good after so many hours, with 95 % limits, against the same part on all other forks.")),
		widgets.NewCard(plot))
	var chips [2]*widgets.Chip
	show := func(at int) {
		body.Objects = []fyne.CanvasObject{[]fyne.CanvasObject{list, curve}[at]}
		for i, c := range chips {
			c.SetSelected(i == at)
		}
		body.Refresh()
	}
	chips[0] = widgets.NewChip(lang.L("The forks behind it"), func() { show(0) })
	chips[1] = widgets.NewChip(lang.L("How long they last"), func() { show(1) })
	s.turnTo = show
	show(0)
	return rows.Under(container.NewVBox(rows.Quiet(told(r)), container.NewHBox(chips[0], chips[1])), body)
}
