package visitbar

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"
)

// ground is the paper under the bar and the foot, so that nothing that scrolls
// shows through them. It follows the theme.
type ground struct{ widget.BaseWidget }

func grounded(o fyne.CanvasObject) fyne.CanvasObject {
	g := &ground{}
	g.ExtendBaseWidget(g)
	return container.NewStack(g, o)
}

// CreateRenderer implements fyne.Widget.
func (g *ground) CreateRenderer() fyne.WidgetRenderer {
	r := &groundRenderer{g: g, paper: canvas.NewRectangle(nil)}
	r.WidgetRenderer = widget.NewSimpleRenderer(r.paper)
	r.Refresh()
	return r
}

type groundRenderer struct {
	fyne.WidgetRenderer
	g     *ground
	paper *canvas.Rectangle
}

// Refresh implements fyne.WidgetRenderer.
func (r *groundRenderer) Refresh() {
	r.paper.FillColor = r.g.Theme().Color(theme.ColorNameBackground, fyne.CurrentApp().Settings().ThemeVariant())
	r.paper.Refresh()
}
