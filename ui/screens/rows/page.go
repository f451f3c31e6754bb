package rows

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/layout"
	"fyne.io/fyne/v2/widget"

	"forkwear/ui/theme"
	"forkwear/ui/theme/tokens"
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

// Title is the name of a place or of a part of it.
func Title(text string, large bool) *widget.RichText {
	size := fyne.ThemeSizeName("subHeadingText")
	if !large {
		size = "text"
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
	return &widget.TextSegment{Text: text, Style: widget.RichTextStyle{ColorName: theme.ColorNameQuietInk, SizeName: "caption"}}
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
	r.Segments = []widget.RichTextSegment{&widget.TextSegment{Text: err.Error(),
		Style: widget.RichTextStyle{ColorName: theme.ColorNameReplace}}}
	r.Show()
	r.Refresh()
}

// Gap is empty room between two parts of a page.
func Gap() fyne.CanvasObject {
	return container.New(layout.NewCustomPaddedLayout(tokens.Inner, tokens.Inner, 0, 0), widget.NewLabel(""))
}

// State shows one of several things in a place: loading, empty, failed, filled.
type State struct {
	*fyne.Container
}

// NewState begins with loading.
func NewState() State {
	s := State{container.NewStack()}
	s.Fill(Quiet("Loading …"))
	return s
}

// Fill puts o in the place.
func (s State) Fill(o fyne.CanvasObject) {
	s.Objects = []fyne.CanvasObject{o}
	s.Refresh()
}

// Fail writes why nothing is shown, with a way to try again.
func (s State) Fail(err error, again fyne.CanvasObject) {
	r := NewRefusal()
	r.Set(err)
	s.Fill(container.NewVBox(r.RichText, container.NewHBox(again)))
}

// Unit is a unit behind its entry, in quiet ink.
func Unit(text string) *widget.RichText { return widget.NewRichText(quietSegment(text)) }
