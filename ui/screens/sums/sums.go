package sums

import (
	"context"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/lang"
	"fyne.io/fyne/v2/widget"

	"forkwear/ui/place"
	"forkwear/ui/run"
	"forkwear/ui/screens/rows"
)

// Screen is the place.
type Screen struct {
	env     *place.Env
	root    fyne.CanvasObject
	sums    []sum
	names   []*rows.Press
	chooser *widget.Select // in place of the list where it is narrow
	at      int
	typed   []map[string]string // of every sum: going to another loses nothing

	form    *fyne.Container
	answer  fyne.CanvasObject
	left    *container.Scroll // of the list
	right   *container.Scroll
	first   fyne.Focusable // the first field of the form
	refused map[string]rows.Refusal
	wrong   rows.Refusal
	head    *widget.RichText
	lines   *widget.Label
	figures *fyne.Container
	why     *fyne.Container
	formula *widget.RichText
	from    *widget.RichText
	mind    *widget.RichText

	turn    int // only the newest table may answer
	stop    func()
	cancels []func()
	closed  bool
}

// New returns the screen of the place.
func New(env *place.Env, _ place.Where) place.Screen {
	s := &Screen{env: env, sums: every(), stop: func() {}}
	for _, k := range s.sums {
		t := map[string]string{}
		for _, f := range k.fields {
			t[f.key] = shown(f.usual, f.unit)
		}
		s.typed = append(s.typed, t)
	}
	s.buildUI()
	s.choose(0)
	return s
}

func (s *Screen) buildUI() {
	list := container.NewVBox()
	for i, k := range s.sums {
		p := rows.NewPress([]rows.Column{{Share: 1}}, func() { s.choose(i) }, rows.Cell{Text: k.name})
		p.OnArrow = func(k fyne.KeyName) { s.onArrow(i, k) }
		s.names = append(s.names, p)
		list.Add(p)
	}
	var all []string
	for _, k := range s.sums {
		all = append(all, k.name)
	}
	s.chooser = widget.NewSelect(all, nil)
	s.chooser.SetSelectedIndex(0)
	s.chooser.OnChanged = func(string) {
		if i := s.chooser.SelectedIndex(); i >= 0 && i != s.at {
			s.choose(i)
		}
	}
	s.form = container.NewVBox()
	s.answer = s.buildResult()
	s.right = container.NewVScroll(s.form)
	s.left = container.NewVScroll(rows.Inset(list))
	body := container.New(&listed{300, 800}, s.left, rows.Target(s.chooser), s.right)
	s.root = container.NewBorder(rows.Title(lang.L("Bench sums"), true), nil, nil, nil, body)
}

// onArrow walks the list of sums, and goes from it into the form.
func (s *Screen) onArrow(from int, k fyne.KeyName) {
	to := from
	switch k {
	case fyne.KeyDown:
		to++
	case fyne.KeyUp:
		to--
	case fyne.KeyRight:
		if s.at != from {
			s.choose(from)
		}
		if s.first != nil {
			s.env.Window.Canvas().Focus(s.first)
		}
		return
	}
	if to >= 0 && to < len(s.names) {
		s.toSight(s.names[to])
		s.env.Window.Canvas().Focus(s.names[to])
	}
}

// choose shows another sum with what was typed into it before.
func (s *Screen) choose(i int) {
	s.at = i
	for j, p := range s.names {
		p.SetSelected(j == i)
	}
	s.chooser.SetSelectedIndex(i)
	s.toSight(s.names[i])
	k := s.sums[i]
	s.refused, s.first = map[string]rows.Refusal{}, nil
	s.form.Objects = []fyne.CanvasObject{rows.Title(k.name, false), rows.Quiet(k.about)}
	for _, f := range k.fields {
		if k.table() == nil || f.table != nil { // else it stands under the rows
			s.form.Add(s.fieldOf(f))
		}
	}
	s.form.Refresh()
	if k.table() != nil { // a table and its plot want the whole width
		s.right.Content = rows.Inset(container.NewVBox(s.form, rows.Gap(), s.answer))
	} else {
		s.right.Content = rows.Inset(rows.Beside(s.form, s.answer, .56, 640))
	}
	s.right.ScrollToTop()
	s.work()
}

