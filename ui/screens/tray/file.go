package tray

import (
	"cmp"
	"context"
	"fmt"
	"slices"
	"strings"
	"time"

	"fyne.io/fyne/v2/lang"

	"forkwear/inspect"
	"forkwear/ui/screens/rows"
	"forkwear/ui/words"
)

// offer is an open visit that a photo may belong to, and what speaks for it.
type offer struct {
	row    inspect.VisitRow
	why    string
	weight int // the larger the likelier
}

const focusBefore = 2 * time.Hour // as the desk looks back for what was in front

// offersFor runs in a worker.
func (s *Screen) offersFor(ctx context.Context, x shot) ([]offer, error) {
	var fs []inspect.Focus
	if x.dated {
		var err error
		if fs, err = s.env.Desk.Lib.Focuses(ctx, x.at.Add(-focusBefore), x.at.Add(1)); err != nil {
			return nil, err
		}
	}
	open, err := s.env.Desk.Lib.Visits(ctx, inspect.VisitFilter{OpenOnly: true})
	if err != nil {
		return nil, err
	}
	card := inspect.ID("")
	if code := x.photo.CardCode; code != "" && s.env.Desk.CardVisit != nil {
		card, _ = s.env.Desk.CardVisit(code)
	}
	return rank(open, fs, card, x.at, x.dated), nil
}

// rank puts the likeliest visit first: the one that the card names, then the
// one that was in front last, then those that were in the shop, the newest
// first, then the others.
func rank(open []inspect.VisitRow, fs []inspect.Focus, card inspect.ID, at time.Time, dated bool) []offer {
	front := map[inspect.ID]time.Time{}
	for _, f := range fs { // oldest first
		if f.Check != "" {
			front[f.VisitID] = f.At
		}
	}
	var out []offer
	for _, r := range open {
		o := offer{row: r, why: fmt.Sprintf(lang.L("in the shop since %s"), words.Date(r.Visit.DroppedOff))}
		seen, inFront := front[r.Visit.ID]
		switch {
		case card == r.Visit.ID:
			o.weight, o.why = 3, lang.L("its bench card is in the photo")
		case inFront:
			o.weight, o.why = 2, fmt.Sprintf(lang.L("in front at %s"), seen.In(at.Location()).Format("15:04"))
		case dated && !at.Before(r.Visit.DroppedOff):
			o.weight = 1
		case dated:
			o.why = lang.L("came in after the photo")
		}
		out = append(out, o)
	}
	slices.SortStableFunc(out, func(a, b offer) int {
		if c := cmp.Compare(b.weight, a.weight); c != 0 {
			return c
		}
		if c := front[b.row.Visit.ID].Compare(front[a.row.Visit.ID]); c != 0 {
			return c
		}
		return b.row.Visit.DroppedOff.Compare(a.row.Visit.DroppedOff)
	})
	return out
}

// showOffers lists the open visits beside what is chosen.
func (s *Screen) showOffers(n int) {
	d := &s.detail
	if d.offersOf == "" || d.of == "" {
		d.offers = rank(s.open, nil, "", time.Time{}, false)
	}
	word := lang.L("Set aside: of no fork")
	head := ""
	switch {
	case n == 1:
		head = lang.L("File 1 photo with")
	case n > 1:
		head = fmt.Sprintf(lang.L("File %d photos with"), n)
		word = fmt.Sprintf(lang.L("Set %d aside: of no fork"), n)
	}
	if s.showing {
		word = lang.L("Back to the tray")
	}
	if n > 0 && len(d.offers) == 0 {
		head = lang.L("No visit is open: take the fork in first.")
	}
	rows.SetTitle(d.heading, head)
	d.away.SetWord(word)
	d.away.SetEnabled(n > 0)
	d.visits.Objects, d.presses = nil, nil
	for i, o := range d.offers {
		if n == 0 || i == listed {
			break
		}
		key := fmt.Sprintf("%d   ", i+1)
		p := rows.NewPress([]rows.Column{{Share: 1}}, func() { s.fileAs(o.row) },
			rows.Cell{Text: key + fmt.Sprintf(lang.L("Ticket %d"), o.row.Visit.Ticket) + " · " + o.row.Fork.Label(),
				Under: o.row.Customer.Name + " · " + o.why, Bold: i == 0 && o.weight > 1})
		d.presses = append(d.presses, p)
		d.visits.Objects = append(d.visits.Objects, p)
	}
	d.more.Hidden = n == 0 || len(d.offers) <= listed
	rows.SetQuiet(d.more, fmt.Sprintf(lang.L("and %d more open visits: open one, and drop the photo there"), len(d.offers)-listed))
	rows.Settle(d.page)
}

