package widgets

import (
	"maps"
	"slices"
	"sync"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"

	"forkwear/ui/theme/tokens"
)

// Page is a scrolled form. The wheel turns it wherever the pointer is, over an
// entry too, which would hold the wheel for itself; and what gets the focus by
// keys is brought into sight.
type Page struct {
	widget.BaseWidget

	Scroll *container.Scroll

	// Beyond, where given, gets the wheel at the ends of this page: it is the
	// page in which this one lies.
	Beyond func(*fyne.ScrollEvent)

	wheel *wheel
}

// NewPage returns a page of what is given.
func NewPage(content fyne.CanvasObject) *Page {
	p := &Page{Scroll: container.NewVScroll(content)}
	p.wheel = &wheel{page: p}
	p.wheel.ExtendBaseWidget(p.wheel)
	p.ExtendBaseWidget(p)
	return p
}

// inUse are the pages that are drawn: a widget does not know what it lies in,
// so what gets the focus looks here. Drivers of tests draw on several goroutines,
// hence the lock.
var (
	inUse   = map[*Page]bool{}
	inUseMu sync.Mutex
)

func use(p *Page, drawn bool) {
	inUseMu.Lock()
	defer inUseMu.Unlock()
	if drawn {
		inUse[p] = true
	} else {
		delete(inUse, p)
	}
}

func pagesInUse() []*Page {
	inUseMu.Lock()
	defer inUseMu.Unlock()
	return slices.Collect(maps.Keys(inUse))
}

// CreateRenderer implements fyne.Widget.
func (p *Page) CreateRenderer() fyne.WidgetRenderer {
	use(p, true)
	return &pageRenderer{p}
}

type pageRenderer struct{ p *Page }

func (r *pageRenderer) Destroy()           { use(r.p, false) }
func (r *pageRenderer) MinSize() fyne.Size { return r.p.Scroll.MinSize() }
func (r *pageRenderer) Refresh()           { r.p.Scroll.Refresh() }
func (r *pageRenderer) Layout(s fyne.Size) { r.p.Scroll.Resize(s); r.p.wheel.Resize(s) }
func (r *pageRenderer) Objects() []fyne.CanvasObject {
	return []fyne.CanvasObject{r.p.Scroll, r.p.wheel}
}

// revealFocused brings what has the focus into sight, where it lies in a page
// and more than half of it is hidden. What a pointer can press stays in place.
func revealFocused() {
	for _, p := range pagesInUse() {
		d := fyne.CurrentApp().Driver()
		c := d.CanvasForObject(p.Scroll)
		if c == nil {
			continue
		}
		if o, ok := c.Focused().(fyne.CanvasObject); ok {
			p.reveal(o, d.AbsolutePositionForObject(o), d.AbsolutePositionForObject(p.Scroll.Content))
		}
	}
}

// reveal scrolls to an object of the page that stands at a place of the window,
// as does the content.
func (p *Page) reveal(o fyne.CanvasObject, at, content fyne.Position) {
	x, y := at.X-content.X, at.Y-content.Y
	whole, size, view := p.Scroll.Content.Size(), o.Size(), p.Scroll.Size()
	if x < 0 || y < 0 || x+size.Width > whole.Width+1 || y+size.Height > whole.Height+1 {
		return // it is no part of this page
	}
	top, half := p.Scroll.Offset.Y, size.Height/2
	const air = 4 * tokens.Step // the caption above belongs to it
	switch {
	case y+half < top && y < 3*air: // the head of the page comes with it
		p.Scroll.ScrollToOffset(fyne.NewPos(0, 0))
	case y+half < top:
		p.Scroll.ScrollToOffset(fyne.NewPos(0, y-air))
	case y+half > top+view.Height:
		p.Scroll.ScrollToOffset(fyne.NewPos(0, max(0, min(y-air, y+size.Height+air-view.Height))))
	}
}

// wheel lies over a page and takes nothing but the wheel.
type wheel struct {
	widget.BaseWidget

	page *Page
}

// Scrolled implements fyne.Scrollable.
func (w *wheel) Scrolled(e *fyne.ScrollEvent) {
	p, before := w.page, w.page.Scroll.Offset
	if p.Scroll.Scrolled(e); p.Scroll.Offset == before && p.Beyond != nil {
		p.Beyond(e)
	}
}

// CreateRenderer implements fyne.Widget.
func (w *wheel) CreateRenderer() fyne.WidgetRenderer {
	return newRendered(nil, func(fyne.Size) {}, func() fyne.Size { return fyne.Size{} }, func() {})
}
