package tray

import (
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/lang"
	"fyne.io/fyne/v2/widget"

	"forkwear/ui/screens/rows"
)

// grid shows a sheet. It has cells for what is in sight only, and uses them
// again: a step of scrolling moves and binds a row of cells, however many
// photos there are.
type grid struct {
	widget.BaseWidget

	s       *Screen
	scroll  *container.Scroll
	field   *fyne.Container
	sheet   sheet
	choice  choice
	bound   map[string]*cell // by key
	free    []*cell
	heads   []*widget.RichText
	focused bool
	keys    held // held down while the grid has the focus
	cells   int  // made so far, for tests
}

const beyond = 160 // so far out of sight rows are bound, for a calm edge

var (
	_ fyne.Focusable    = (*grid)(nil)
	_ desktop.Keyable   = (*grid)(nil)
	_ fyne.Shortcutable = (*grid)(nil)
)

func newGrid(s *Screen) *grid {
	g := &grid{s: s, bound: map[string]*cell{}}
	g.field = container.New(fieldLayout{g})
	g.scroll = container.NewVScroll(g.field)
	g.scroll.OnScrolled = func(fyne.Position) { g.arrange() }
	g.choice.follow(nil)
	g.ExtendBaseWidget(g)
	return g
}

// fieldLayout gives the scroll its height; the grid itself places the cells.
type fieldLayout struct{ g *grid }

// MinSize implements fyne.Layout.
func (l fieldLayout) MinSize([]fyne.CanvasObject) fyne.Size { return fyne.NewSize(1, l.g.sheet.height) }

// Layout implements fyne.Layout.
func (l fieldLayout) Layout([]fyne.CanvasObject, fyne.Size) { l.g.arrange() }

// CreateRenderer implements fyne.Widget.
func (g *grid) CreateRenderer() fyne.WidgetRenderer { return &gridRenderer{g} }

type gridRenderer struct{ g *grid }

func (r *gridRenderer) Destroy()                     {}
func (r *gridRenderer) MinSize() fyne.Size           { return fyne.NewSize(leastCell+scrollBar, 160) }
func (r *gridRenderer) Objects() []fyne.CanvasObject { return []fyne.CanvasObject{r.g.scroll} }
func (r *gridRenderer) Refresh()                     { r.g.scroll.Refresh() }

// Layout lays the sheet out in the new width before the scroll asks its height.
func (r *gridRenderer) Layout(s fyne.Size) {
	r.g.sheet = lay(r.g.sheet.shots, s.Width-scrollBar-2*edge)
	r.g.scroll.Resize(s)
	r.g.arrange()
}

const (
	scrollBar = 14
	edge      = 2 // the frame of a cell is drawn half outside of it
)

// show takes up other shots.
func (g *grid) show(shots []shot) {
	g.sheet = lay(shots, max(leastCell, g.Size().Width-scrollBar-2*edge))
	var keys []string
	for _, s := range shots {
		if !s.coming() {
			keys = append(keys, s.key)
		}
	}
	g.choice.follow(keys)
	g.scroll.Refresh()
	g.arrange()
}

// arrange binds cells to what is in sight.
func (g *grid) arrange() {
	from, to := g.scroll.Offset.Y, g.scroll.Offset.Y+g.scroll.Size().Height
	inSight := g.sheet.between(from-beyond, to+beyond)
	keep, heads := map[string]bool{}, 0
	for _, r := range inSight {
		for i := r.first; i < r.first+r.n; i++ {
			keep[g.sheet.shots[i].key] = true
		}
	}
	for key, c := range g.bound {
		if !keep[key] {
			delete(g.bound, key)
			c.Hide()
			g.free = append(g.free, c)
		}
	}
	var wanted []shot
	grown := false
	for _, r := range inSight {
		if r.head != "" {
			grown = g.placeHead(heads, r) || grown
			heads++
			continue
		}
		for i := range r.n {
			s := g.sheet.shots[r.first+i]
			grown = g.place(s, edge+float32(i)*(g.sheet.cell+gap), r.y, r.h) || grown
			wanted = append(wanted, s)
		}
	}
	for _, h := range g.heads[heads:] {
		h.Hide()
	}
	if grown {
		g.field.Refresh()
	}
	g.s.thumbs.want(wanted)
}

// place binds a cell to a shot; true where a new cell was made.
func (g *grid) place(s shot, x, y, h float32) (grown bool) {
	c := g.bound[s.key]
	if c == nil {
		if n := len(g.free); n > 0 {
			c, g.free = g.free[n-1], g.free[:n-1]
		} else {
			c, grown = newCell(g), true
			g.cells++
			g.field.Objects = append(g.field.Objects, c)
		}
		g.bound[s.key] = c
	}
	c.Move(fyne.NewPos(x, y))
	c.Resize(fyne.NewSize(g.sheet.cell, h))
	c.bind(s, g.looksOf(s), g.s.thumbs.get(s.key), g.s.thumbs.failed[s.key])
	c.Show()
	return grown
}

func (g *grid) looksOf(s shot) looks {
	return looks{g.choice.chosen[s.key], g.focused && g.choice.cursor == s.key}
}

func (g *grid) placeHead(i int, r row) (grown bool) {
	if i == len(g.heads) {
		g.heads, grown = append(g.heads, rows.Title("", false)), true
		g.field.Objects = append(g.field.Objects, g.heads[i])
	}
	h := g.heads[i]
	if headText(h) != r.head {
		rows.SetTitle(h, r.head)
	}
	h.Move(fyne.NewPos(0, r.y))
	h.Resize(fyne.NewSize(max(1, g.scroll.Size().Width-scrollBar), r.h))
	h.Show()
	return grown
}

func headText(h *widget.RichText) string { return h.Segments[0].(*widget.TextSegment).Text }

// thumbCame shows the pixels of a shot where it is in sight.
func (g *grid) thumbCame(key string) {
	if c := g.bound[key]; c != nil {
		c.bind(c.shot, c.looks, g.s.thumbs.get(key), g.s.thumbs.failed[key])
	}
}

// mark brings the looks of the cells in line with what is chosen.
func (g *grid) mark() {
	for _, c := range g.bound {
		c.bind(c.shot, g.looksOf(c.shot), c.img.Image, c.failed)
	}
	g.s.chosen()
}

func (g *grid) pressed(s shot, h held) {
	if s.coming() {
		return
	}
	h.shift, h.ctrl = h.shift || g.keys.shift, h.ctrl || g.keys.ctrl
	g.choice.press(s.key, h)
	if canvas := g.s.env.Window.Canvas(); canvas.Focused() != g {
		canvas.Focus(g)
	}
	g.mark()
}

// hover tells the doubts of a photo.
func (g *grid) hover(s shot, on bool) {
	text := ""
	if on && !s.coming() {
		var parts []string
		for _, d := range s.doubts {
			parts = append(parts, d.Words)
		}
		if text = strings.Join(parts, " "); text == "" {
			text = s.photo.FileName
		}
	}
	g.s.env.Say.Hint(text)
}

func lostWords(s shot) string {
	if s.coming() {
		return ""
	}
	return lang.L("can't be shown")
}
