package inspection

import (
	"strconv"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/lang"
	"fyne.io/fyne/v2/layout"
	"fyne.io/fyne/v2/widget"

	"forkwear/inspect"
	"forkwear/inspect/catalog"
	"forkwear/inspect/measure"
	"forkwear/inspect/shop"
	"forkwear/ui/checkdraw"
	"forkwear/ui/theme/tokens"
	"forkwear/ui/tongue"
	"forkwear/ui/widgets"
	"forkwear/ui/words"
)

// card is the check at work.
type card struct {
	frame        *widgets.Card
	box          *fyne.Container
	name, how    *widget.Label
	more         *widgets.Chip
	points       *fyne.Container
	conflict     *fyne.Container // two values that stand against each other
	conflictRoom *fyne.Container // with air under them
	pad          *fyne.Container
	padKeys      []*padKey
	padOf        inspect.Slot // whose pad and note are shown
	number       *widgets.NumberEntry
	instrument   *widget.Select
	instruments  []catalog.Instrument
	offering     bool // the gauges of a check are being listed
	numberRow    *fyne.Container
	refused      bool
	half         bool
	told         *widget.Label
	others       map[inspect.Answer]*widgets.Chip
	facts        *widget.Label
	plot         *widgets.TrendPlot
	trendOf      spot // whose trend is shown
	trendRuns    bool
	trendThere   bool // the trend of the check at work is in the plot
	drawing      *checkdraw.Drawing
	drawKey      *widgets.Chip
	turned       map[string]bool // checks whose drawing and trend were turned over
	note, fields *widgets.Field
	fieldsOf     *widget.Label
}

// scrollBar is the room that the card leaves for its scroll bar.
const scrollBar = 12

// draft is what was typed beside a check before it had an answer.
type draft struct{ note, fields string }

// others in the order in which they stand on the card.
var others = []struct {
	answer     inspect.Answer
	words, key string
}{
	{inspect.NotLooked, "not looked at", "."},
	{inspect.CannotSee, "cannot be seen", "c"},
	{inspect.CannotGauge, "cannot be measured here", "m"},
	{inspect.DoesNotApply, "does not apply", "x"},
}

func (s *Screen) buildCard() {
	c := &s.card
	c.name, c.how, c.facts = heading(""), widget.NewLabel(""), quiet("")
	c.name.Truncation, c.name.Wrapping = fyne.TextTruncateOff, fyne.TextWrapWord
	c.how.Wrapping = fyne.TextWrapWord
	c.told = widget.NewLabel("")
	c.told.Wrapping, c.told.Importance = fyne.TextWrapWord, widget.WarningImportance
	c.told.Hide()
	c.more = widgets.NewChip(lang.L("more"), s.turnMore)
	c.points = container.New(layout.NewRowWrapLayout())
	c.conflict = container.NewVBox()
	c.conflictRoom = container.New(layout.NewCustomPaddedLayout(0, 12, 0, 0), c.conflict)
	c.conflictRoom.Hide()
	c.pad = container.NewStack()
	s.buildNumber()
	rest := container.New(layout.NewRowWrapLayout())
	c.others = map[inspect.Answer]*widgets.Chip{}
	for _, o := range others {
		c.others[o.answer] = widgets.NewChip(tongue.Say(o.words)+"  "+o.key, func() { s.without(o.answer) })
		rest.Add(c.others[o.answer])
	}
	c.plot = widgets.NewTrendPlot(widgets.Trend{})
	c.turned = map[string]bool{}
	c.drawing, c.drawKey = checkdraw.New(""), widgets.NewChip(lang.L("drawing"), s.turnBeside)
	c.note, c.fieldsOf = widgets.NewField(lang.L("Note"), lang.L("Note")), quiet("")
	c.fields = widgets.NewField("", lang.L("one after the other, parted by ;"))
	for _, e := range []*widgets.Field{c.note, c.fields} {
		e.OnSubmitted = func(string) { s.noteTyped() }
	}
	past := container.New(factsLayout{}, c.facts, container.New(high(tokens.Target), c.note), c.plot, c.drawing)
	// What was read last time and the limit follow the keys closely: both are
	// needed to answer, so they are seen without scrolling in a small window.
	c.box = container.New(layout.NewCustomPaddedVBoxLayout(0), container.NewBorder(nil, nil, nil, container.NewVBox(container.NewHBox(c.drawKey, c.more)), c.name),
		c.points, c.how, c.conflictRoom, c.pad, c.numberRow, c.told, rest, past, c.fieldsOf, container.New(high(tokens.Target), c.fields))
	box := c.box
	page := widgets.NewPage(container.New(layout.NewCustomPaddedLayout(0, 0, 0, scrollBar), box))
	page.Beyond = func(e *fyne.ScrollEvent) { s.body.Scrolled(e) }
	c.frame = widgets.NewCard(page)
}

