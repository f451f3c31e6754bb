package inspection

import (
	"fmt"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/lang"

	"forkwear/inspect"
	"forkwear/inspect/catalog"
	"forkwear/ui/tongue"
	"forkwear/ui/widgets"
	"forkwear/ui/words"
)

// show brings everything on the screen in line with the case and the way.
func (s *Screen) show() {
	if s.kase == nil || s.stage == "" {
		return
	}
	s.keepFront()
	s.showStages()
	left, right := insides(s.kase.Sheet)
	s.drawing.SetInsides(left, right)
	s.drawing.SetDoubleCrown(s.kase.Sheet.Crown == "dual")
	s.showDrawing()
	s.showWay()
	p, ok := s.line()
	if !ok {
		s.message = widgets.NewEmptyState(lang.L("Nothing is asked at this stage"), lang.L("The service level of this visit has no check here. Find a check with / to open one."), "", nil)
		s.title.SetText(words.Stage(s.stage))
		s.count.SetText("")
		s.caution.Hide()
		s.dots.set(nil, -1)
		s.steps.Refresh()
		s.put(s.message)
		s.showPhotos()
		return
	}
	s.showZone(p)
	s.showCard(p)
	if s.search.open {
		s.put(s.search.frame)
	} else {
		s.put(s.card.frame)
	}
	s.showPhotos()
}

func (s *Screen) put(o fyne.CanvasObject) {
	if len(s.middle.Objects) == 1 && s.middle.Objects[0] == o {
		return
	}
	s.middle.Objects = []fyne.CanvasObject{o}
	s.middle.Refresh()
}

func (s *Screen) showStages() {
	allowed := map[inspect.Stage]bool{}
	for _, st := range s.stages() {
		allowed[st] = true
	}
	for st, chip := range s.stageChips {
		chip.Hidden = !allowed[st]
		if !allowed[st] {
			continue
		}
		lines := s.route
		if st != s.stage {
			lines = s.routeOf(st)
		}
		n := s.progress(lines)
		chip.SetText(fmt.Sprintf(lang.L("%s · %d of %d"), words.Stage(st), n, len(lines)))
		chip.SetSelected(st == s.stage)
		if st == s.stage {
			s.done.SetText(fmt.Sprintf(lang.L("%d of %d done"), n, len(lines)))
		}
	}
}

// showWay tells what is not saved, and that a collected visit is locked.
func (s *Screen) showWay() {
	s.locked.Hidden = !s.kase.Visit.Closed()
	if s.kase.Visit.Closed() {
		s.locked.SetText(fmt.Sprintf(lang.L("Collected on %s: this record can be read, not changed."), words.Date(s.kase.Visit.Collected)))
	}
	s.unsaved.Hidden, s.again.Hidden = s.blocked == nil, s.blocked == nil
	if s.blocked != nil {
		s.unsaved.SetText(fmt.Sprintf(lang.L("%d entries are not saved yet. They stay here. %s"), len(s.way), inspect.SaidIn(tongue.Say, s.blocked)))
	}
}

func (s *Screen) showZone(p catalog.Position) {
	r := regionOf(p)
	lines := inRegion(s.route, r)
	s.title.SetText(s.regionTitle(r))
	s.count.SetText(fmt.Sprintf("%d / %d", s.progress(lines), len(lines)))
	s.zoneHead.Refresh() // the count may be wider than the one before
	z, _ := s.env.Desk.Catalog.Zone(r.zone)
	s.caution.Hidden = z.Caution == ""
	s.caution.SetText(fmt.Sprintf(lang.L("Caution: %s"), z.Caution))
	marks := make([]dotMark, len(lines))
	for i, l := range lines {
		a, ok := s.answerOf(l)
		switch {
		case !ok:
			marks[i] = dotOpen
		case fails(l.Check, s.kase.Sheet, a):
			marks[i] = dotFails
		case unsettled(a.Answer):
			marks[i] = dotUnsettled
		default:
			marks[i] = dotDone
		}
	}
	s.dots.set(marks, find(lines, s.at))
	s.steps.Refresh()
}

func (s *Screen) dotPressed(i int) {
	if lines := inRegion(s.route, s.region()); i < len(lines) {
		s.goTo(s.start(lines[i]))
	}
}

func (s *Screen) dotHovered(i int) {
	lines := inRegion(s.route, s.region())
	if i < 0 || i >= len(lines) {
		s.env.Say.Hint("")
		return
	}
	text := lines[i].Check.Name
	if r, ok := s.answerOf(lines[i]); ok {
		text += ": " + words.Reading(lines[i].Check, r)
	}
	s.env.Say.Hint(text)
}

