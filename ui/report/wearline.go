package report

import (
	"fmt"
	"math"
	"strings"

	"forkwear/inspect"
	"forkwear/inspect/catalog"
	"forkwear/inspect/shop"
	"forkwear/ui/theme/tokens"
	"forkwear/ui/tongue"
	"forkwear/ui/words"
)

// The size of a wear line in mm.
const (
	wearW, wearH = 84.0, 34.0
	wearLeft     = 11.0
	wearRight    = 3.0
	wearTop      = 5.0
	wearBottom   = 8.0
	wearText     = 2.6
)

// wearPoint is one reading: time on the part, wear used, twice its uncertainty.
type wearPoint struct{ T, Used, U2 float64 }

// bandPoint is the predicted wear used at a time and its 90 % range.
type bandPoint struct{ T, Low, Mean, High float64 }

// wearLine is the life of one part, ready to be drawn.
type wearLine struct {
	Title  string
	Unit   string // "h" or "months"
	Points []wearPoint
	Band   []bandPoint // empty where no curve may be drawn
	Now    float64
	Next   float64 // 0 none
	Top    float64 // wear used at the upper edge
	End    float64 // time at the right edge
}

// lineOf makes the wear line of a part and one sentence on it. There is no
// curve through one point: with less than two readings only the sentence is told.
func lineOf(l shop.Line) (*wearLine, string) {
	tr := l.Trend
	if tr == nil {
		return nil, ""
	}
	w := &wearLine{Title: tongue.Sayf("Wear used by riding time: %s", words.InSentence(tr.Check.Name)), Unit: "h", Now: tr.Now, Next: tr.Now + tr.Horizon}
	if tr.Check.Grows == catalog.ByMonths {
		w.Unit = words.UnitWord("months")
		w.Title = tongue.Sayf("Wear used by age: %s", words.InSentence(tr.Check.Name))
	}
	if l.Renewed { // the old part has no next visit
		w.Next = 0
	}
	for _, p := range tr.Points {
		if finite(p.Hours) && finite(p.Used) {
			w.Points = append(w.Points, wearPoint{p.Hours, p.Used, 2 * p.U})
		}
	}
	if len(w.Points) == 0 {
		return nil, tongue.Sayf("Baseline taken for %s. The next visit can tell how fast it goes.", words.InSentence(tr.Check.Name))
	}
	if len(w.Points) < 2 {
		share := words.Share(math.Max(0, w.Points[0].Used))
		if l.Renewed || l.Assessment.InForce() == inspect.Replace {
			return nil, tongue.Sayf("One reading so far: %s of the allowed wear is used.", share)
		}
		return nil, tongue.Sayf("One reading so far: %s of the allowed wear is used. The next visit can tell how fast it goes.", share)
	}
	w.frame()
	for _, b := range tr.Band {
		if finite(b.Low) && finite(b.Mean) && finite(b.High) && b.T <= w.End {
			w.Band = append(w.Band, bandPoint{b.T, b.Low, b.Mean, b.High})
		}
	}
	if tr.NoTrend {
		return w, tongue.Say("No wear trend seen yet.")
	}
	return w, ""
}

// frame chooses the edges: the limit is always in sight, and so is every dot.
func (w *wearLine) frame() {
	w.Top, w.End = 1.25, math.Max(w.Now, w.Next)
	for _, p := range w.Points {
		w.Top = math.Max(w.Top, math.Min(p.Used+p.U2, 2)*1.05)
		w.End = math.Max(w.End, p.T)
	}
	w.End *= 1.06
	if !(w.End > 0) {
		w.End = 1
	}
}

func (w *wearLine) at(t, used float64) xy {
	used = math.Max(0, math.Min(used, w.Top))
	return xy{wearLeft + t/w.End*(wearW-wearLeft-wearRight),
		wearTop + (1-used/w.Top)*(wearH-wearTop-wearBottom)}
}