// listed is how many visits are offered: as many as have a key.
const listed = 9

// focusVisits brings the focus to the likeliest visit.
func (s *Screen) focusVisits() {
	if len(s.detail.presses) > 0 {
		s.env.Window.Canvas().Focus(s.detail.presses[0])
	}
}

// fileWith files what is chosen with the visit of a number.
func (s *Screen) fileWith(i int) {
	if i < min(listed, len(s.detail.offers)) {
		s.fileAs(s.detail.offers[i].row)
	}
}

// unfile takes photos that were just filed back into the tray.
func (s *Screen) unfile(keys []string, v inspect.VisitRow) {
	later(s, func(ctx context.Context) (int, error) {
		for n, k := range keys {
			if err := s.env.Desk.Unfile(ctx, inspect.ID(k)); err != nil {
				return n, err
			}
		}
		return len(keys), nil
	}, func(n int, err error) {
		if n > 0 {
			s.env.Say.Saved(fmt.Sprintf(lang.L("Taken out of ticket %d again: %d"), v.Visit.Ticket, n), nil)
		}
		if err != nil {
			s.env.Say.Failed(err)
		}
		if s.env.Arrivals != nil {
			s.env.Arrivals.Recount()
		}
		if !s.closed {
			s.load()
		}
	})
}

// fileAs files what is chosen with a visit. It leaves the sheet at once.
func (s *Screen) fileAs(v inspect.VisitRow) {
	keys := s.grid.choice.picked()
	if len(keys) == 0 {
		return
	}
	for _, k := range keys {
		s.leaving[k] = true
	}
	s.show()
	later(s, func(ctx context.Context) (int, error) {
		for n, k := range keys {
			if err := s.env.Desk.File(ctx, inspect.ID(k), v.Visit.ID); err != nil {
				return n, err
			}
		}
		return len(keys), nil
	}, func(n int, err error) {
		for _, k := range keys {
			delete(s.leaving, k)
		}
		gone := map[string]bool{}
		for _, k := range keys[:n] {
			gone[k] = true
		}
		s.shots = slices.DeleteFunc(slices.Clone(s.shots), func(x shot) bool { return gone[x.key] })
		s.aside = slices.DeleteFunc(slices.Clone(s.aside), func(x shot) bool { return gone[x.key] })
		if n > 0 {
			s.env.Say.Saved(filedWords(n, v), func() { s.unfile(keys[:n], v) })
		}
		if err != nil {
			s.env.Say.Failed(err)
		}
		if s.env.Arrivals != nil {
			s.env.Arrivals.Recount()
		}
		if !s.closed {
			s.show()
			s.load()
		}
	})
}

func filedWords(n int, v inspect.VisitRow) string {
	who := strings.TrimSpace(v.Fork.Label())
	if n == 1 {
		return fmt.Sprintf(lang.L("1 photo filed with ticket %d, %s"), v.Visit.Ticket, who)
	}
	return fmt.Sprintf(lang.L("%d photos filed with ticket %d, %s"), n, v.Visit.Ticket, who)
}

// setAside hides what is chosen, or brings it back.
func (s *Screen) setAside() {
	keys := s.grid.choice.picked()
	if len(keys) == 0 || s.env.Arrivals == nil {
		return
	}
	ids := make([]inspect.ID, len(keys))
	for i, k := range keys {
		ids[i] = inspect.ID(k)
	}
	s.env.Arrivals.SetAside(ids, !s.showing)
}
