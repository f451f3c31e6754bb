package rows

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/lang"
	"fyne.io/fyne/v2/layout"
	fynetheme "fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"forkwear/inspect"
	"forkwear/ui/theme"
	"forkwear/ui/theme/tokens"
	"forkwear/ui/tongue"
)

// Beside puts two things side by side, the first with a share of the width; the
// second goes under the first where the width is less than narrow.
func Beside(first, second fyne.CanvasObject, share, narrow float32) *fyne.Container {
	return container.New(&beside{share: share, narrow: narrow}, first, second)
}

type beside struct {
	share, narrow, width float32
}

const gutter = 2 * tokens.Step

func (b *beside) stacked() bool { return b.width > 0 && b.width < b.narrow }

// MinSize implements fyne.Layout: as it stood at the last width.
func (b *beside) MinSize(os []fyne.CanvasObject) fyne.Size {
	m, n := os[0].MinSize(), os[1].MinSize()
	w := max(m.Width, n.Width)
	if b.stacked() {
		return fyne.NewSize(w, m.Height+gutter+n.Height)
	}
	return fyne.NewSize(w, max(m.Height, n.Height))
}

// Layout implements fyne.Layout.
func (b *beside) Layout(os []fyne.CanvasObject, s fyne.Size) {
	b.width = s.Width
	if b.stacked() {
		h := os[0].MinSize().Height
		os[0].Resize(fyne.NewSize(s.Width, h))
		os[0].Move(fyne.NewPos(0, 0))
		os[1].Move(fyne.NewPos(0, h+gutter))
		os[1].Resize(fyne.NewSize(s.Width, max(os[1].MinSize().Height, s.Height-h-gutter)))
		return
	}
	left := (s.Width - gutter) * b.share
	os[0].Move(fyne.NewPos(0, 0))
	os[0].Resize(fyne.NewSize(left, s.Height))
	os[1].Move(fyne.NewPos(left+gutter, 0))
	os[1].Resize(fyne.NewSize(s.Width-left-gutter, s.Height))
}

// Under puts a thing that has its own height over one that takes the rest.
// Wrapped text in the first is given its width before it is asked for its height,
// so that it holds after any change of the window's size.
func Under(top, body fyne.CanvasObject) *fyne.Container { return container.New(under{}, top, body) }

type under struct{}

// MinSize implements fyne.Layout.
func (under) MinSize(os []fyne.CanvasObject) fyne.Size {
	m, n := os[0].MinSize(), os[1].MinSize()
	return fyne.NewSize(max(m.Width, n.Width), m.Height+n.Height)
}

// Layout implements fyne.Layout.
func (under) Layout(os []fyne.CanvasObject, s fyne.Size) {
	os[0].Move(fyne.NewPos(0, 0))
	for range 2 {
		os[0].Resize(fyne.NewSize(s.Width, os[0].MinSize().Height))
	}
	h := os[0].Size().Height
	os[1].Move(fyne.NewPos(0, h))
	os[1].Resize(fyne.NewSize(s.Width, max(0, s.Height-h)))
}

// Title is the name of a place or of a part of it.
func Title(text string, large bool) *widget.RichText {
	size := fynetheme.SizeNameSubHeadingText
	if !large {
		size = fynetheme.SizeNameText
	}
	t := widget.NewRichText(&widget.TextSegment{Text: text, Style: widget.RichTextStyle{SizeName: size, TextStyle: fyne.TextStyle{Bold: true}}})
	t.Truncation = fyne.TextTruncateEllipsis
	return t
}

// Quiet is a sentence beside the matter, wrapped.
func Quiet(text string) *widget.RichText {
	t := widget.NewRichText(quietSegment(text))
	t.Wrapping = fyne.TextWrapWord
	return t
}

// SetQuiet changes the text of a Quiet.
func SetQuiet(t *widget.RichText, text string) {
	t.Segments = []widget.RichTextSegment{quietSegment(text)}
	t.Refresh()
}

// SetTitle changes the text of a Title.
func SetTitle(t *widget.RichText, text string) {
	t.Segments[0].(*widget.TextSegment).Text = text
	t.Refresh()
}

