package widgets

import (
	"image"
	"math"

	"forkwear/ui/forkdraw/pen"
	"forkwear/ui/theme/tokens"
	"forkwear/ui/words"
)

// trendView lays a trend into w x h pixels.
type trendView struct {
	t       Trend
	k       float64 // pixels per unit of the window
	pal     tokens.Palette
	font    *pen.Font
	size    float64 // of letters, in pixels
	pointed int
	focused bool

	left, right, top, bottom float64
	x0, x1, y0, y1           float64
	xTicks, yTicks           []float64
}

func newTrendView(t Trend, w, h, k float64, pointed int, focused bool, pal tokens.Palette, font *pen.Font, caption float64) *trendView {
	v := &trendView{t: t, k: k, pal: pal, font: font, size: math.Min(caption, 14) * 0.9 * k, pointed: pointed, focused: focused}
	v.span()
	v.settle(w, h, 0)
	return v
}

// settle finds the ticks and the frame, with some room kept free at the right.
func (v *trendView) settle(w, h, free float64) {
	font, k := v.font, v.k
	v.top, v.bottom = v.size*1.9, h-v.size*3.0
	v.yTicks = ticks(v.y0, v.y1, int(math.Max(2, (v.bottom-v.top)/(v.size*2))))
	widest := 0.0
	for _, y := range v.yTicks {
		widest = math.Max(widest, font.Width(number(y, v.yTicks), v.size))
	}
	v.left, v.right = widest+10*k, w-10*k-free
	v.xTicks = ticks(v.x0, v.x1, int(math.Max(2, (v.right-v.left)/(v.size*5.5))))
}

// span finds the ranges of both axes from all that is drawn, with a margin.
func (v *trendView) span() {
	v.x0, v.x1 = math.Inf(1), math.Inf(-1)
	v.y0, v.y1 = math.Inf(1), math.Inf(-1)
	addX := func(x float64) { v.x0, v.x1 = math.Min(v.x0, x), math.Max(v.x1, x) }
	addY := func(y float64) { v.y0, v.y1 = math.Min(v.y0, y), math.Max(v.y1, y) }
	for _, r := range v.t.Readings {
		addX(r.Hours)
		addY(r.Value - r.U)
		addY(r.Value + r.U)
	}
	if v.t.HasLimit {
		addY(v.t.Limit)
	}
	cut := v.bandCut()
	for _, b := range v.t.Band {
		addX(b.Hours)
		addY(cut(b.Low))
		addY(cut(b.High))
	}
	if v.t.HasNext {
		addX(v.t.NextVisit)
	}
	v.x0, v.x1 = widened(v.x0, v.x1, 0.04)
	v.y0, v.y1 = widened(v.y0, v.y1, 0.08)
}

// beyond is how far past a limit a band is drawn, as a multiple of the limit:
// far past it, it would only press what was read into the corner.
const beyond = 1.5

// bandCut keeps a band between nothing and a good way past the limit, and at
// least as far as the readings go.
func (v *trendView) bandCut() func(float64) float64 {
	if !v.t.HasLimit || v.t.Limit <= 0 {
		return func(y float64) float64 { return y }
	}
	low, high := math.Min(0, v.y0), math.Max(beyond*v.t.Limit, v.y1)
	return func(y float64) float64 { return math.Max(low, math.Min(y, high)) }
}

func widened(a, b, part float64) (float64, float64) {
	if a > b {
		return 0, 1
	}
	d := (b - a) * part
	if d == 0 {
		d = math.Max(math.Abs(a)*0.1, 0.5)
	}
	return a - d, b + d
}

func (v *trendView) x(h float64) float64 {
	return v.left + (h-v.x0)/(v.x1-v.x0)*(v.right-v.left)
}

func (v *trendView) y(u float64) float64 {
	return v.bottom - (u-v.y0)/(v.y1-v.y0)*(v.bottom-v.top)
}