func (s *Screen) buildNumber() {
	c := &s.card
	c.number = widgets.NewNumberEntry("", s.numberChanged)
	c.number.OnRefused = func(why error) {
		c.refused = true
		s.tell(why.Error())
	}
	c.number.OnEntered = s.next
	c.number.SetHint(lang.L("a number"))
	c.instrument = widget.NewSelect(nil, func(string) { s.instrumentChosen() })
	c.numberRow = container.NewGridWithColumns(2, c.number, container.NewVBox(c.instrument))
}

// tell shows one line in the card; "" takes it away.
func (s *Screen) tell(line string) {
	s.card.told.SetText(line)
	s.card.told.Hidden = line == ""
	s.card.box.Refresh() // its room goes with it
}

func (s *Screen) turnMore() {
	id := spot{check: s.at.check}
	s.unfolded[id] = !s.unfolded[id]
	s.show()
}

func (s *Screen) noteTyped() {
	s.keepNote()
	s.blur()
	s.show()
}

// keepNote keeps what was typed beside the check: with its answer where there
// is one, else until it has one.
func (s *Screen) keepNote() {
	slot := s.card.padOf
	if slot.Check == "" {
		return
	}
	now := draft{strings.TrimSpace(s.card.note.Text), strings.TrimSpace(s.card.fields.Text)}
	r, answered := s.reading(slot)
	switch {
	case !answered && now == draft{}:
		delete(s.drafts, slot)
	case !answered:
		s.drafts[slot] = now
	case now != draft{r.Note, r.Fields} && !s.kase.Visit.Closed():
		s.answer(slot.Stage, spot{slot.Check, slot.Leg, slot.Point}, shop.Answer{Answer: r.Answer, Value: r.Value, Raw: r.Raw, Typed: r.Typed,
			Instrument: r.Instrument, Note: now.note, Fields: now.fields})
	}
}

// startNumber puts a first digit into the entry and the cursor behind it.
func (s *Screen) startNumber(text string) {
	s.card.number.SetText(text)
	s.card.number.Focus()
}

// commit takes in a number that was typed and not entered yet; false where it
// is no number: then what was typed stays.
func (s *Screen) commit() bool {
	if p, ok := s.line(); !ok || p.Check.Kind != catalog.Number || s.kase.Visit.Closed() {
		return true
	}
	s.card.refused = false
	s.card.number.Commit()
	return !s.card.refused
}

// numberChanged keeps all repeats as one reading.
func (s *Screen) numberChanged(repeats []float64) {
	if len(repeats) == 0 {
		s.tell(lang.L("The last number stays on record until another answer is given: type one, or press 'not looked at'."))
		return
	}
	p, ok := s.line()
	if !ok {
		return
	}
	raw, typed := recorded(repeats, p.Check.Unit)
	a := shop.Answer{Answer: inspect.Measured, Raw: raw, Typed: typed, Instrument: s.chosenInstrument()}
	if !s.keep(a) {
		return
	}
	s.blur()
	s.show()
	s.tell(lang.L("Kept. Another number is one more reading of the same place."))
}