func quietSegment(text string) *widget.TextSegment {
	return &widget.TextSegment{Text: text, Style: widget.RichTextStyle{ColorName: theme.ColorNameQuietInk, SizeName: fynetheme.SizeNameCaptionText}}
}

// Refusal is what is wrong, written in place; it takes no room while empty.
type Refusal struct {
	*widget.RichText
}

// NewRefusal returns an empty refusal.
func NewRefusal() Refusal {
	t := widget.NewRichText()
	t.Wrapping = fyne.TextWrapWord
	t.Hide()
	return Refusal{t}
}

// Set writes what is wrong; nil takes it away.
func (r Refusal) Set(err error) {
	if err == nil {
		r.Segments = nil
		r.Hide()
		return
	}
	r.Segments = []widget.RichTextSegment{&widget.TextSegment{Text: inspect.SaidIn(tongue.Say, err),
		Style: widget.RichTextStyle{ColorName: theme.ColorNameReplace}}}
	r.Show()
	r.Refresh()
}

// Gap is empty room between two parts of a page.
func Gap() fyne.CanvasObject {
	return container.New(layout.NewCustomPaddedLayout(tokens.Step, 0, 0, 0), layout.NewSpacer())
}

// State shows one of several things in a place: loading, empty, failed, filled.
type State struct {
	Box *fyne.Container
}

// NewState begins with loading.
func NewState() State {
	s := State{container.NewStack()}
	s.Fill(Quiet(lang.L("Loading …")))
	return s
}

// Fill puts o in the place.
func (s State) Fill(o fyne.CanvasObject) {
	s.Box.Objects = []fyne.CanvasObject{o}
	s.Box.Refresh()
}

// Fail writes why nothing is shown, with a way to try again.
func (s State) Fail(err error, again fyne.CanvasObject) {
	r := NewRefusal()
	r.Set(err)
	s.Fill(container.NewVBox(r.RichText, container.NewHBox(again)))
}

// WithUnit writes a unit behind its entry, in quiet ink; entries with short
// units and without are of one length.
func WithUnit(unit string, entry fyne.CanvasObject) fyne.CanvasObject {
	return container.New(withUnit{}, Target(entry), container.NewCenter(widget.NewRichText(quietSegment(unit))))
}

type withUnit struct{}

const unitRoom = 56

// MinSize implements fyne.Layout.
func (withUnit) MinSize(os []fyne.CanvasObject) fyne.Size {
	return fyne.NewSize(os[0].MinSize().Width+unitRoom, os[0].MinSize().Height)
}

// Layout implements fyne.Layout.
func (withUnit) Layout(os []fyne.CanvasObject, s fyne.Size) {
	room := max(unitRoom, os[1].MinSize().Width)
	h := os[0].MinSize().Height
	os[0].Move(fyne.NewPos(0, 0))
	os[0].Resize(fyne.NewSize(max(0, s.Width-room), h))
	os[1].Move(fyne.NewPos(max(0, s.Width-room), 0))
	os[1].Resize(fyne.NewSize(room, h))
}

// Target gives a field the height that greasy hands want, and not more.
func Target(o fyne.CanvasObject) fyne.CanvasObject { return container.New(target{}, o) }

type target struct{}

// MinSize implements fyne.Layout.
func (target) MinSize(os []fyne.CanvasObject) fyne.Size {
	m := os[0].MinSize()
	return fyne.NewSize(m.Width, max(m.Height, tokens.Target))
}

// Layout implements fyne.Layout.
func (t target) Layout(os []fyne.CanvasObject, s fyne.Size) {
	os[0].Move(fyne.NewPos(0, 0))
	os[0].Resize(fyne.NewSize(s.Width, t.MinSize(os).Height))
}

// Inset keeps frames off the edge of a scroll, which would cut them.
func Inset(o fyne.CanvasObject) fyne.CanvasObject {
	return container.New(layout.NewCustomPaddedLayout(2, 2, 2, 2*tokens.Step), o)
}

// Settle lays a page out again after something on it came or went. Wrapped text
// knows its height only once it has its width, so it takes two turns.
func Settle(page *container.Scroll) {
	page.Refresh()
	page.Refresh()
}