// ticks returns round numbers between a and b, at most about n, with steps
// of 1, 2 or 5 times a power of ten.
func ticks(a, b float64, n int) []float64 {
	if !(b > a) || n < 1 {
		return nil
	}
	raw := (b - a) / float64(n)
	pow := math.Pow(10, math.Floor(math.Log10(raw)))
	step := 10 * pow
	for _, m := range []float64{1, 2, 5} {
		if m*pow >= raw*0.999999 {
			step = m * pow
			break
		}
	}
	var out []float64
	for i := math.Ceil(a/step - 1e-9); i*step <= b+step*1e-9 && len(out) < 100; i++ {
		out = append(out, i*step)
	}
	return out
}

// number writes a tick with the decimals its neighbours need.
func number(x float64, all []float64) string {
	dec := 0
	if len(all) > 1 {
		dec = int(math.Max(0, math.Ceil(-math.Log10(all[1]-all[0])-1e-9)))
	}
	if x == 0 {
		x = 0 // no minus zero
	}
	return words.Fixed(x, min(dec, 6))
}

func (v *trendView) paint(w, h int) image.Image {
	p := pen.New(w, h)
	if v.right-v.left < 4 || v.bottom-v.top < 4 {
		return p.Image()
	}
	if len(v.t.Readings) == 0 && len(v.t.Band) == 0 {
		p.Stroke(pen.Line(v.left, v.crisp(v.bottom), v.right, v.crisp(v.bottom)), math.Max(1, math.Round(v.k)), v.pal.Line)
		p.Text(v.font, v.t.EmptyWord, float64(w)/2, float64(h)/2, v.size, pen.Middle, v.pal.QuietInk)
		return p.Image()
	}
	v.paintAxes(p)
	v.paintBand(p)
	v.paintLimit(p)
	v.paintReadings(p)
	v.paintPointed(p, float64(w))
	if v.focused {
		p.Stroke(pen.RoundRect(1.5*v.k, 1.5*v.k, float64(w)-3*v.k, float64(h)-3*v.k, 6*v.k), 3*v.k, v.pal.Accent)
	}
	return p.Image()
}

// crisp puts a line of width 1 on whole pixels.
func (v *trendView) crisp(x float64) float64 {
	if int(math.Round(v.k))%2 == 1 {
		return math.Floor(x) + 0.5
	}
	return math.Round(x)
}

func (v *trendView) paintAxes(p *pen.Pen) {
	thin := math.Max(1, math.Round(v.k))
	for _, t := range v.yTicks {
		y := v.crisp(v.y(t))
		p.Stroke(pen.Line(v.left, y, v.right, y), thin, v.pal.Line)
		p.Text(v.font, number(t, v.yTicks), v.left-6*v.k, y+v.size*0.35, v.size, pen.End, v.pal.QuietInk)
	}
	base := v.crisp(v.bottom)
	p.Stroke(pen.Line(v.left, base, v.right, base), thin, v.pal.QuietInk)
	for i, t := range v.xTicks {
		x := v.crisp(v.x(t))
		p.Stroke(pen.Line(x, base, x, base+4*v.k), thin, v.pal.QuietInk)
		word := number(t, v.xTicks)
		if i == len(v.xTicks)-1 {
			word += "\u2009" + v.across()
		}
		half := v.font.Width(word, v.size) / 2
		p.Text(v.font, word, math.Min(x, v.right+8*v.k-half), base+4*v.k+v.size*1.05, v.size, pen.Middle, v.pal.QuietInk)
	}
	p.Text(v.font, v.t.Unit, 2*v.k, v.size*1.15, v.size, pen.Start, v.pal.QuietInk)
	v.paintDates(p, base)
}

func (v *trendView) across() string {
	if v.t.Across == "" {
		return "h"
	}
	return v.t.Across
}

// paintDates writes the dates of the first and the last reading that fit.
func (v *trendView) paintDates(p *pen.Pen, base float64) {
	n := len(v.t.Readings)
	if n == 0 {
		return
	}
	y, end := base+4*v.k+v.size*2.25, math.Inf(-1)
	for _, i := range []int{0, n - 1} {
		r := v.t.Readings[i]
		half := v.font.Width(r.Date, v.size) / 2
		x := math.Max(half, math.Min(v.x(r.Hours), v.right+8*v.k-half))
		if r.Date == "" || x-half < end+v.size*0.6 || (i == 0 && n == 1 && !math.IsInf(end, -1)) {
			continue
		}
		p.Text(v.font, r.Date, x, y, v.size, pen.Middle, v.pal.QuietInk)
		end = x + half
	}
}

