package measure

import (
	"fmt"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/lang"
	"fyne.io/fyne/v2/layout"
	"fyne.io/fyne/v2/widget"

	"forkwear/inspect"
	"forkwear/ui/screens/rows"
	"forkwear/ui/widgets"
	"forkwear/ui/words"
)

func (s *Screen) build() {
	s.canvas = widgets.NewPhotoCanvas()
	s.canvas.OnHandle, s.canvas.OnPoint, s.canvas.OnDrawn = s.onHandle, s.onPoint, s.onDrawn
	s.canvas.OnBrush, s.canvas.OnBack, s.canvas.OnLook = s.onBrush, s.dropLast, s.onLook
	s.canvas.OnKey, s.canvas.OnRune = s.TypedKey, s.TypedRune
	s.buildMeasure()
	s.buildMarks()
	s.tabs = []*widgets.Chip{
		widgets.NewChip(lang.L("Measure"), func() { s.setMarking(false) }),
		widgets.NewChip(lang.L("Mark  M"), func() { s.setMarking(true) }),
	}
	s.panel = container.NewVBox(container.NewGridWithColumns(2, s.tabs[0], s.tabs[1]), s.measureBox, s.markBox)
	s.scroll = container.NewVScroll(rows.Inset(s.panel))
	body := container.NewVScroll(container.New(&split{panel: s.scroll}, s.canvas, s.scroll))
	s.state.Fill(container.NewBorder(s.buildHead(), nil, nil, nil, body))
}

func (s *Screen) buildHead() fyne.CanvasObject {
	p := s.data.photo
	name := words.PartAt(s.data.check.Name, p.Leg)
	if s.data.check.ID == "" {
		name = lang.L("Photo of the tray")
	}
	buttons := container.NewHBox()
	if p.Check != "" {
		buttons.Add(widgets.NewTextButton(lang.L("Compare"), false, s.toCompare))
	}
	buttons.Add(widgets.NewTextButton(lang.L("Back"), false, s.Back))
	return container.NewBorder(nil, nil, nil, buttons, rows.Title(fmt.Sprintf("%s · %s", name, words.Taken(s.env.Desk, p, s.data.clocks)), true))
}

func chips(box *fyne.Container, names []string, do func(int)) []*widgets.Chip {
	var out []*widgets.Chip
	for i, n := range names {
		c := widgets.NewChip(n, func() { do(i) })
		out = append(out, c)
		box.Add(c)
	}
	return out
}

func wrapped() *fyne.Container { return container.New(layout.NewRowWrapLayout()) }

func (s *Screen) buildMeasure() {
	scales := wrapped()
	s.scales = chips(scales, []string{lang.L("Card  C"), lang.L("Tube  T"), lang.L("Two points  P")}, func(i int) {
		[]func(){s.toggleCard, s.toggleTube, s.toggleKnown}[i]()
	})
	s.scaleSays = rows.Quiet("")
	s.findCard = widgets.NewChip(lang.L("Find it  F"), s.lookForCard)
	scales.Add(s.findCard)
	s.printed = widgets.NewChip(lang.L("Bench card  B"), s.togglePrinted)
	scales.Add(s.printed)
	s.diameter, s.distance = widget.NewEntry(), widget.NewEntry()
	s.diameter.Text = words.Number(s.data.kase.Sheet.Stanchion, 0)
	if s.data.kase.Sheet.Stanchion == 0 {
		s.diameter.Text = ""
	}
	s.distance.PlaceHolder = "10"
	s.diameter.OnChanged, s.distance.OnChanged = s.typedScale, s.typedScale
	s.diameterRow = container.NewVBox(rows.Quiet(lang.L("Diameter of the tube; drag two points onto each of its edges.")), rows.WithUnit("mm", s.diameter))
	s.knownRow = container.NewVBox(rows.Quiet(lang.L("Distance of the two points, both on the surface itself.")), rows.WithUnit("mm", s.distance))
	kinds := wrapped()
	s.kinds = chips(kinds, []string{lang.L("Length  L"), lang.L("Width  W"), lang.L("Area  A"), lang.L("Damaged area  D"), lang.L("Damaged length  G")}, func(i int) { s.setKind(Kind(i)) })
	s.brushRow = wrapped()
	s.brushes = chips(s.brushRow, []string{lang.L("Paint"), lang.L("Erase"), lang.L("Move points"), lang.L("New box"), lang.L("Undo")}, s.onBrushChip)
	s.brushRow.Add(widgets.NewChip(lang.L("Smaller  ["), func() { s.resizeBrush(1 / 1.4) }))
	s.brushRow.Add(widgets.NewChip(lang.L("Larger  ]"), func() { s.resizeBrush(1.4) }))
	s.hint = rows.Quiet("")
	s.value, s.range95, s.method = rows.Title("", true), rows.Quiet(""), rows.Quiet("")
	s.use, s.earlier = container.NewVBox(), container.NewVBox()
	s.measureBox = container.NewVBox(
		rows.Title(lang.L("What gives the scale"), false), scales, s.scaleSays, s.diameterRow, s.knownRow,
		rows.Title(lang.L("What is measured"), false), kinds, s.hint, s.brushRow,
		widget.NewSeparator(), s.value, s.range95, s.use, s.method, s.earlier)
}

// split puts the photo beside its panel, or above it where the room is narrow.
type split struct {
	panel *container.Scroll
	width float32
}

