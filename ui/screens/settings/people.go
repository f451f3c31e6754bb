package settings

import (
	"context"
	"fmt"
	"slices"
	"strings"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/lang"
	"fyne.io/fyne/v2/widget"

	"forkwear/inspect"
	"forkwear/ui/run"
	"forkwear/ui/screens/rows"
	"forkwear/ui/screens/visitbar"
	"forkwear/ui/widgets"
)

// people is who works in the shop, and the PIN that keeps a customer in the
// counter view.
type people struct {
	names   []string
	queue   visitbar.Queue // names are kept in the order in which they were changed
	list    *fyne.Container
	add     *widget.Entry
	refused rows.Refusal

	pinSet     bool
	busy       bool
	wrong      int
	pause      time.Duration // after the third wrong old PIN and each one after it
	state      *widget.RichText
	old, fresh *widget.Entry
	oldRow     fyne.CanvasObject
	set, take  *widgets.TextButton
	pinRefused rows.Refusal
}

// team is what the library holds of them.
type team struct {
	names  []string
	pinSet bool
}

func (s *Screen) buildPeople() fyne.CanvasObject {
	p := &s.people
	p.pause = time.Second
	p.list, p.refused, p.pinRefused = container.NewVBox(), rows.NewRefusal(), rows.NewRefusal()
	p.add = widget.NewEntry()
	p.add.SetPlaceHolder(lang.L("a name"))
	p.add.OnSubmitted = func(string) { s.onAddPerson() }
	adding := container.NewBorder(nil, nil, nil, widgets.NewTextButton(lang.L("Add"), false, s.onAddPerson), rows.Target(p.add))

	p.state = rows.Quiet("")
	p.old, p.fresh = widget.NewPasswordEntry(), widget.NewPasswordEntry()
	p.fresh.SetPlaceHolder(lang.L("4 to 8 digits"))
	p.fresh.OnSubmitted = func(string) { s.onSetPIN() }
	p.oldRow = rows.Beside(widget.NewLabel(lang.L("Old PIN")), rows.Target(p.old), .46, 340)
	p.set = widgets.NewTextButton("", false, s.onSetPIN)
	p.take = widgets.NewTextButton(lang.L("Remove the PIN"), false, s.onRemovePIN)
	s.showPIN(false)
	return container.NewVBox(rows.Gap(), rows.Title(lang.L("People"), false), p.list, adding, p.refused.RichText,
		rows.Quiet(lang.L("Who works here now is chosen at the top of the window; what is kept from then on carries the name.")),
		rows.Gap(), rows.Title(lang.L("PIN of the counter view"), false), p.state, p.oldRow,
		rows.Beside(widget.NewLabel(lang.L("New PIN")), rows.Target(p.fresh), .46, 340),
		container.NewHBox(p.set, p.take), p.pinRefused.RichText)
}

// loadPeople brings names and whether there is a PIN.
func (s *Screen) loadPeople() {
	d := s.env.Desk
	run.Go(s.env.Run, func(ctx context.Context) (t team, err error) {
		if t.names, err = d.People(ctx); err != nil {
			return t, err
		}
		t.pinSet, err = d.HasPIN(ctx)
		return t, err
	}, func(t team, err error) {
		if s.closed {
			return
		}
		s.people.refused.Set(err)
		if err == nil {
			s.people.names = t.names
			s.showPeople()
			s.showPIN(t.pinSet)
		}
	})
}

func (s *Screen) showPeople() {
	p := &s.people
	p.list.RemoveAll()
	for _, n := range p.names {
		name := widget.NewLabel(n)
		name.Truncation = fyne.TextTruncateEllipsis
		p.list.Add(container.NewBorder(nil, nil, nil, widgets.NewTextButton(lang.L("Take off"), false, func() { s.onTakeOff(n) }), name))
	}
	if len(p.names) == 0 {
		p.list.Add(rows.Quiet(lang.L("Nobody is named yet: what is kept carries the name of the computer's user.")))
	}
	rows.Settle(s.page)
}

