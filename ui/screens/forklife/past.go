package forklife

import (
	"fmt"
	"sort"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/lang"

	"forkwear/inspect"
	"forkwear/ui/screens/rows"
	"forkwear/ui/words"
)

// line is a visit as it is shown.
type line struct {
	visit inspect.ID
	press *rows.Press
}

var visitColumns = []rows.Column{{Share: 1.5}, {Share: .8, Right: true}, {Share: 2.4}}

func (s *Screen) buildVisits() fyne.CanvasObject {
	box := container.NewVBox(rows.Title(lang.L("Visits"), false))
	s.lines = nil
	for _, v := range s.life.visits {
		level := v.Visit.Level
		if l, ok := s.env.Desk.Catalog.Level(level); ok {
			level = l.Name
		}
		under := lang.L("nothing replaced")
		if names := s.life.renewed(v.Visit.ID, s.env.Desk.Catalog); len(names) > 0 {
			under = fmt.Sprintf(lang.L("%d replaced: %s"), len(names), strings.Join(names, ", "))
		}
		state := words.Step(v.Visit.Step)
		p := rows.NewPress(visitColumns, func() { s.onVisit(v.Visit.ID) },
			rows.Cell{Text: words.Date(v.Visit.DroppedOff), Under: fmt.Sprintf(lang.L("ticket %d · %s"), v.Visit.Ticket, words.InSentence(state)), Bold: true},
			rows.Cell{Text: words.Hours(v.Hours)}, rows.Cell{Text: level, Under: under})
		p.OnArrow = func(k fyne.KeyName) { s.onArrow(v.Visit.ID, k) }
		p.OnPointed = func(on bool) {
			if on {
				s.env.Say.Hint(under)
			} else {
				s.env.Say.Hint("")
			}
		}
		s.lines = append(s.lines, line{v.Visit.ID, p})
		box.Add(p)
	}
	return box
}

// fittingColumns are made when they are shown: a title is said in the language
// in force.
func fittingColumns() []rows.Column {
	return []rows.Column{
		{Title: lang.L("Part"), Share: 2.2},
		{Title: lang.L("Hours on it"), Share: 1.1, Right: true},
		{Title: lang.L("Since"), Share: 1.4, Least: 100, Right: true},
	}
}

func (s *Screen) buildFittings() fyne.CanvasObject {
	columns := fittingColumns()
	in := container.NewVBox(rows.Title(lang.L("In the fork now"), false), rows.Heading(columns))
	out := container.NewVBox(rows.Title(lang.L("Taken out"), false))
	fits := append([]inspect.Fitting{}, s.life.fittings...)
	sort.SliceStable(fits, func(i, j int) bool { return fits[i].EndedOn.After(fits[j].EndedOn) })
	ended := 0
	for _, f := range fits {
		l := rows.NewLine(columns).Low()
		p, _ := s.env.Desk.Catalog.Part(f.Part)
		name := words.PartAt(p.Name, f.Leg)
		if f.In() {
			l.Set(rows.Cell{Text: name}, rows.Cell{Text: words.OnPart(s.life.now()-f.FittedAt, f.AgeKnown)}, s.since(f))
			in.Add(l)
			continue
		}
		ended++
		l.Set(rows.Cell{Text: name, Under: words.Ended(f.End)}, rows.Cell{Text: words.OnPart(f.EndHours-f.FittedAt, f.AgeKnown)},
			rows.Cell{Text: words.Date(f.EndedOn)})
		out.Add(l)
	}
	if ended == 0 {
		return in
	}
	return container.NewVBox(in, rows.Gap(), out)
}

// since is when a part came in: fitted here, or with the fork.
func (s *Screen) since(f inspect.Fitting) rows.Cell {
	first := s.life.visits[len(s.life.visits)-1].Visit
	if f.FittedVisit == first.ID && !f.FittedOn.After(first.DroppedOff) {
		if f.AgeKnown {
			return rows.Cell{Text: lang.L("new")}
		}
		return rows.Cell{Text: lang.L("before"), Quiet: true}
	}
	return rows.Cell{Text: words.Date(f.FittedOn)}
}
