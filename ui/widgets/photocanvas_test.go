package widgets

import (
	"image"
	"image/color"
	"math"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/test"
	"pgregory.net/rapid"

	"forkwear/inspect"
	"forkwear/ui/marks"
)

// a photo of 4000 x 3000 pixels, shown by a picture of a tenth of its size.
func canvasWithPhoto(t *testing.T) *PhotoCanvas {
	c := NewPhotoCanvas()
	window(t, c, 800, 600)
	img := image.NewRGBA(image.Rect(0, 0, 400, 300))
	for i := range img.Pix {
		img.Pix[i] = 120
	}
	img.SetRGBA(200, 150, color.RGBA{255, 0, 0, 255})
	c.SetPhoto(CanvasPhoto{Image: img, Width: 4000, Height: 3000})
	return c
}

func press1(c *PhotoCanvas, x, y float32) {
	e := &desktop.MouseEvent{Button: desktop.MouseButtonPrimary}
	e.Position = fyne.NewPos(x, y)
	c.MouseDown(e)
	c.MouseUp(e)
}

func drag(c *PhotoCanvas, from, to fyne.Position) {
	e := &desktop.MouseEvent{Button: desktop.MouseButtonPrimary}
	e.Position = from
	c.MouseDown(e)
	d := fyne.NewDelta(to.X-from.X, to.Y-from.Y)
	c.Dragged(&fyne.DragEvent{PointEvent: fyne.PointEvent{Position: to}, Dragged: d})
	c.DragEnd()
	e2 := &desktop.MouseEvent{Button: desktop.MouseButtonPrimary}
	e2.Position = to
	c.MouseUp(e2)
}

func close2(a, b inspect.Spot, within float64) bool { return math.Hypot(a.X-b.X, a.Y-b.Y) <= within }

// The room is 800 x 600 for 4000 x 3000 pixels: a fifth; the middle is 2000, 1500.
func TestCanvasPutsPointsInPhotoPixels(t *testing.T) {
	c := canvasWithPhoto(t)
	var got []inspect.Spot
	c.OnPoint = func(s inspect.Spot) { got = append(got, s) }
	press1(c, 400, 300)
	if len(got) != 0 {
		t.Fatal("looking put a point")
	}
	c.SetTool(ToolPoint, "")
	press1(c, 400, 300)
	press1(c, 100, 60)
	c.SetLook(Look{Zoom: 5, X: 0.5, Y: 0.5}) // one to one
	press1(c, 410, 290)
	typeKey(c, fyne.KeyReturn) // at the cross in the middle
	want := []inspect.Spot{{X: 2000, Y: 1500}, {X: 500, Y: 300}, {X: 2010, Y: 1490}, {X: 2000, Y: 1500}}
	if len(got) != len(want) {
		t.Fatalf("%v", got)
	}
	for i := range want {
		if !close2(got[i], want[i], 1e-6) {
			t.Errorf("point %d at %v, want %v", i, got[i], want[i])
		}
	}
	if c.Pixel() != 10 {
		t.Errorf("one pixel shown is %v of the photo, want 10", c.Pixel())
	}
}

func TestCanvasHandlesByMouseAndKeys(t *testing.T) {
	c := canvasWithPhoto(t)
	c.SetHandles([]Handle{{At: inspect.Spot{X: 1000, Y: 1000}}, {At: inspect.Spot{X: 3000, Y: 2000}}})
	var last inspect.Spot
	var ends int
	c.OnHandle = func(i int, at inspect.Spot, done bool) {
		last = at
		if done {
			ends++
		}
	}
	// Taken 15 units beside its middle, it moves as far as the mouse and does not jump.
	drag(c, fyne.NewPos(215, 200), fyne.NewPos(255, 180))
	if !close2(last, inspect.Spot{X: 1200, Y: 900}, 1e-6) || ends != 1 || c.Chosen() != 0 {
		t.Fatalf("at %v, ended %d times, chosen %d", last, ends, c.Chosen())
	}
	typeKey(c, fyne.KeyLeft)
	c.KeyDown(&fyne.KeyEvent{Name: desktop.KeyShiftLeft})
	typeKey(c, fyne.KeyDown)
	c.KeyUp(&fyne.KeyEvent{Name: desktop.KeyShiftLeft})
	if !close2(last, inspect.Spot{X: 1199, Y: 910}, 1e-9) {
		t.Fatalf("at %v after one pixel left and ten down", last)
	}
	typeKey(c, fyne.KeySpace)
	if c.Chosen() != 1 {
		t.Fatal("Space does not go on")
	}
	typeKey(c, fyne.KeyEscape)
	if c.Chosen() != -1 {
		t.Fatal("Escape does not let go")
	}
	// Dragged out of the photo it stays on its edge.
	drag(c, fyne.NewPos(600, 400), fyne.NewPos(600, 5000))
	if last.Y != 3000 {
		t.Errorf("at %v", last)
	}
}