func (s *Screen) onAddPerson() {
	p := &s.people
	name := strings.Join(strings.Fields(p.add.Text), " ")
	switch {
	case name == "":
		return
	case slices.Contains(p.names, name):
		p.refused.Set(inspect.Refuse(inspect.Conflict, "%s is on the list already", name))
		rows.Settle(s.page)
		return
	}
	p.add.SetText("")
	s.keepPeople(append(slices.Clone(p.names), name), fmt.Sprintf(lang.L("%s works in the shop"), name))
}

func (s *Screen) onTakeOff(name string) {
	s.keepPeople(slices.DeleteFunc(slices.Clone(s.people.names), func(n string) bool { return n == name }), fmt.Sprintf(lang.L("%s is off the list"), name))
}

// keepPeople keeps another list, with the way back.
func (s *Screen) keepPeople(names []string, said string) {
	p, d := &s.people, s.env.Desk
	before := p.names
	p.names = names
	p.refused.Set(nil)
	s.showPeople()
	p.queue.Do(s.env.Run, func(ctx context.Context) error { return d.SetPeople(ctx, names) }, func(err error) {
		if err != nil {
			p.names = before
			p.refused.Set(err)
			s.showPeople()
			s.env.Say.Failed(err)
			return
		}
		if s.env.PeopleChanged != nil {
			s.env.PeopleChanged()
		}
		s.env.Say.Saved(said, func() { s.keepPeople(before, lang.L("The list of people, as it was")) })
	})
}

func (s *Screen) showPIN(set bool) {
	p := &s.people
	p.pinSet = set
	text, word := lang.L("No PIN is set: anybody can leave the counter view."), lang.L("Set a PIN")
	if set {
		text, word = lang.L("A PIN is set: the counter view is left with it only."), lang.L("Change the PIN")
		p.oldRow.Show()
		p.take.Show()
	} else {
		p.oldRow.Hide()
		p.take.Hide()
	}
	rows.SetQuiet(p.state, text)
	p.set.SetWord(word)
	if s.page != nil {
		rows.Settle(s.page)
	}
}

func (s *Screen) onSetPIN() {
	fresh := strings.TrimSpace(s.people.fresh.Text)
	if fresh == "" {
		s.refusePIN(inspect.Refuse(inspect.Invalid, "type the new PIN: 4 to 8 digits"))
		return
	}
	s.keepPIN(fresh, lang.L("The PIN is set"))
}

func (s *Screen) onRemovePIN() { s.keepPIN("", lang.L("The PIN is removed")) }

func (s *Screen) refusePIN(err error) {
	s.people.pinRefused.Set(err)
	rows.Settle(s.page)
}

// keepPIN sets a PIN or removes it; the old one is asked by the desk. From the
// third wrong one on it takes a while.
func (s *Screen) keepPIN(fresh, said string) {
	p, d := &s.people, s.env.Desk
	if p.busy {
		return
	}
	old, slow := strings.TrimSpace(p.old.Text), p.wrong >= 2
	pause := p.pause
	s.busyPIN(true)
	run.Go(s.env.Run, func(ctx context.Context) (struct{}, error) {
		err := d.SetPIN(ctx, old, fresh)
		if err != nil && slow {
			select {
			case <-ctx.Done():
			case <-time.After(pause):
			}
		}
		return struct{}{}, err
	}, func(_ struct{}, err error) {
		s.busyPIN(false)
		if err != nil {
			if inspect.CodeOf(err) == inspect.Invalid {
				p.wrong++
			}
			s.refusePIN(err)
			return
		}
		p.wrong = 0
		p.old.SetText("")
		p.fresh.SetText("")
		s.refusePIN(nil)
		s.showPIN(fresh != "")
		s.env.Say.Saved(said, nil)
	})
}

func (s *Screen) busyPIN(on bool) {
	s.people.busy = on
	s.people.set.SetEnabled(!on)
	s.people.take.SetEnabled(!on)
}
