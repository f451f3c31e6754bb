package dropoff

import (
	"context"
	"fmt"
	"strings"
	"time"

	"fyne.io/fyne/v2/lang"

	"forkwear/inspect"
	"forkwear/inspect/shop"
	"forkwear/ui/run"
	"forkwear/ui/widgets"
	"forkwear/ui/words"
)

// findDelay is how long the typing must rest before something is looked up.
const findDelay = 200 * time.Millisecond

// rest waits in a worker; false where another letter came first.
func rest(ctx context.Context, d time.Duration) bool {
	select {
	case <-ctx.Done():
		return false
	case <-time.After(d):
		return true
	}
}

// rest is a delay as it is waited for here.
func (s *Screen) rest(d time.Duration) time.Duration { return time.Duration(float32(d) * s.pause) }

// begin ends what runs for the same purpose and numbers the new turn.
func (s *Screen) begin(what string) (mine func() bool) {
	if stop := s.stops[what]; stop != nil {
		stop()
	}
	s.turns[what]++
	turn := s.turns[what]
	return func() bool { return s.turns[what] == turn }
}

// findCustomers looks for who was here before, while the name is typed.
func (s *Screen) findCustomers() {
	c := s.form.Customer
	mine := s.begin("customers")
	text := strings.TrimSpace(c.Name)
	if text == "" {
		text = strings.TrimSpace(c.Phone)
	}
	if c.ID != "" || len([]rune(text)) < 2 {
		s.showCustomers(nil)
		return
	}
	delay := s.rest(findDelay)
	s.stops["customers"] = run.Go(s.env.Run, func(ctx context.Context) ([]inspect.Customer, error) {
		if !rest(ctx, delay) {
			return nil, ctx.Err()
		}
		return s.env.Desk.Lib.FindCustomers(ctx, text, 4)
	}, func(cs []inspect.Customer, err error) {
		switch {
		case !mine() || ctxErr(err):
		case err != nil:
			s.env.Say.Failed(err)
		default:
			s.showCustomers(cs)
		}
	})
}

func ctxErr(err error) bool { return err == context.Canceled || err == context.DeadlineExceeded }

func (s *Screen) showCustomers(cs []inspect.Customer) {
	if len(cs) == 0 && len(s.customersFound.Objects) == 0 {
		return
	}
	s.customersFound.RemoveAll()
	for _, c := range cs {
		word := c.Name
		if c.Phone != "" {
			word += " · " + c.Phone
		}
		s.customersFound.Add(widgets.NewTextButton(fmt.Sprintf(lang.L("Known: %s"), word), false, func() { s.onCustomer(c) }))
	}
	s.relayout()
}

// onCustomer takes a known customer and offers their forks.
func (s *Screen) onCustomer(c inspect.Customer) {
	if c.ReachBy == "" {
		c.ReachBy = "phone"
	}
	s.form.Customer = c
	s.begin("customers")
	s.showCustomers(nil)
	s.sync()
	s.changed()
	if s.form.Fork.ID == "" {
		s.lookForForks(c.Name, func(r inspect.ForkRow) bool { return r.Customer.ID == c.ID })
	}
}

// findForks looks for a known fork while tag, serial or model is typed.
func (s *Screen) findForks() {
	f := s.form.Fork
	text := ""
	for _, t := range []string{f.Tag, f.Serial, f.Model} {
		if text == "" {
			text = strings.TrimSpace(t)
		}
	}
	if f.ID != "" || len([]rune(text)) < 2 {
		s.begin("forks")
		s.showForks(nil)
		return
	}
	s.lookForForks(text, func(r inspect.ForkRow) bool {
		return s.form.Customer.ID == "" || r.Customer.ID == s.form.Customer.ID || strings.EqualFold(r.Fork.Tag, text)
	})
}

