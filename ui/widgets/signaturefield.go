package widgets

import (
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/lang"
	"fyne.io/fyne/v2/widget"

	"forkwear/inspect"
	"forkwear/ui/theme/tokens"
)

// Signed is who signed, and how: drawn here, or else on paper.
type Signed struct {
	By      string
	OnPaper bool
	Strokes inspect.Signature
}

// Done tells whether a name stands there with a signature, here or on paper.
func (s Signed) Done() bool {
	return strings.TrimSpace(s.By) != "" && (s.OnPaper || len(s.Strokes) > 0)
}

// Empty tells whether nothing was signed yet; a name alone is nothing.
func (s Signed) Empty() bool { return !s.OnPaper && len(s.Strokes) == 0 }

// SignatureField is a name, the field to sign in, and what takes strokes back.
// Without pointer or finger the keyboard does it: the name is typed and the
// signature stands on paper.
type SignatureField struct {
	widget.BaseWidget

	// OnChanged is called after each stroke, letter or press.
	OnChanged func()

	// Name and Pad may be given the focus and looked at; set them with Set.
	Name *Field
	Pad  *SignaturePad

	undo, clear *TextButton
	paper       *Chip
	onPaper     bool
	filling     bool
}

// NewSignatureField returns an empty field.
func NewSignatureField(onChanged func()) *SignatureField {
	f := &SignatureField{OnChanged: onChanged, Name: NewField(lang.L("name of who signs"), lang.L("name of who signs"))}
	f.Name.OnChanged = func(string) { f.changed() }
	f.Pad = NewSignaturePad(lang.L("sign here with finger, pen or mouse"), f.onDrawn)
	f.undo = NewTextButton(lang.L("Last stroke back"), false, func() { f.Pad.Undo() })
	f.clear = NewTextButton(lang.L("Clear"), false, func() { f.Pad.Clear() })
	f.paper = NewChip(lang.L("Signed on paper"), f.onPaperPressed)
	f.follow()
	f.ExtendBaseWidget(f)
	return f
}

// Value is what was signed.
func (f *SignatureField) Value() Signed {
	return Signed{By: strings.TrimSpace(f.Name.Text), OnPaper: f.onPaper, Strokes: f.Pad.Strokes()}
}

// Set shows what was signed without calling OnChanged.
func (f *SignatureField) Set(s Signed) {
	f.filling = true
	f.Name.SetText(s.By)
	f.Pad.SetStrokes(s.Strokes)
	f.onPaper = s.OnPaper
	f.filling = false
	f.follow()
}

// onDrawn: what is drawn here is not on paper.
func (f *SignatureField) onDrawn() {
	if len(f.Pad.strokes) > 0 {
		f.onPaper = false
	}
	f.follow()
	f.changed()
}

func (f *SignatureField) onPaperPressed() {
	f.onPaper = !f.onPaper
	if f.onPaper {
		f.Pad.SetStrokes(nil)
	}
	f.follow()
	f.changed()
}

func (f *SignatureField) follow() {
	f.paper.SetSelected(f.onPaper)
	drawn := len(f.Pad.strokes) > 0
	f.undo.SetEnabled(drawn)
	f.clear.SetEnabled(drawn)
}

func (f *SignatureField) changed() {
	if f.OnChanged != nil && !f.filling {
		f.OnChanged()
	}
}

// CreateRenderer implements fyne.Widget: the name over the field, the presses
// in a row under it, which breaks where it is too narrow.
func (f *SignatureField) CreateRenderer() fyne.WidgetRenderer {
	row := []fyne.CanvasObject{f.paper, f.undo, f.clear}
	flow := func(width float32, put bool, top float32) float32 {
		x, y := float32(0), top
		for _, o := range row {
			m := o.MinSize()
			if x > 0 && x+m.Width > width {
				x, y = 0, y+tokens.Target+tokens.Inner
			}
			if put {
				place(o, x, y, m.Width, tokens.Target)
			}
			x += m.Width + tokens.Step
		}
		return y + tokens.Target
	}
	high := func(width float32) float32 { return max(80, min(width/SignatureShape, 280)) }
	layout := func(s fyne.Size) {
		place(f.Name, 0, 0, min(s.Width, 420), tokens.Target)
		pad := max(high(s.Width), s.Height-flow(s.Width, false, 0)-tokens.Target-2*tokens.Step)
		w := min(s.Width, pad*SignatureShape)
		pad = min(pad, w/SignatureShape)
		place(f.Pad, 0, tokens.Target+tokens.Step, w, pad)
		flow(s.Width, true, tokens.Target+2*tokens.Step+pad)
	}
	least := func() fyne.Size {
		w := max(f.Size().Width, 240)
		return fyne.NewSize(240, tokens.Target+2*tokens.Step+high(w)+flow(w, false, 0))
	}
	objs := append([]fyne.CanvasObject{f.Name, f.Pad}, row...)
	return newRendered(objs, layout, least, func() {})
}