func TestCanvasDrawsWithTheMouseAndWithKeys(t *testing.T) {
	c := canvasWithPhoto(t)
	var a, b inspect.Spot
	n := 0
	c.OnDrawn = func(x, y inspect.Spot) { a, b, n = x, y, n+1 }
	c.SetTool(ToolDraw, inspect.MarkArrow)
	drag(c, fyne.NewPos(100, 100), fyne.NewPos(300, 200))
	if n != 1 || !close2(a, inspect.Spot{X: 500, Y: 500}, 1e-6) || !close2(b, inspect.Spot{X: 1500, Y: 1000}, 1e-6) {
		t.Fatalf("%d: %v to %v", n, a, b)
	}
	drag(c, fyne.NewPos(100, 100), fyne.NewPos(102, 101))
	press1(c, 50, 50)
	if n != 1 {
		t.Fatal("a press drew an arrow")
	}
	c.SetLook(Look{Zoom: 4, X: 0.5, Y: 0.5})
	typeKey(c, fyne.KeyEnter)
	typeKey(c, fyne.KeyRight) // 0.08/4 of 4000 pixels
	typeKey(c, fyne.KeyEnter)
	if n != 2 || !close2(a, inspect.Spot{X: 2000, Y: 1500}, 1e-6) || !close2(b, inspect.Spot{X: 2080, Y: 1500}, 1e-6) {
		t.Fatalf("%d: %v to %v", n, a, b)
	}
	c.SetTool(ToolDraw, inspect.MarkText)
	press1(c, 400, 300)
	if n != 3 {
		t.Fatal("words take one press")
	}
	back := 0
	c.OnBack = func() { back++ }
	typeKey(c, fyne.KeyBackspace)
	if back != 1 {
		t.Fatal("Backspace")
	}
}

func TestCanvasBrushStrokesEnd(t *testing.T) {
	c := canvasWithPhoto(t)
	c.SetTool(ToolBrush, "")
	var ends []bool
	c.OnBrush = func(_ inspect.Spot, done bool) { ends = append(ends, done) }
	drag(c, fyne.NewPos(100, 100), fyne.NewPos(200, 100))
	press1(c, 300, 300)
	want := []bool{false, false, true, false, true}
	if len(ends) != len(want) {
		t.Fatalf("%v", ends)
	}
	for i := range want {
		if ends[i] != want[i] {
			t.Fatalf("%v, want %v", ends, want)
		}
	}
}

func TestCanvasZoomsRoundTheMouse(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		c := canvasWithPhoto(t)
		x, y := rapid.Float32Range(200, 600).Draw(rt, "x"), rapid.Float32Range(150, 450).Draw(rt, "y")
		c.SetLook(Look{Zoom: 3, X: 0.5, Y: 0.5})
		before := c.view().Spot(float64(x), float64(y))
		e := &fyne.ScrollEvent{Scrolled: fyne.NewDelta(0, rapid.Float32Range(1, 200).Draw(rt, "by"))}
		e.Position = fyne.NewPos(x, y)
		c.Scrolled(e)
		after := c.view().Spot(float64(x), float64(y))
		if !close2(before, after, 0.01) {
			rt.Fatalf("%v went to %v", before, after)
		}
	})
}