func (s *Screen) lookForForks(text string, keep func(inspect.ForkRow) bool) {
	mine, delay := s.begin("forks"), s.rest(findDelay)
	s.stops["forks"] = run.Go(s.env.Run, func(ctx context.Context) ([]inspect.ForkRow, error) {
		if !rest(ctx, delay) {
			return nil, ctx.Err()
		}
		return s.env.Desk.Lib.FindForks(ctx, text, 40)
	}, func(rs []inspect.ForkRow, err error) {
		switch {
		case !mine() || ctxErr(err):
			return
		case err != nil:
			s.env.Say.Failed(err)
			return
		}
		var kept []inspect.ForkRow
		for _, r := range rs {
			if keep(r) && len(kept) < 4 {
				kept = append(kept, r)
			}
		}
		s.showForks(kept)
	})
}

func (s *Screen) showForks(rs []inspect.ForkRow) {
	if len(rs) == 0 && len(s.forksFound.Objects) == 0 {
		return
	}
	s.forksFound.RemoveAll()
	for _, r := range rs {
		s.forksFound.Add(widgets.NewTextButton(forkWord(r), false, func() { s.loadKnown(r.Fork.ID, true) }))
	}
	s.relayout()
}

func forkWord(r inspect.ForkRow) string {
	word := r.Fork.Label()
	if r.Fork.Tag != "" {
		word += " · " + r.Fork.Tag
	}
	word += " · " + r.Customer.Name
	if !r.LastVisit.IsZero() {
		word += " · " + words.Date(r.LastVisit)
	}
	return fmt.Sprintf(lang.L("Known: %s"), word)
}

// remembered is what a worker brings of one known fork.
type remembered struct {
	fork     inspect.Fork
	customer inspect.Customer
	known    known
}

// loadKnown brings a fork's last visit; fill puts fork and customer in too.
func (s *Screen) loadKnown(id inspect.ID, fill bool) {
	mine := s.begin("known")
	s.stops["known"] = run.Go(s.env.Run, func(ctx context.Context) (remembered, error) {
		return recall(ctx, s.env.Desk, id)
	}, func(r remembered, err error) {
		switch {
		case !mine() || ctxErr(err):
			return
		case err != nil:
			s.env.Say.Failed(err)
			s.say(err)
			return
		}
		s.onKnown(r, fill)
	})
}

func (s *Screen) onKnown(r remembered, fill bool) {
	s.known = r.known
	if fill {
		s.form.Fork = r.fork
		s.form.Year = formOf(shop.Intake{Fork: r.fork}).Year
		s.form.Customer = r.customer
		s.form.AtLeast = r.known.claim.AtLeast
		s.begin("forks")
		s.forksFound.RemoveAll()
		s.customersFound.RemoveAll()
	}
	s.sync()
	if fill {
		s.changed()
	}
}

// recall runs in a worker.
func recall(ctx context.Context, d *shop.Desk, id inspect.ID) (r remembered, err error) {
	if r.fork, err = d.Lib.Fork(ctx, id); err != nil {
		return r, err
	}
	if r.customer, err = d.Lib.Customer(ctx, r.fork.CustomerID); err != nil {
		return r, err
	}
	rows, err := d.Lib.Visits(ctx, inspect.VisitFilter{ForkID: id, Limit: 1})
	if err != nil || len(rows) == 0 {
		return r, err
	}
	r.known.last = rows[0]
	claims, err := d.Lib.Claims(ctx, id)
	if err != nil {
		return r, err
	}
	for _, c := range claims {
		if !c.At.Before(r.known.claim.At) {
			r.known.claim = c
		}
	}
	settings, err := d.Lib.SettingsOf(ctx, rows[0].Visit.ID)
	r.known.left = asLeft(settings)
	return r, err
}

// asLeft gives each setting as it was left, or as it was found where nobody
// noted how it was left.
func asLeft(settings []inspect.Setting) []inspect.Setting {
	var out []inspect.Setting
	seen := map[string]bool{}
	for _, moment := range []string{"left", "found"} {
		for _, x := range settings {
			if x.Moment == moment && !seen[x.Key] {
				seen[x.Key] = true
				out = append(out, x)
			}
		}
	}
	return out
}