func (v *trendView) paintBand(p *pen.Pen) {
	b := v.t.Band
	if len(b) < 2 {
		return
	}
	inside := func(y float64) float64 { return math.Max(v.y0, math.Min(y, v.y1)) }
	area, mid := new(pen.Path), new(pen.Path)
	for _, q := range b {
		area.L(v.x(q.Hours), v.y(inside(q.High)))
		if q.Mid == inside(q.Mid) { // no line where it leaves the picture
			mid.L(v.x(q.Hours), v.y(q.Mid))
		}
	}
	for i := len(b) - 1; i >= 0; i-- {
		area.L(v.x(b[i].Hours), v.y(inside(b[i].Low)))
	}
	p.Fill(area.Z(), alpha(v.pal.QuietInk, 0x30))
	p.Stroke(mid, 1.4*v.k, v.pal.QuietInk)
}

func (v *trendView) paintLimit(p *pen.Pen) {
	if v.t.HasNext {
		x, base := v.crisp(v.x(v.t.NextVisit)), v.bottom
		p.Dash(pen.Line(x, base, x, v.top), math.Max(1, math.Round(v.k)), 2*v.k, 4*v.k, v.pal.QuietInk)
		t := new(pen.Path).M(x, base-1*v.k).L(x-5*v.k, base-9*v.k).L(x+5*v.k, base-9*v.k).Z()
		p.Fill(t, v.pal.Panel)
		p.Stroke(t, 1.4*v.k, v.pal.Ink)
		half := v.font.Width(v.t.NextWord, v.size) / 2
		p.Text(v.font, v.t.NextWord, math.Min(x, v.right+8*v.k-half), v.size*1.15, v.size, pen.Middle, v.pal.QuietInk)
	}
	if v.t.HasLimit {
		y := v.crisp(v.y(v.t.Limit))
		p.Stroke(pen.Line(v.left, y, v.right, y), math.Max(1, math.Round(2*v.k)), v.pal.Ink)
		word := y - 4*v.k
		if word-v.size < v.size*1.7 { // it would run into the unit above
			word = y + v.size*1.15
		}
		p.Text(v.font, v.t.LimitWord, v.left+4*v.k, word, v.size, pen.Start, v.pal.Ink)
	}
}

func (v *trendView) paintReadings(p *pen.Pen) {
	for i, r := range v.t.Readings {
		x, y := v.x(r.Hours), v.y(r.Value)
		if r.U > 0 {
			lo, hi := v.y(r.Value-r.U), v.y(r.Value+r.U)
			bar := pen.Line(x, lo, x, hi)
			bar.Add(pen.Line(x-4*v.k, lo, x+4*v.k, lo)).Add(pen.Line(x-4*v.k, hi, x+4*v.k, hi))
			p.Stroke(bar, 1.4*v.k, v.pal.Ink)
		}
		radius := 4.2 * v.k
		fill := v.pal.Ink
		if i == v.pointed {
			radius, fill = 6*v.k, v.pal.Accent
		}
		p.Fill(pen.Circle(x, y, radius+1.5*v.k), v.pal.Panel)
		p.Fill(pen.Circle(x, y, radius), fill)
	}
}

// paintPointed writes the label of the reading pointed at beside it.
func (v *trendView) paintPointed(p *pen.Pen, w float64) {
	if v.pointed < 0 || v.pointed >= len(v.t.Readings) || v.t.Readings[v.pointed].Label == "" {
		return
	}
	r := v.t.Readings[v.pointed]
	tw := v.font.Width(r.Label, v.size) + 12*v.k
	x := math.Max(math.Min(v.left+2*v.k, w-tw-2*v.k), math.Min(v.x(r.Hours)-tw/2, w-tw-2*v.k))
	x = math.Max(x, 2*v.k)
	y := v.y(r.Value+r.U) - v.size*2.1
	if y < 0 {
		y = v.y(r.Value-r.U) + v.size*0.6
	}
	box := pen.RoundRect(x, y, tw, v.size*1.6, 4*v.k)
	p.Fill(box, v.pal.Ink)
	p.Text(v.font, r.Label, x+6*v.k, y+v.size*1.15, v.size, pen.Start, v.pal.Paper)
}
