package visitbar

import (
	"context"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/lang"
	"fyne.io/fyne/v2/layout"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"forkwear/inspect"
	"forkwear/inspect/shop"
	"forkwear/ui/place"
	"forkwear/ui/run"
	"forkwear/ui/tongue"
	"forkwear/ui/widgets"
)

// Page is a screen of a visit: one container whose inside changes.
type Page struct {
	box    *fyne.Container
	scroll *container.Scroll
}

// NewPage returns a page that loads.
func NewPage() *Page {
	p := &Page{box: container.NewStack()}
	p.Loading()
	return p
}

// Content is the page as an object, always the same one.
func (p *Page) Content() fyne.CanvasObject { return p.box }

// Loading says that the record is being read.
func (p *Page) Loading() {
	text := widget.NewLabel(lang.L("Reading the record of this visit …"))
	text.Importance = widget.LowImportance
	p.set(container.NewCenter(text))
}

// Open reads a visit beside the window and hands it on; what went wrong is told
// and shown, with again as the way out.
func (p *Page) Open(env *place.Env, visit inspect.ID, again func(), opened func(*shop.Case)) (stop func()) {
	return run.Go(env.Run, func(ctx context.Context) (*shop.Case, error) { return env.Desk.Open(ctx, visit) }, func(c *shop.Case, err error) {
		if err != nil {
			env.Say.Failed(err)
			p.Failed(err, again)
			return
		}
		opened(c)
	})
}

// Failed says why there is nothing to see, and offers another go.
func (p *Page) Failed(err error, again func()) {
	p.set(widgets.NewEmptyState(lang.L("This could not be done"), inspect.SaidIn(tongue.Say, err), lang.L("Try again"), again))
}

// Empty says what belongs here while there is nothing.
func (p *Page) Empty(bar fyne.CanvasObject, title, sentence, action string, do func()) {
	p.set(container.NewBorder(bar, nil, nil, nil, widgets.NewEmptyState(title, sentence, action, do)))
}

// Show puts a bar, a body that scrolls and a foot. What was scrolled to stays
// in sight.
func (p *Page) Show(bar, body, foot fyne.CanvasObject) {
	at := fyne.Position{}
	if p.scroll != nil {
		at = p.scroll.Offset
	}
	p.scroll = container.NewVScroll(container.New(layout.NewCustomPaddedLayout(8, 16, 8, 16), body))
	p.set(container.NewBorder(grounded(bar), grounded(foot), nil, nil, p.scroll))
	p.scroll.ScrollToOffset(at)
}

// ShowWhole puts one object over the whole page.
func (p *Page) ShowWhole(o fyne.CanvasObject) { p.set(o) }

func (p *Page) set(o fyne.CanvasObject) {
	p.box.Objects = []fyne.CanvasObject{o}
	p.box.Refresh()
}

// Heading is the title of a group.
func Heading(s string) *widget.Label {
	l := widget.NewLabelWithStyle(s, fyne.TextAlignLeading, fyne.TextStyle{Bold: true})
	l.SizeName = theme.SizeNameSubHeadingText
	return l
}

// Text is a sentence that wraps.
func Text(s string) *widget.Label {
	l := widget.NewLabel(s)
	l.Wrapping = fyne.TextWrapWord
	return l
}

// Bold is a short sentence that stands out and wraps.
func Bold(s string) *widget.Label {
	l := Text(s)
	l.TextStyle.Bold = true
	return l
}

// Quiet is a small secondary sentence that wraps.
func Quiet(s string) *widget.Label {
	l := Text(s)
	l.SizeName, l.Importance = theme.SizeNameCaptionText, widget.LowImportance
	return l
}
