package counter

import (
	"context"
	"fmt"
	"strings"

	"fyne.io/fyne/v2/lang"

	"forkwear/inspect"
	"forkwear/inspect/shop"
	"forkwear/ui/run"
	"forkwear/ui/widgets"
)

// Answer keeps the customer's answer to the card shown, and to what goes with
// it, and goes to the next.
func (s *Screen) Answer(yes bool) {
	if s.busy || s.atEnd() || s.data.story.Case.Visit.Closed() || s.data.cards[s.at].job.Verdict != inspect.Replace {
		return
	}
	k, by := s.data.cards[s.at], s.data.story.Case.Customer.Name
	jobs, at := s.data.jobs, s.at
	var given []inspect.Consent
	s.keep(func(ctx context.Context, d *shop.Desk, c *shop.Case) (err error) {
		given, err = d.AnswerJob(ctx, c, jobs, k.job.Key, inspect.Consent{Accepted: yes, By: by, How: "here", Shown: "counter view"})
		return err
	}, func() {
		s.saved(fmt.Sprintf(lang.L("%s: answer kept"), k.job.Name), func() { s.takeBack(at, given...) })
		s.Show(s.at + 1)
	})
}

// saved tells what was saved. What is kept while the place is left has no undo:
// it would act out of sight.
func (s *Screen) saved(said string, undo func()) {
	if s.closed {
		undo = nil
	}
	s.env.Say.Saved(said, undo)
}

// TakeBack takes the answer to the card shown back, and with it the same answer
// to what makes no sense without it.
func (s *Screen) TakeBack() {
	if s.busy || s.atEnd() || s.data.story.Case.Visit.Closed() {
		return
	}
	if given := s.data.story.Case.AnswersWith(s.data.jobs, s.data.cards[s.at].job.Key); len(given) > 0 {
		s.takeBack(s.at, given...)
	}
}

// takeBack takes answers back and shows a card.
func (s *Screen) takeBack(at int, given ...inspect.Consent) {
	s.keep(func(ctx context.Context, d *shop.Desk, c *shop.Case) error {
		return d.TakeAnswersBack(ctx, c, given...)
	}, func() {
		s.env.Say.Saved(lang.L("The answer is taken back"), nil)
		s.Show(at)
	})
}

// Sign keeps the signature under all answers.
func (s *Screen) Sign() {
	if s.busy || s.data.story == nil || s.data.story.Case.Visit.Closed() {
		return
	}
	v, how := s.signed, shop.SignedHere
	if v.OnPaper {
		how = "signed on paper"
	}
	shown := "counter view: " + strings.Join(s.data.answers(), "; ")
	var given inspect.Consent
	s.keep(func(ctx context.Context, d *shop.Desk, c *shop.Case) (err error) {
		given, err = d.Sign(ctx, c, v.By, how, v.Strokes, shown)
		return err
	}, func() {
		s.signed = widgets.Signed{}
		at := s.at
		s.saved(lang.L("The signature"), func() { s.takeBack(at, given) })
		s.build()
	})
}

// keep writes in a worker, reads the visit again and shows it.
func (s *Screen) keep(write func(context.Context, *shop.Desk, *shop.Case) error, then func()) {
	s.busy, s.told = true, ""
	d, visit := s.env.Desk, s.visit
	run.Go(s.env.Run, func(ctx context.Context) (loaded, error) {
		c, err := d.Open(ctx, visit)
		if err != nil {
			return loaded{}, err
		}
		if err := write(ctx, d, c); err != nil {
			return loaded{}, err
		}
		return tell(ctx, d, c)
	}, func(got loaded, err error) {
		s.busy = false
		if err != nil {
			s.env.Say.Failed(err)
			s.told = err.Error() // the status line is not shown here
			s.build()
			return
		}
		s.take(got)
		then()
	})
}