// draw draws the wear line on wearW x wearH mm.
func (w *wearLine) draw(c canvas) {
	pal := tokens.Light()
	w.drawBand(c, pal)
	ink, hair := stroke{pal.Ink, 0.5, nil}, stroke{pal.QuietInk, 0.2, nil}
	left, right := w.at(0, 0), w.at(w.End, 0)
	c.lines([]xy{left, right}, false, hair)
	c.lines([]xy{w.at(0, 1), w.at(w.End, 1)}, false, ink)
	c.text(xy{wearLeft - 1.2, w.at(0, 1).Y + 0.9}, atEnd, wearText, pal.Ink, tongue.Say("limit"))
	c.text(xy{wearLeft - 1.2, left.Y + 0.9}, atEnd, wearText, pal.QuietInk, tongue.SayAs("part", "new"))
	if w.Next > 0 {
		foot, head := w.at(w.Next, 0), w.at(w.Next, w.Top)
		c.lines([]xy{{foot.X, foot.Y + 1.2}, {head.X, head.Y - 0.8}}, false, stroke{pal.Accent, 0.35, []float64{1, 0.8}})
		c.text(xy{math.Min(head.X, wearW-7), head.Y - 1.6}, atMiddle, wearText, pal.Accent, tongue.Say("next visit"))
	}
	for _, p := range w.Points {
		if p.U2 > 0 {
			c.lines([]xy{w.at(p.T, p.Used-p.U2), w.at(p.T, p.Used+p.U2)}, false, stroke{pal.Ink, 0.3, nil})
		}
		c.dot(w.at(p.T, p.Used), 0.95, pal.Ink)
	}
	w.drawTimes(c, pal)
}

func (w *wearLine) drawBand(c canvas, pal tokens.Palette) {
	if len(w.Band) < 2 {
		return
	}
	var edge, mean []xy
	for _, b := range w.Band {
		edge = append(edge, w.at(b.T, b.High))
		if b.Mean <= w.Top { // the line ends at the upper edge instead of running along it
			mean = append(mean, w.at(b.T, b.Mean))
		}
	}
	for i := len(w.Band) - 1; i >= 0; i-- {
		edge = append(edge, w.at(w.Band[i].T, w.Band[i].Low))
	}
	c.fill(edge, tokens.Over(tokens.Tint(pal.Accent), pal.Panel))
	if len(mean) > 1 {
		c.lines(mean, false, stroke{pal.Accent, 0.45, nil})
	}
}

// drawTimes labels the time axis. The newest reading comes first; an earlier
// one keeps its label only where it has room.
func (w *wearLine) drawTimes(c canvas, pal tokens.Palette) {
	type label struct {
		t     float64
		words string
	}
	var labels []label
	for i := len(w.Points) - 1; i >= 0; i-- {
		labels = append(labels, label{w.Points[i].T, w.time(w.Points[i].T)})
	}
	if w.Next > 0 {
		labels = append(labels, label{w.Next, w.time(w.Next)})
	}
	labels = append(labels, label{0, "0"})
	type span struct{ from, to float64 }
	var taken []span
	y := w.at(0, 0).Y + 4.2
	for _, l := range labels {
		width := float64(len([]rune(l.words))) * wearText * 0.52
		x := w.at(l.t, 0).X
		x = math.Max(width/2, math.Min(x, wearW-width/2))
		s := span{x - width/2 - 0.8, x + width/2 + 0.8}
		free := true
		for _, o := range taken {
			free = free && (s.to < o.from || s.from > o.to)
		}
		if !free {
			continue
		}
		taken = append(taken, s)
		c.text(xy{x, y}, atMiddle, wearText, pal.QuietInk, l.words)
	}
}

func (w *wearLine) time(t float64) string { return fmt.Sprintf("%.0f%s%s", t, words.Thin, w.Unit) }

// says tells the line to those who can't see it.
func (w *wearLine) says() string {
	var read []string
	for _, p := range w.Points {
		read = append(read, tongue.Sayf("%s at %s", words.Share(math.Max(0, p.Used)), w.time(p.T)))
	}
	return tongue.Sayf("%s: %s; the limit is at %s", w.Title, strings.Join(read, ", "), words.Share(1))
}

func finite(x float64) bool { return !math.IsNaN(x) && !math.IsInf(x, 0) }