// recorded turns numbers of the shop's unit into that of the check, and tells
// what was typed.
func recorded(repeats []float64, unit string) (raw []float64, typed string) {
	shown := words.Unit(unit)
	var said []string
	for _, x := range repeats {
		said = append(said, strconv.FormatFloat(x, 'f', -1, 64))
		if shown != unit {
			if y, err := measure.Convert(x, measure.Unit(shown), measure.Unit(unit)); err == nil {
				x = y
			}
		}
		raw = append(raw, x)
	}
	typed = strings.Join(said, "; ")
	if shown != unit {
		typed += " " + shown
	}
	return raw, typed
}

// inShop turns recorded values into the shop's unit, rounded to what a gauge
// shows, so that what was typed comes back as it was.
func inShop(raw []float64, unit string) []float64 {
	if words.Unit(unit) == unit {
		return raw
	}
	out := make([]float64, len(raw))
	for i, x := range raw {
		v, _ := words.In(x, unit)
		out[i], _ = strconv.ParseFloat(strconv.FormatFloat(v, 'g', 10, 64), 64)
	}
	return out
}

func (s *Screen) chosenInstrument() string {
	if i := s.card.instrument.SelectedIndex(); i >= 0 && i < len(s.card.instruments) {
		return s.card.instruments[i].ID
	}
	return ""
}

// instrumentChosen keeps a number that is there already with another gauge.
func (s *Screen) instrumentChosen() {
	if s.card.offering {
		return
	}
	s.blur()
	id := s.chosenInstrument()
	r, ok := s.reading(s.slot(s.stage, s.at))
	if ok && r.Answer == inspect.Measured && id != "" && id != r.Instrument {
		s.keep(shop.Answer{Answer: r.Answer, Value: r.Value, Raw: r.Raw, Typed: r.Typed, Instrument: id})
		s.show()
	}
}

// buildPad makes the keys of a check's answers.
func (s *Screen) buildPad(k catalog.Check) {
	c := &s.card
	c.padKeys = nil
	c.pad.Objects = nil
	switch k.Kind {
	case catalog.Grade:
		for g, w := range k.GradeWords() {
			c.padKeys = append(c.padKeys, newPadKey(s, strconv.Itoa(g), w, func() { s.grade(float64(g)) }))
		}
		for g := 0; k.HalfSteps && g < 5; g++ {
			c.padKeys = append(c.padKeys, newPadKey(s, "+½", "", func() { s.grade(float64(g) + 0.5) }))
		}
		c.pad.Objects = []fyne.CanvasObject{container.New(gradeLayout{k.HalfSteps}, objects(c.padKeys)...)}
	case catalog.Fine:
		c.padKeys = []*padKey{
			newPadKey(s, "1", k.AnswerWord(inspect.Fine), func() { s.fine(true) }),
			newPadKey(s, "0", k.AnswerWord(inspect.NotFine), func() { s.fine(false) }),
		}
		c.pad.Objects = []fyne.CanvasObject{container.NewGridWithColumns(2, objects(c.padKeys)...)}
	case catalog.Number:
		s.offerInstruments(k)
	}
	c.pad.Hidden = len(c.pad.Objects) == 0
	c.numberRow.Hidden = k.Kind != catalog.Number
	c.pad.Refresh()
}

func objects(keys []*padKey) []fyne.CanvasObject {
	out := make([]fyne.CanvasObject, len(keys))
	for i, k := range keys {
		out[i] = k
	}
	return out
}

func (s *Screen) offerInstruments(k catalog.Check) {
	c := &s.card
	c.instruments = nil
	var names []string
	for _, id := range k.Instruments {
		if g, ok := s.env.Desk.Catalog.Instrument(id); ok {
			c.instruments = append(c.instruments, g)
			names = append(names, g.Name)
		}
	}
	c.offering = true
	defer func() { c.offering = false }()
	c.instrument.Options = names
	c.instrument.ClearSelected()
	r, _ := s.reading(s.slot(s.stage, s.at))
	for i := len(names) - 1; i >= 0; i-- { // the one that was used, else the first
		if i == 0 || c.instruments[i].ID == r.Instrument {
			c.instrument.SetSelectedIndex(i)
			break
		}
	}
	c.instrument.Hidden = len(names) == 0
	c.number.SetText("")
	c.number.SetUnit(words.Unit(k.Unit))
}
