package dropoff

import (
	"context"
	"encoding/json"
	"fmt"
	"sync"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/lang"
	"fyne.io/fyne/v2/widget"

	"forkwear/inspect"
	"forkwear/ui/run"
	"forkwear/ui/widgets"
	"forkwear/ui/words"
)

// draftKey is the preference of the library that holds the draft.
const draftKey = "draft.dropoff"

// currencyKey is the preference that holds the shop's currency.
const currencyKey = "shop.currency"

// draftDelay is how long the typing rests before the draft is kept.
const draftDelay = 400 * time.Millisecond

// drafts sees to it that an older draft never overwrites a newer one.
type drafts struct {
	mu   sync.Mutex
	next int // of the window
	kept int // newest that was written
	dead bool
}

// kept is the draft as it is written.
type kept struct {
	At   time.Time
	Form form
}

// keepDraft writes what is typed, in a worker, after a rest.
func (s *Screen) keepDraft(after time.Duration) {
	if s.busy || s.draft.dead || s.form.empty() && s.draft.next == 0 {
		return
	}
	text := ""
	if !s.form.empty() {
		b, err := json.Marshal(kept{s.env.Desk.Clock(), s.form})
		if err != nil {
			s.env.Say.Failed(err)
			return
		}
		text = string(b)
	}
	s.draft.next++
	n := s.draft.next
	if stop := s.stops["draft"]; stop != nil {
		stop()
	}
	stop := run.Go(s.env.Run, func(ctx context.Context) (struct{}, error) {
		if after > 0 && !rest(ctx, after) {
			return struct{}{}, nil
		}
		return struct{}{}, s.draft.write(ctx, s.env.Desk.Lib, n, text)
	}, func(_ struct{}, err error) {
		if err != nil && !ctxErr(err) {
			s.env.Say.Failed(err)
		}
	})
	if after > 0 { // what is kept while leaving must not be stopped
		s.stops["draft"] = stop
	} else {
		delete(s.stops, "draft")
	}
}

// write runs in a worker.
func (d *drafts) write(ctx context.Context, lib inspect.Library, n int, text string) error {
	d.mu.Lock()
	defer d.mu.Unlock()
	if n <= d.kept {
		return nil
	}
	if err := lib.PutPreference(ctx, draftKey, text); err != nil {
		return err
	}
	d.kept = n
	return nil
}

// first is what a worker brings when the page opens.
type first struct {
	draft    string
	currency string
}

// loadFirst brings the shop's currency, a draft that was left, and the fork
// that the page was opened for.
func (s *Screen) loadFirst() {
	mine := s.begin("first")
	s.stops["first"] = run.Go(s.env.Run, func(ctx context.Context) (f first, err error) {
		if f.draft, err = s.env.Desk.Lib.Preference(ctx, draftKey); err != nil {
			return f, err
		}
		f.currency, err = s.env.Desk.Lib.Preference(ctx, currencyKey)
		return f, err
	}, func(f first, err error) {
		switch {
		case !mine() || ctxErr(err):
		case err != nil:
			s.env.Say.Failed(err)
			s.say(err)
		default:
			s.onFirst(f)
		}
	})
	if s.where.Fork != "" {
		s.loadKnown(s.where.Fork, true)
	}
}

func (s *Screen) onFirst(f first) {
	if len(f.currency) == 3 {
		s.currency = f.currency
	}
	var k kept
	if f.draft == "" || json.Unmarshal([]byte(f.draft), &k) != nil || k.Form.empty() {
		return // a draft that can't be read is of no use to anybody
	}
	who := k.Form.Customer.Name
	if who == "" {
		who = lang.L("no name yet")
	}
	text := widget.NewLabel(fmt.Sprintf(lang.L("A drop-off was not finished: %s, %s, %s"), who, k.Form.Fork.Label(), words.DateTime(k.At.In(s.env.Desk.Clock().Location()))))
	text.TextStyle.Bold, text.Truncation = true, fyne.TextTruncateEllipsis
	s.offer.Objects = nil
	s.offer.Add(container.NewBorder(nil, nil, nil, container.NewHBox(
		widgets.NewTextButton(lang.L("Throw it away"), false, s.onDropDraft),
		widgets.NewTextButton(lang.L("Go on with it"), false, func() { s.onDraft(k.Form) })), text))
	s.root.Refresh()
}

func (s *Screen) withdrawOffer() {
	s.offer.RemoveAll()
	s.root.Refresh()
}

// onDraft puts the draft into the fields.
func (s *Screen) onDraft(f form) {
	s.withdrawOffer()
	if f.Settings == nil {
		f.Settings = map[string]string{}
	}
	s.form, s.known = f, known{}
	s.sync()
	s.changed()
	if f.Fork.ID != "" {
		s.loadKnown(f.Fork.ID, false)
	}
}

// onDropDraft forgets the draft, unless a new one has begun meanwhile.
func (s *Screen) onDropDraft() {
	s.withdrawOffer()
	if s.draft.next > 0 {
		return
	}
	s.draft.next++
	n := s.draft.next
	run.Go(s.env.Run, func(ctx context.Context) (struct{}, error) {
		return struct{}{}, s.draft.write(ctx, s.env.Desk.Lib, n, "")
	}, func(_ struct{}, err error) {
		if err != nil {
			s.env.Say.Failed(err)
		}
	})
}