// Whatever is asked of it, the photo fills its room and the zoom keeps its bounds.
func TestCanvasKeepsItsBounds(t *testing.T) {
	c := canvasWithPhoto(t)
	rapid.Check(t, func(rt *rapid.T) {
		c.SetLook(Look{rapid.Float64().Draw(rt, "zoom"), rapid.Float64().Draw(rt, "x"), rapid.Float64().Draw(rt, "y")})
		l, v := c.Look(), c.view()
		if !(l.Zoom >= 1 && l.Zoom <= c.most()) {
			rt.Fatalf("zoom %v", l.Zoom)
		}
		if v.X > 1e-6 || v.Y > 1e-6 || v.X+v.Scale*4000 < 800-1e-6 || v.Y+v.Scale*3000 < 600-1e-6 {
			rt.Fatalf("room left beside the photo: %+v at %+v", v, l)
		}
	})
	c.SetLook(Look{math.NaN(), 0, 0})
	c.SetBrush(math.Inf(1))
	c.SetSplit(math.NaN())
	empty := NewPhotoCanvas()
	empty.paint(0, 0)
	empty.TypedRune('+')
	empty.TypedRune('0')
	typeKey(empty, fyne.KeyLeft)
	drag(empty, fyne.NewPos(1, 1), fyne.NewPos(9, 9))
}

// Marks, handles and pixels meet: the red pixel 200, 150 of the picture is the
// photo's 2000..2010, 1500..1510, and a handle is drawn round it.
func TestCanvasDrawsWhereThePixelsAre(t *testing.T) {
	c := canvasWithPhoto(t)
	c.SetLook(Look{Zoom: 10, X: 2005.0 / 4000, Y: 1505.0 / 3000})
	img := c.paint(800, 600).(*image.RGBA)
	if r := img.RGBAAt(400, 300); r.R < 200 || r.G > 60 {
		t.Fatalf("the middle is %v, want the red pixel", r)
	}
	c.SetLayer(marks.Layer{Marks: []inspect.Mark{{Kind: inspect.MarkLine, Points: []inspect.Spot{{X: 1900, Y: 1480}, {X: 2100, Y: 1480}}}}})
	img = c.paint(800, 600).(*image.RGBA)
	if l := img.RGBAAt(400, 250); l.G < 200 { // 25 pixels above the middle, two units a pixel
		t.Errorf("the line is not where it should be: %v", l)
	}
	for _, m := range []inspect.MarkKind{inspect.MarkCircle, inspect.MarkArrow, inspect.MarkText, "what"} {
		c.SetLayer(marks.Layer{Marks: []inspect.Mark{{Kind: m, Text: "x", Points: []inspect.Spot{{X: math.NaN(), Y: 1}, {X: 1e300, Y: -1e300}}}, {Kind: m}}})
		c.paint(80, 60) // no panic, and no memory that it does not need
	}
}

func TestCanvasBorderParts(t *testing.T) {
	c := canvasWithPhoto(t)
	other := image.NewRGBA(image.Rect(0, 0, 40, 30))
	for i := range other.Pix {
		other.Pix[i] = 255
	}
	c.SetOther(CanvasPhoto{Image: other, Width: 4000, Height: 3000})
	c.SetShown(ShowSplit)
	img := c.paint(800, 600).(*image.RGBA)
	if l, r := img.RGBAAt(100, 100), img.RGBAAt(700, 100); l.R != 120 || r.R != 255 {
		t.Fatalf("left %v, right %v", l, r)
	}
	drag(c, fyne.NewPos(410, 300), fyne.NewPos(200, 300))
	if c.Split() != 0.25 {
		t.Fatalf("border at %v", c.Split())
	}
	c.SetShown(ShowSecond)
	if p := c.paint(800, 600).(*image.RGBA).RGBAAt(100, 100); p.R != 255 {
		t.Fatalf("the other photo is not shown: %v", p)
	}
}