const (
	panelWidth  = 356
	splitNarrow = 760
	photoHeight = 320
	splitGap    = 12
)

// MinSize implements fyne.Layout: as it stood at the last width.
func (l *split) MinSize(os []fyne.CanvasObject) fyne.Size {
	if l.width > 0 && l.width < splitNarrow {
		return fyne.NewSize(200, photoHeight+splitGap+l.panel.Content.MinSize().Height)
	}
	return fyne.NewSize(200, 240)
}

// Layout implements fyne.Layout.
func (l *split) Layout(os []fyne.CanvasObject, s fyne.Size) {
	l.width = s.Width
	os[0].Move(fyne.NewPos(0, 0))
	if s.Width < splitNarrow {
		os[0].Resize(fyne.NewSize(s.Width, photoHeight))
		os[1].Move(fyne.NewPos(0, photoHeight+splitGap))
		os[1].Resize(fyne.NewSize(s.Width, max(0, s.Height-photoHeight-splitGap)))
		return
	}
	os[0].Resize(fyne.NewSize(s.Width-panelWidth-splitGap, s.Height))
	os[1].Move(fyne.NewPos(s.Width-panelWidth, 0))
	os[1].Resize(fyne.NewSize(panelWidth, s.Height))
}

func (s *Screen) setMarking(on bool) {
	s.marking = on
	s.show()
}

func (s *Screen) setKind(k Kind) {
	if k.byMask() != s.kind.byMask() || k != s.kind && !k.byMask() {
		s.points = nil
	}
	s.kind = k
	s.changed()
}

// changed brings everything in line after a mark was set, moved or taken off.
func (s *Screen) changed() {
	s.show()
	s.measureSoon()
}

// show brings the screen in line with the state.
func (s *Screen) show() {
	s.tabs[0].SetSelected(!s.marking)
	s.tabs[1].SetSelected(s.marking)
	s.measureBox.Hidden, s.markBox.Hidden = s.marking, !s.marking
	for i, on := range []bool{s.card != nil, s.tube != nil, s.known != nil} {
		s.scales[i].SetSelected(on)
	}
	for i, c := range s.kinds {
		c.SetSelected(Kind(i) == s.kind)
	}
	s.brushRow.Hidden = !s.kind.byMask() || s.damage == nil
	for i, on := range []bool{!s.eraser && !s.hold, s.eraser && !s.hold, s.hold} {
		s.brushes[i].SetSelected(on)
	}
	s.setTool()
	s.setHandles()
	s.drawLayer()
	s.showScale()
	s.showEarlier()
	s.showMarks()
	s.showResult()
}

func (s *Screen) setTool() {
	switch {
	case s.marking:
		s.canvas.SetTool(widgets.ToolDraw, s.shape)
	case !s.kind.byMask():
		s.canvas.SetTool(widgets.ToolPoint, "")
	case s.damage == nil:
		s.canvas.SetTool(widgets.ToolDraw, widgets.ShapeBox)
	case s.hold:
		s.canvas.SetTool(widgets.ToolLook, "")
	default:
		s.canvas.SetTool(widgets.ToolBrush, "")
		s.canvas.SetBrush(s.brushRadius())
	}
}

// setHandles shows the points that can be moved, and remembers what each is of.
func (s *Screen) setHandles() {
	var hs []widgets.Handle
	s.refs = nil
	add := func(p *inspect.Spot, label string, scale bool) {
		s.refs = append(s.refs, p)
		hs = append(hs, widgets.Handle{At: *p, Label: label, Scale: scale})
	}
	if !s.marking {
		for i := range s.card {
			add(&s.card[i], fmt.Sprint(i+1), true)
		}
		if s.known != nil {
			add(&s.known.A, "", true)
			add(&s.known.B, "", true)
		}
		if s.tube != nil {
			for i := range s.tube.Edges {
				add(&s.tube.Edges[i], "", true)
			}
		}
		if !s.kind.byMask() {
			for i := range s.points {
				add(&s.points[i], "", false)
			}
		}
	}
	s.canvas.SetHandles(hs)
}

func (s *Screen) showScale() {
	p := s.data.photo
	text := ""
	switch {
	case s.card != nil:
		text = s.cardSays
	case s.tube == nil && s.known == nil:
		text = lang.L("Best: a tube's two edges, or a card lying on the surface. Two points hold only straight from above.")
	}
	if s.tube != nil && p.FocalLength35 == 0 {
		text = strings.TrimSpace(strings.Join([]string{lang.L("The photo does not state the camera's focal length: a tube alone gives no scale, mark a card or two points too."), text}, " "))
	}
	rows.SetQuiet(s.scaleSays, text)
	s.scaleSays.Hidden = text == ""
	s.printed.Hidden = s.card == nil || s.data.print == 1
	s.printed.SetSelected(s.cardFrom.printed)
	s.findCard.SetText(lang.L("Find it  F"))
	if len(s.cards) > 1 {
		s.findCard.SetText(lang.L("The next one  F"))
	}
	s.findCard.Hidden, s.diameterRow.(*fyne.Container).Hidden, s.knownRow.(*fyne.Container).Hidden = s.card == nil, s.tube == nil, s.known == nil
	s.settle()
}

func (s *Screen) sayHint(text string) {
	rows.SetQuiet(s.hint, text)
	s.settle()
}

func (s *Screen) settle() { rows.Settle(s.scroll) }
