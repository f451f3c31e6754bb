package settings

import (
	"context"
	"fmt"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/lang"
	"fyne.io/fyne/v2/widget"

	"forkwear/inspect/measure"
	"forkwear/ui/run"
	"forkwear/ui/screens/rows"
	"forkwear/ui/screens/visitbar"
	"forkwear/ui/words"
)

// units is the choice of the shop's units.
type units struct {
	values map[string]string // as kept, by key
	rows   map[string]*oneOf
	queue  visitbar.Queue // kept in the order in which they were chosen
	failed rows.Refusal
}

func unitName(k measure.Kind) string {
	switch k {
	case measure.KindGauge:
		return lang.L("Pressure")
	case measure.KindLength:
		return lang.L("Length")
	case measure.KindVolume:
		return lang.L("Volume")
	}
	return lang.L("Temperature")
}

func (s *Screen) buildUnits() fyne.CanvasObject {
	u := &s.units
	u.values, u.rows, u.failed = map[string]string{}, map[string]*oneOf{}, rows.NewRefusal()
	box := container.NewVBox(rows.Gap(), rows.Title(lang.L("Units"), false), u.failed.RichText)
	for _, c := range words.UnitChoices() {
		var signs []string
		for _, unit := range c.Units {
			signs = append(signs, string(unit))
		}
		row := newOneOf(signs, signs, func(sign string) { s.onUnit(c, sign) })
		u.rows[c.Key] = row
		box.Add(rows.Beside(widget.NewLabel(unitName(c.Kind)), container.NewHBox(row.row), .46, 340))
	}
	box.Add(rows.Quiet(lang.L("Values are shown and typed in these from now on. Another unit can always be typed behind a number; the record keeps bar, mm, mL and °C.")))
	s.showUnits()
	return box
}

func (s *Screen) showUnits() {
	for _, c := range words.UnitChoices() {
		chosen := s.units.values[c.Key]
		if chosen == "" {
			chosen = string(c.Units[0])
		}
		s.units.rows[c.Key].set(chosen)
	}
}

// loadUnits brings what the library holds and puts it in force.
func (s *Screen) loadUnits() {
	lib := s.env.Desk.Lib
	run.Go(s.env.Run, func(ctx context.Context) (map[string]string, error) {
		values := map[string]string{}
		for _, c := range words.UnitChoices() {
			v, err := lib.Preference(ctx, c.Key)
			if err != nil {
				return nil, err
			}
			values[c.Key] = v
		}
		return values, nil
	}, func(values map[string]string, err error) {
		if s.closed {
			return
		}
		s.units.failed.Set(err)
		if err == nil {
			s.takeUnits(values)
		}
	})
}

func (s *Screen) takeUnits(values map[string]string) {
	s.units.values = values
	words.UseUnits(words.UnitsFrom(values))
	s.showUnits()
}

// onUnit puts a unit in force and keeps it, with the way back.
func (s *Screen) onUnit(c words.UnitChoice, sign string) {
	u, lib := &s.units, s.env.Desk.Lib
	before := u.values[c.Key]
	if before == sign || before == "" && sign == string(c.Units[0]) {
		return
	}
	put := func(v string) {
		values := map[string]string{c.Key: v}
		for k, old := range u.values {
			if k != c.Key {
				values[k] = old
			}
		}
		s.takeUnits(values)
	}
	put(sign)
	u.queue.Do(s.env.Run, func(ctx context.Context) error { return lib.PutPreference(ctx, c.Key, sign) }, func(err error) {
		if err != nil {
			put(before)
			s.env.Say.Failed(err)
			return
		}
		if before == "" {
			before = string(c.Units[0])
		}
		s.env.Say.Saved(fmt.Sprintf(lang.L("%s in %s"), unitName(c.Kind), sign), func() { s.onUnit(c, before) })
	})
}