// With a tool at work the middle button and a held Space move the photo, and put,
// draw or paint nothing.
func TestCanvasMovesWithAToolAtWork(t *testing.T) {
	for _, tool := range []Tool{ToolPoint, ToolDraw, ToolBrush} {
		for _, how := range []string{"middle", "space"} {
			c := canvasWithPhoto(t)
			done := 0
			c.OnPoint = func(inspect.Spot) { done++ }
			c.OnDrawn = func(inspect.Spot, inspect.Spot) { done++ }
			c.OnBrush = func(inspect.Spot, bool) { done++ }
			c.OnHandle = func(int, inspect.Spot, bool) { done++ }
			c.SetTool(tool, inspect.MarkLine)
			c.SetLook(Look{Zoom: 5, X: 0.5, Y: 0.5}) // one to one
			c.SetHandles([]Handle{{At: inspect.Spot{X: 2000, Y: 1500}}, {At: inspect.Spot{X: 100, Y: 100}}})
			e := &desktop.MouseEvent{Button: desktop.MouseButtonPrimary}
			if how == "middle" {
				e.Button = desktop.MouseButtonTertiary
			} else {
				c.KeyDown(&fyne.KeyEvent{Name: fyne.KeySpace})
				typeKey(c, fyne.KeySpace)
			}
			e.Position = fyne.NewPos(400, 300) // on the handle
			c.MouseDown(e)
			c.Dragged(&fyne.DragEvent{PointEvent: fyne.PointEvent{Position: fyne.NewPos(360, 330)}, Dragged: fyne.NewDelta(-40, 30)})
			c.DragEnd()
			c.MouseUp(e)
			c.KeyUp(&fyne.KeyEvent{Name: fyne.KeySpace})
			if l := c.Look(); math.Abs(l.X-(0.5+40.0/4000)) > 1e-9 || math.Abs(l.Y-(0.5-30.0/3000)) > 1e-9 {
				t.Errorf("tool %d, %s: %+v", tool, how, l)
			}
			if done != 0 || c.Chosen() != -1 {
				t.Errorf("tool %d, %s: did %d things, chose %d", tool, how, done, c.Chosen())
			}
			c.KeyDown(&fyne.KeyEvent{Name: fyne.KeySpace}) // pressed, not held
			typeKey(c, fyne.KeySpace)
			typeKey(c, fyne.KeySpace) // the keyboard repeats
			c.KeyUp(&fyne.KeyEvent{Name: fyne.KeySpace})
			if c.Chosen() != 0 {
				t.Errorf("tool %d: Space chose %d", tool, c.Chosen())
			}
		}
	}
}

// scenery is a small picture that shows which way up it is.
func scenery(shade uint8) *image.RGBA {
	img := image.NewRGBA(image.Rect(0, 0, 120, 90))
	for y := range 90 {
		for x := range 120 {
			v := uint8(60 + x/2 + y/3)
			if (x/15+y/15)%2 == 0 {
				v += 30
			}
			img.SetRGBA(x, y, color.RGBA{v, v - shade/2, shade, 255})
		}
	}
	return img
}

// What is drawn over a photo, and the border between two, look as they did.
func TestCanvasGoldenPictures(t *testing.T) {
	for _, name := range []string{"canvas_marks", "canvas_split"} {
		c := NewPhotoCanvas()
		w := window(t, c, 240, 180)
		c.SetPhoto(CanvasPhoto{Image: scenery(40), Width: 1200, Height: 900, Layer: marks.Layer{Marks: []inspect.Mark{
			{Kind: inspect.MarkCircle, Points: []inspect.Spot{{X: 300, Y: 300}, {X: 420, Y: 300}}, Text: "nick"},
			{Kind: inspect.MarkArrow, Points: []inspect.Spot{{X: 700, Y: 750}, {X: 500, Y: 520}}},
			{Kind: inspect.MarkLine, Points: []inspect.Spot{{X: 750, Y: 150}, {X: 1100, Y: 260}}},
		}, Measures: []marks.Shown{{PhotoMeasure: inspect.PhotoMeasure{Kind: "length", Unit: "mm", Value: 12, Low: 11.4, High: 12.6,
			Line: []inspect.Spot{{X: 700, Y: 480}, {X: 1000, Y: 620}}}}}}})
		if name == "canvas_split" {
			c.SetOther(CanvasPhoto{Image: scenery(0), Width: 1200, Height: 900})
			c.SetShown(ShowSplit)
			c.SetSplit(0.4)
		} else {
			c.SetHandles([]Handle{{At: inspect.Spot{X: 700, Y: 480}, Label: "1", Scale: true}, {At: inspect.Spot{X: 1000, Y: 620}}})
			c.Choose(1)
		}
		c.Refresh()
		test.AssertImageMatches(t, "image/"+name+".png", w.Canvas().Capture())
	}
}