func (s *Screen) showCard(p catalog.Position) {
	c, k := &s.card, p.Check
	slot := s.slot(s.stage, s.at)
	r, answered := s.reading(slot)
	c.name.SetText(k.Name)
	open := s.unfolded[spot{check: k.ID}]
	c.more.Hidden = k.More == ""
	c.more.SetText(map[bool]string{false: lang.L("more"), true: lang.L("less")}[open])
	how := k.How
	if open && k.More != "" {
		how += "\n" + k.More
	}
	c.how.SetText(how)
	s.showConflict(k, slot)
	s.showPoints(k)
	if c.padOf != slot {
		s.buildPad(k)
		d := s.drafts[slot]
		if answered {
			d = draft{r.Note, r.Fields}
		}
		c.note.SetText(d.note)
		c.fields.SetText(d.fields)
		c.half = false
		c.padOf = slot
	}
	c.fields.Hidden = len(k.Fields) == 0
	c.fieldsOf.Hidden = c.fields.Hidden
	c.fieldsOf.SetText(fmt.Sprintf(lang.L("Say also: %s"), strings.Join(k.Fields, "; ")))
	c.fields.SetCaption(c.fieldsOf.Text)
	s.showAnswer(k, r, answered)
	c.facts.SetText(strings.Join(s.facts(p), "\n"))
	s.showTrend()
	c.frame.Refresh()
}

// showAnswer marks the answer in force on the pad and the chips.
func (s *Screen) showAnswer(k catalog.Check, r inspect.Reading, answered bool) {
	c := &s.card
	closed := s.kase.Visit.Closed()
	for i, key := range c.padKeys {
		key.disabled = closed
		switch k.Kind {
		case catalog.Grade:
			g := float64(i)
			if i >= 6 {
				g = float64(i-6) + 0.5
			}
			key.selected = answered && r.Answer == inspect.Graded && r.Value == g
		case catalog.Fine:
			key.selected = answered && (i == 0 && r.Answer == inspect.Fine || i == 1 && r.Answer == inspect.NotFine)
		}
		key.Refresh()
	}
	if k.Kind == catalog.Number {
		var raw []float64
		if answered && r.Answer == inspect.Measured {
			if raw = r.Raw; len(raw) == 0 {
				raw = []float64{r.Value}
			}
		}
		c.number.SetRepeats(inShop(raw, k.Unit))
	}
	for a, chip := range c.others {
		chip.SetSelected(answered && r.Answer == a)
		chip.Hidden = a == inspect.CannotGauge && k.Kind != catalog.Number
	}
	for _, e := range []interface {
		Enable()
		Disable()
	}{c.note, c.fields} {
		if closed {
			e.Disable()
		} else {
			e.Enable()
		}
	}
}

func (s *Screen) showPoints(k catalog.Check) {
	c := &s.card
	c.points.Objects = nil
	for _, pt := range k.Points {
		at := spot{s.at.check, s.at.leg, pt}
		text := pt
		if r, ok := s.reading(s.slot(s.stage, at)); ok {
			text += ": " + short(r)
		}
		chip := widgets.NewChip(text, func() { s.jump(at) })
		chip.SetSelected(pt == s.at.point)
		c.points.Add(chip)
	}
	c.points.Hidden = len(k.Points) == 0
	c.points.Refresh()
}

func (s *Screen) jump(at spot) { s.goTo(at) }

// short is an answer in a few signs.
func short(r inspect.Reading) string {
	switch r.Answer {
	case inspect.Graded, inspect.Measured:
		v, _ := words.In(r.Value, r.Unit)
		return words.Number(v, 0)
	case inspect.Fine, inspect.ZoneSeen:
		return tongue.Say("fine")
	case inspect.NotFine:
		return tongue.Say("not fine")
	}
	return "–"
}

// facts are what is known beside the answer: now, as received, last time, and
// the limit.
func (s *Screen) facts(p catalog.Position) []string {
	k := p.Check
	var out []string
	slot := s.slot(s.stage, s.at)
	if r, ok := s.reading(slot); ok && r.Answer == inspect.Measured { // of the others the keys tell
		out = append(out, fmt.Sprintf(lang.L("Now: %s"), words.Reading(k, r)))
	}
	if s.stage != inspect.Received {
		before := slot
		before.Stage = inspect.Received
		if r, ok := s.reading(before); ok {
			out = append(out, fmt.Sprintf(lang.L("As received: %s"), words.Reading(k, r)))
		}
	}
	last, ok := s.kase.LastOf(k.ID, s.at.leg, s.at.point)
	if !ok { // it was read as a whole then
		last, ok = s.kase.LastOf(k.ID, s.at.leg, "")
	}
	if ok {
		out = append(out, fmt.Sprintf(lang.L("Last: %s · %s, %s"), words.Reading(k, last.Reading), words.Date(last.Visit.Visit.DroppedOff), words.Hours(last.Visit.Hours)))
	} else {
		out = append(out, lang.L("Last: no earlier reading"))
	}
	if l := words.Limit(k, s.kase.Sheet); l != "" {
		out = append(out, words.Sentence(l))
	}
	return out
}

// said is what the status line tells of a saved answer.
func (s *Screen) said(k catalog.Check, r inspect.Reading) string {
	what := words.PartAt(k.Name, r.Leg)
	if r.Point != "" {
		what += ", " + r.Point
	}
	return what + ": " + words.Reading(k, r)
}