// toSight scrolls the list so far that a name is to be seen.
func (s *Screen) toSight(p *rows.Press) {
	top, height := p.Position().Y, p.Size().Height
	at := s.left.Offset.Y
	at = max(min(at, top), top+height-s.left.Size().Height)
	if s.left.Size().Height > 0 && at != s.left.Offset.Y {
		s.left.ScrollToOffset(fyne.NewPos(0, max(0, at)))
	}
}

func (s *Screen) onTyped(key, text string) {
	s.typed[s.at][key] = text
	s.work()
}

// pause is how long a table waits for the next key before it is reckoned.
const pause = 120 * time.Millisecond

// work reads the fields and shows the result, or what is still wanted.
func (s *Screen) work() {
	s.stop()
	s.turn++
	k := s.sums[s.at]
	in, bad, missing := k.read(s.typed[s.at])
	for key, r := range s.refused {
		r.Set(bad[key])
	}
	switch {
	case len(bad) > 0:
		s.show(result{head: lang.L("One field can't be read yet")}, nil)
	case missing && k.table() != nil:
		s.show(result{head: lang.L("Paste rows or open a CSV file")}, nil)
	case missing:
		s.show(result{head: lang.L("Fill in the fields")}, nil)
	case k.table() != nil:
		s.workBeside(k, in)
	default:
		r, err := k.work(in)
		s.show(r, err)
	}
}

// workBeside reckons a table in a worker, once no key has come for a while.
func (s *Screen) workBeside(k sum, in inputs) {
	turn := s.turn
	s.show(result{head: lang.L("Working it out …")}, nil)
	s.stop = run.Go(s.env.Run, func(ctx context.Context) (result, error) {
		select {
		case <-ctx.Done():
			return result{}, ctx.Err()
		case <-time.After(pause):
		}
		return k.work(in)
	}, func(r result, err error) {
		if turn == s.turn && !s.closed {
			s.show(r, err)
		}
	})
}

// Content implements place.Screen.
func (s *Screen) Content() fyne.CanvasObject { return s.root }

// Opened implements place.Screen.
func (s *Screen) Opened() { s.closed = false }

// Closed implements place.Screen.
func (s *Screen) Closed() {
	s.closed = true
	s.turn++
	s.stop()
	for _, c := range s.cancels {
		c()
	}
	s.cancels = nil
}

// listed gives the list of sums its width and the rest to the sum; where that
// would be too little for both, a drop-down over the sum takes the list's place.
type listed struct{ list, narrow float32 }

// MinSize implements fyne.Layout.
func (l *listed) MinSize(os []fyne.CanvasObject) fyne.Size {
	return fyne.NewSize(os[2].MinSize().Width, os[1].MinSize().Height+os[2].MinSize().Height)
}

// Layout implements fyne.Layout.
func (l *listed) Layout(os []fyne.CanvasObject, s fyne.Size) {
	list, choice, sum := os[0], os[1], os[2]
	if s.Width < l.narrow {
		list.Hide()
		choice.Show()
		h := choice.MinSize().Height
		choice.Move(fyne.NewPos(0, 0))
		choice.Resize(fyne.NewSize(s.Width, h))
		sum.Move(fyne.NewPos(0, h+8))
		sum.Resize(fyne.NewSize(s.Width, max(0, s.Height-h-8)))
		return
	}
	choice.Hide()
	list.Show()
	list.Move(fyne.NewPos(0, 0))
	list.Resize(fyne.NewSize(l.list, s.Height))
	sum.Move(fyne.NewPos(l.list+16, 0))
	sum.Resize(fyne.NewSize(s.Width-l.list-16, s.Height))
}
