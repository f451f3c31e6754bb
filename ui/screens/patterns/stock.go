package patterns

import (
	"fmt"
	"sort"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/lang"

	"forkwear/inspect"
	"forkwear/ui/screens/rows"
	"forkwear/ui/words"
)

// used is what the shop took from its shelf: a kit, an assembly or a part, each
// as it is sold.
type used struct {
	name  string
	times int // sold in the last twelve months
	most  int // in the busiest calendar month of them
	forks int
	last  time.Time
}

// sold counts what was fitted in the twelve months before now. A kit that
// covers a fork counts once a visit, however many of its parts went in; what is
// sold singly counts for each leg. Parts that a fork came with count nothing.
func (s *Screen) sold(now time.Time) []used {
	type sale struct {
		visit inspect.ID
		kit   string
		leg   inspect.Leg
	}
	type month struct {
		kit  string
		year int
		of   time.Month
	}
	seen, months, forks := map[sale]bool{}, map[month]int{}, map[[2]string]bool{}
	at := map[string]*used{}
	for _, f := range s.data.fittings {
		day := f.at.FittedOn
		if f.at.FittedVisit == "" || day.After(now) || day.Before(now.AddDate(-1, 0, 0)) || !s.fittedHere(f) {
			continue
		}
		kit, name, leg := s.shelf(f)
		k := sale{f.at.FittedVisit, kit, leg}
		if seen[k] {
			continue
		}
		seen[k] = true
		if at[kit] == nil {
			at[kit] = &used{name: name}
		}
		u, m := at[kit], month{kit, day.Year(), day.Month()}
		u.times++
		months[m]++
		u.most = max(u.most, months[m])
		if fork := [2]string{kit, string(f.fork.ID)}; !forks[fork] {
			forks[fork] = true
			u.forks++
		}
		if day.After(u.last) {
			u.last = day
		}
	}
	out := make([]used, 0, len(at))
	for _, u := range at {
		out = append(out, *u)
	}
	sort.Slice(out, func(i, j int) bool {
		if out[i].times != out[j].times {
			return out[i].times > out[j].times
		}
		return out[i].name < out[j].name
	})
	return out
}

// fittedHere tells a part that the shop fitted from one that the fork came
// with: another of its place ended at that visit.
func (s *Screen) fittedHere(f fitted) bool {
	return s.data.ended[spot{f.at.ForkID, f.at.Part, f.at.Leg, f.at.FittedVisit}]
}

// spot is a part's place in a fork at a visit.
type spot struct {
	fork  inspect.ID
	part  string
	leg   inspect.Leg
	visit inspect.ID
}

// shelf is what a part is bought as, and the leg where one is bought for each.
func (s *Screen) shelf(f fitted) (id, name string, leg inspect.Leg) {
	cat := s.env.Desk.Catalog
	p, ok := cat.Part(f.at.Part)
	if !ok {
		return f.at.Part, f.at.Part, f.at.Leg
	}
	sheet, _ := cat.Sheet(f.life.Sheet)
	k, ok := cat.Kit(p.SoldAsFor(sheet))
	switch {
	case !ok:
		return p.ID, p.Name, f.at.Leg
	case k.Kind == "part" || k.ID == p.SoldAsLoose:
		return k.ID, k.Name, f.at.Leg
	}
	return k.ID, k.Name, inspect.Whole
}

// onStock shows what was used, as a ground for what to have on the shelf.
func (s *Screen) onStock() {
	all := s.sold(s.env.Desk.Clock())
	list := rows.NewList([]rows.Column{
		{Title: lang.L("Sold as"), Share: 3},
		{Title: lang.L("In 12 months"), Share: 1.2, Least: 110, Right: true},
		{Title: lang.L("A month"), Share: 1.1, Least: 90, Right: true},
		{Title: lang.L("Busiest month"), Share: 1.2, Least: 120, Right: true},
		{Title: lang.L("Forks"), Share: 1, Least: 70, Right: true},
		{Title: lang.L("Last"), Share: 1.3, Least: 110, Right: true},
	}, func(i int, l *rows.Line) {
		if i >= len(all) {
			return
		}
		u := all[i]
		l.Set(rows.Cell{Text: u.name, Bold: true}, rows.Cell{Text: fmt.Sprint(u.times)}, rows.Cell{Text: words.Fixed(float64(u.times)/12, 1)},
			rows.Cell{Text: fmt.Sprint(u.most), Folded: fmt.Sprintf(lang.L("busiest month %d"), u.most)},
			rows.Cell{Text: fmt.Sprint(u.forks), Folded: words.Count(u.forks, "fork")}, rows.Cell{Text: words.Date(u.last)})
	}, func(int) {}, nil)
	list.SetLength(len(all))
	var body fyne.CanvasObject = list.WithHeading()
	if len(all) == 0 {
		body = rows.Quiet(lang.L("Nothing was renewed in the last twelve months."))
	}
	rows.SetTitle(s.title, lang.L("What to stock"))
	s.part.Hide()
	s.stock.Hide()
	s.back.Show()
	s.top.Refresh()
	s.state.Fill(rows.Under(rows.Quiet(lang.L("What was fitted here in the last twelve months, counted as it is sold: a kit for a fork counts once. Enough for the busiest month is a shelf that seldom runs dry.")), body))
}
