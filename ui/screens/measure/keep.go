package measure

import (
	"context"
	"fmt"
	"strings"

	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/lang"

	"forkwear/inspect"
	"forkwear/inspect/shop"
	"forkwear/ui/marks"
	"forkwear/ui/screens/rows"
	"forkwear/ui/widgets"
	"forkwear/ui/words"
)

// showResult writes the value with its range, how it was reached, and what can
// be done with it.
func (s *Screen) showResult() {
	todo, ready := s.ready()
	hint := lang.L("Drag the points to correct them; Backspace takes the last one off.")
	switch {
	case !ready:
		hint = todo
	case s.kind.byMask():
		hint = lang.L("Proposed by the program: paint what is missing, erase what is no damage.")
	}
	rows.SetQuiet(s.hint, hint)
	s.use.RemoveAll()
	m := s.result
	if m == nil {
		rows.SetTitle(s.value, "–")
		rows.SetQuiet(s.range95, map[bool]string{true: s.refused, false: ""}[ready])
		rows.SetQuiet(s.method, lang.L("Depth cannot be seen in a photo."))
		s.settle()
		return
	}
	rows.SetTitle(s.value, marks.Value(*m))
	rows.SetQuiet(s.range95, rangeWords(*m))
	told := append([]string{lang.L("Depth cannot be seen in a photo."), methodWords(*m)}, m.Remarks...)
	if k := s.canvas.Pixel(); k > 1.05 {
		told = append(told, fmt.Sprintf(lang.L("Marked on a reduced picture: one of its pixels is %s of the photo, which is in the range."), words.Fixed(k, 1)))
	}
	rows.SetQuiet(s.method, strings.Join(told, " "))
	if v := s.data.kase.Visit; v.Closed() {
		s.use.Add(rows.Quiet(lang.L("This visit is collected: its record can be read, not changed.")))
		s.settle()
		return
	}
	main := true
	for _, t := range s.data.targets {
		if shop.TakesPhoto(t.check, m.Unit) && s.kind.of() != "width" {
			s.use.Add(widgets.NewTextButton(lang.L("Use as the value of this check"), main, func() { s.keep(t) }))
			s.use.Add(rows.Quiet(words.PartAt(t.check.Name, t.leg) + ", " + words.Stage(t.stage)))
			main = false
		}
	}
	s.use.Add(widgets.NewTextButton(lang.L("Keep it with the photo only"), main, func() { s.keep(target{}) }))
	s.settle()
}

// keep keeps what is measured, as the reading of a check where one is given.
func (s *Screen) keep(t target) {
	if s.result == nil || s.measuring {
		return
	}
	m, d, visit := *s.result, s.env.Desk, s.where.Visit
	save(s, func(ctx context.Context) (inspect.PhotoMeasure, error) {
		c, err := d.Open(ctx, visit)
		if err != nil {
			return m, err
		}
		return d.KeepMeasure(ctx, c, m, t.check.ID, t.leg, "", t.stage)
	}, func(kept inspect.PhotoMeasure) {
		what := kindWords(kept)
		if kept.ReadingID != "" {
			what = words.PartAt(t.check.Name, t.leg) + ": " + marks.Value(kept)
		}
		s.env.Say.Saved(what, func() { s.takeOff(kept) })
		s.points, s.damage, s.result = nil, nil, nil
	})
}

// takeOff takes a measure off the photo, and its reading back.
func (s *Screen) takeOff(m inspect.PhotoMeasure) {
	d, visit := s.env.Desk, s.where.Visit
	save(s, func(ctx context.Context) (struct{}, error) {
		c, err := d.Open(ctx, visit)
		if err != nil {
			return struct{}{}, err
		}
		return struct{}{}, d.Unmeasure(ctx, c, m)
	}, func(struct{}) { s.env.Say.Saved(fmt.Sprintf(lang.L("Taken off: %s"), kindWords(m)), nil) })
}

// showEarlier lists what was measured on this photo before.
func (s *Screen) showEarlier() {
	s.earlier.RemoveAll()
	if len(s.data.layer.Measures) == 0 {
		return
	}
	s.earlier.Add(rows.Title(lang.L("Measured on this photo"), false))
	for _, m := range s.data.layer.Measures {
		by := words.Date(m.At)
		if m.By != "" {
			by += ", " + m.By
		}
		text := kindWords(m.PhotoMeasure) + " · " + by
		off := widgets.NewTextButton(lang.L("Take off"), false, func() { s.takeOff(m.PhotoMeasure) })
		s.earlier.Add(container.NewBorder(nil, nil, nil, off, rows.Quiet(text)))
	}
}

// drawLayer draws marks, earlier measures without their scales, and the one at
// work with it.
func (s *Screen) drawLayer() {
	l := marks.Layer{Marks: s.data.layer.Marks}
	if s.marking || len(s.points) == 0 && s.damage == nil { // else they hide what is measured now
		for _, m := range s.data.layer.Measures {
			m.Card, m.Known, m.Tube = nil, nil, nil
			l.Measures = append(l.Measures, m)
		}
	}
	if !s.marking {
		if d, ok := s.shownDamage(); ok {
			l.Measures = append(l.Measures, d)
		}
		now := s.draft()
		if s.result != nil {
			now.Value, now.Low, now.High = s.result.Value, s.result.Low, s.result.High
			if s.kind == DamageLength {
				now.Line = s.result.Line
			}
		}
		l.Measures = append(l.Measures, marks.Shown{PhotoMeasure: now})
	}
	s.canvas.SetLayer(l)
}
