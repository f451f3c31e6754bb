package arrivals

import (
	"context"
	"fmt"
	"slices"
	"strings"

	"fyne.io/fyne/v2/lang"

	"forkwear/inspect"
	"forkwear/inspect/shop"
	"forkwear/ui/place"
	"forkwear/ui/words"
)

// sentence is what the status line says of one photo; "" of one that was here
// before.
func (b *Inbox) sentence(r shop.Received) string {
	p := r.Photo
	head := ""
	if !p.Usable {
		head = lang.L("Blurred, take it again.") + " "
	}
	photo := fmt.Sprintf(lang.L("The photo %s"), p.FileName)
	b.mu.Lock()
	clocks := b.clocks
	b.mu.Unlock()
	if t, ok := b.env.Desk.TakenHere(p, clocks); ok && p.DateSource != "file time" {
		photo = fmt.Sprintf(lang.L("Photo of %s"), t.Format("15:04"))
	}
	text := ""
	switch r.How {
	case shop.Known:
		return ""
	case shop.Unsorted:
		if r.Existed {
			return ""
		}
		text = fmt.Sprintf(lang.L("%s waits in the tray"), photo)
		if r.Why != "" {
			text += ": " + strings.TrimSuffix(r.Why, ".")
		}
	default:
		text = fmt.Sprintf(lang.L("%s filed with ticket %d"), photo, r.Ticket)
		if k, ok := b.env.Desk.Catalog.Check(p.Check); ok {
			text += ", " + words.PartAt(k.Name, p.Leg)
		}
		if r.How == shop.ByCard {
			text += ", " + lang.L("by its bench card")
		}
	}
	if len(r.Like) > 0 {
		text += " · " + fmt.Sprintf(lang.L("looks like the photo of %s"), words.Taken(b.env.Desk, r.Like[0], clocks))
	}
	return head + text
}

// undoOf takes a photo off the check to which it was filed; where it went to
// none, out of the visit.
func (b *Inbox) undoOf(r shop.Received) func() {
	if r.Visit == "" {
		return nil
	}
	if r.Photo.Check == "" {
		return func() { b.unfile(r) }
	}
	return func() {
		b.work(func(ctx context.Context) error {
			c, err := b.env.Desk.Open(ctx, r.Visit)
			if err != nil {
				return err
			}
			if err := b.env.Desk.Attach(ctx, c, r.Photo.ID, "", "", ""); err != nil {
				return err
			}
			b.tell(place.Arrival{Visits: []inspect.ID{r.Visit}})
			b.env.Run.Tell(func() {
				b.env.Say.Saved(fmt.Sprintf(lang.L("The photo lies in the tray of ticket %d"), r.Ticket), nil)
			})
			return nil
		})
	}
}

// summary is what the status line says of many photos.
func summary(got []shop.Received, failed int) string {
	byTicket := map[int]int{}
	var tickets []int
	wait, known := 0, 0
	for _, r := range got {
		switch {
		case r.How == shop.Known:
			known++
		case r.Visit == "":
			wait++
		default:
			if byTicket[r.Ticket] == 0 {
				tickets = append(tickets, r.Ticket)
			}
			byTicket[r.Ticket]++
		}
	}
	slices.Sort(tickets)
	var parts []string
	for _, t := range tickets {
		parts = append(parts, fmt.Sprintf(lang.L("%d filed with ticket %d"), byTicket[t], t))
	}
	add := func(n int, words string) {
		if n > 0 {
			parts = append(parts, fmt.Sprintf(words, n))
		}
	}
	add(wait, lang.L("%d in the tray"))
	add(known, lang.L("%d known already"))
	add(failed, lang.L("%d could not be taken in"))
	head := fmt.Sprintf(lang.L("%d photos"), len(got))
	if len(got) == 1 {
		head = lang.L("1 photo")
	}
	return head + ": " + strings.Join(parts, ", ")
}

func asideWords(n int, on bool) string {
	switch {
	case on && n == 1:
		return lang.L("1 photo set aside")
	case on:
		return fmt.Sprintf(lang.L("%d photos set aside"), n)
	case n == 1:
		return lang.L("1 photo back in the tray")
	}
	return fmt.Sprintf(lang.L("%d photos back in the tray"), n)
}

// unfile takes a photo out of the visit to which it was filed.
func (b *Inbox) unfile(r shop.Received) {
	b.work(func(ctx context.Context) error {
		if err := b.env.Desk.Unfile(ctx, r.Photo.ID); err != nil {
			return err
		}
		b.tell(place.Arrival{Visits: []inspect.ID{r.Visit}})
		b.env.Run.Tell(func() {
			b.env.Say.Saved(fmt.Sprintf(lang.L("Taken out of ticket %d again: %d"), r.Ticket, 1), nil)
		})
		b.Recount()
		return nil
	})
}
