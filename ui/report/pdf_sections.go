package report

import (
	"fmt"
	"image/color"
	"math"
	"strings"

	"forkwear/inspect"
	"forkwear/ui/tongue"
)

func (p *sheet) all() {
	p.head()
	p.stop()
	p.y += 3
	p.flow(p.t.Summary, look{"B", 12, p.pal.Ink})
	if p.t.Baseline != "" {
		p.flow(p.t.Baseline, p.quiet())
	}
	if len(p.t.Cards) > 0 {
		p.heading(tongue.Say("What needs a decision"), p.cardNeeds(p.t.Cards[0], 24)+8)
		if hasLine(p.t.Cards) {
			p.flow(howToRead(), p.small())
		}
		for _, k := range p.t.Cards {
			p.card(k)
		}
	}
	p.causes()
	p.reused()
	p.gallery()
	if len(p.t.Unopened) > 0 {
		p.heading(tongue.Say("Not opened this time"), 10)
		p.flow(tongue.Sayf("%s. Nothing is said about these parts.", strings.Join(p.t.Unopened, "; ")), p.body())
	}
	p.table(tongue.Say("Fitted new"), nil, factRows(p.t.Fitted), []float64{80, wide - 80})
	p.table(tongue.Say("Torques"), nil, factRows(p.t.Torques), []float64{80, wide - 80})
	p.settings()
	p.signed()
	p.table(tongue.Say("Added after the fork was collected"), nil, factRows(p.t.Amended), []float64{60, wide - 60})
	p.heading(tongue.Say("Next visit"), 12)
	h := p.height(p.t.Next, p.body(), wide-6)
	p.room(h)
	penAt{p, margin, p.y}.fill([]xy{{0, -0.6}, {1.2, -0.6}, {1.2, h + 0.6}, {0, h + 0.6}}, p.pal.Accent)
	p.y += p.write(margin+4, p.y, p.t.Next, p.body(), wide-6) + 2
	p.index()
	p.foot()
}

func (p *sheet) head() {
	const pic = 44.0
	right := wide * 0.4
	a := p.write(margin, p.y, p.t.Shop.Name, p.bold(), wide-right)
	a += p.write(margin, p.y+a, p.t.Shop.Address, p.body(), wide-right)
	b := p.writeEnd(pageW-margin, p.y, p.t.Shop.Phone, p.quiet(), right)
	if p.t.Sample {
		b += p.writeEnd(pageW-margin, p.y+b, sampleWords(), p.quiet(), right)
	}
	p.y += math.Max(a, b) + 2
	p.hairline(p.y)
	p.y += 6
	top := p.y
	drawn := p.image("fork", "png", p.t.Drawing, drawingW, drawingH, pageW-margin-pic, top, pic, pic*1.6)
	w := wide - pic - 8
	p.y += p.write(margin, p.y, p.t.Fork, look{"B", titlePt, p.pal.Ink}, w) + 2
	for _, f := range p.t.Facts {
		p.write(margin, p.y, f.Name, p.quiet(), 30)
		p.y += math.Max(p.write(margin+32, p.y, f.Value, p.body(), w-32), p.body().line()) + 0.6
	}
	p.y = math.Max(p.y, top+drawn) + 2
}

// stop is the box that comes before everything else.
func (p *sheet) stop() {
	if len(p.t.Stop) == 0 {
		return
	}
	l := look{"", bodyPt, p.pal.OnDoNotRide}
	big := look{"B", headPt, p.pal.OnDoNotRide}
	const inner = 18.0
	h := big.line() + 8
	for _, s := range p.t.Stop {
		h += p.height(s, l, wide-inner-5) + 1
	}
	p.room(h)
	c := penAt{p, margin, p.y}
	c.fill([]xy{{0, 0}, {wide, 0}, {wide, h}, {0, h}}, p.pal.DoNotRide)
	c.lines([]xy{{0, 0}, {wide, 0}, {wide, h}, {0, h}}, true, stroke{p.pal.OnDoNotRide, 0.6, nil})
	var eight []xy
	for i := range 8 {
		a := (float64(i) + 0.5) * math.Pi / 4
		eight = append(eight, xy{9 + 5*math.Cos(a), 9.5 + 5*math.Sin(a)})
	}
	c.lines(eight, true, stroke{p.pal.OnDoNotRide, 0.8, nil})
	c.lines([]xy{{9, 6.6}, {9, 10.2}}, false, stroke{p.pal.OnDoNotRide, 0.9, nil})
	c.dot(xy{9, 12}, 0.55, p.pal.OnDoNotRide)
	y := p.y + 4
	y += p.write(margin+inner, y, tongue.Say("Do not ride this fork."), big, wide-inner-5) + 0.5
	for _, s := range p.t.Stop {
		y += p.write(margin+inner, y, s, l, wide-inner-5) + 1
	}
	p.y += h + 3
}

// card sets one decided part. Its words, each pair of photos and the wear line
// stay whole; a card breaks between these only where it is longer than a page.
func (p *sheet) card(k card) {
	l, tint := p.body(), p.verdictColor(k.Verdict)
	head := look{"B", 11, p.pal.Ink}
	p.room(p.cardNeeds(k, 0))
	p.hairline(p.y)
	p.y += 3.5
	mark(penAt{p, margin, p.y}, k.Verdict, xy{2.4, 2.4}, 2.3)
	p.font("B", head.pt, tint)
	word := p.f.GetStringWidth(k.Word)
	p.write(margin+7, p.y, k.Word, look{"B", head.pt, tint}, wide)
	p.y += p.write(margin+10+word, p.y, k.Part, head, wide-10-word) + 1.2
	for _, s := range []string{k.Sentence, k.Chance, k.Why} {
		if s != "" {
			p.flow(s, l)
		}
	}
	p.pair(k)
	if k.Line == nil {
		p.y += p.terms(k, margin, p.y, wide) + 4
		return
	}
	p.room(wearH + 6)
	h := p.write(margin, p.y, k.Line.Title, p.small(), wearW) + 0.5
	k.Line.draw(penAt{p, margin, p.y + h})
	beside := p.terms(k, margin+wearW+8, p.y+h+wearTop, wide-wearW-8)
	p.y += math.Max(h+wearH, h+wearTop+beside) + 3
}

// terms sets what is said of a card's line, its price and answer, from x, y
// down, and returns the height.
func (p *sheet) terms(k card, x, y, w float64) float64 {
	const names = 22.0
	top, l := y, p.body()
	if k.LineSays != "" {
		y += p.write(x, y, k.LineSays, p.quiet(), w) + 2
	}
	for _, f := range terms(k) {
		p.write(x, y, f.Name, p.quiet(), names)
		y += math.Max(l.line(), p.write(x+names, y, f.Value, l, w-names)) + 0.6
	}
	return y - top
}

func terms(k card) []fact {
	var fs []fact
	if k.Price != "" {
		fs = append(fs, fact{tongue.Say("Price"), k.Price})
	}
	fs = append(fs, fact{tongue.Say("Your answer"), k.Answer})
	if k.Done != "" {
		fs = append(fs, fact{tongue.Say("Done"), k.Done})
	}
	return fs
}

// cardNeeds is the room that a card must find on a page: all of it, or all but
// its wear line where moving it whole would leave half a page empty.
// before is what else comes first.
func (p *sheet) cardNeeds(k card, before float64) float64 {
	h, left := p.cardHeight(k), pageH-foot-2-p.y-before
	if h > left && left > 110 && k.Line != nil {
		h -= wearH + 5
	}
	return math.Min(h, pageH-margin-foot-2-20)
}

// cardHeight is the least room that a card wants, its terms taken for short.
func (p *sheet) cardHeight(k card) float64 {
	h := 10.5
	for _, s := range []string{k.Sentence, k.Chance, k.Why} {
		if s != "" {
			h += p.height(s, p.body(), wide) + 1.2
		}
	}
	if k.Then != nil || k.Now != nil {
		h += math.Max(p.pictureHeight(k.Then, halfW, photoH), p.pictureHeight(k.Now, halfW, photoH)) + 3
	}
	if k.Line != nil {
		return h + wearH + 5
	}
	return h + float64(len(terms(k)))*(p.body().line()+0.6) + 4
}

func (p *sheet) verdictColor(v inspect.Verdict) color.NRGBA {
	switch v {
	case inspect.Replace:
		return p.pal.Replace
	case inspect.Measure:
		return p.pal.Measure
	}
	return p.pal.Reuse
}

// The boxes of photos in mm.
const (
	halfW  = (wide - 6) / 2
	photoH = 45.0
	thirdW = (wide - 12) / 3
	thumbH = 36.0
)

func (p *sheet) pair(k card) {
	if k.Then == nil && k.Now == nil {
		return
	}
	h := math.Max(p.pictureHeight(k.Then, halfW, photoH), p.pictureHeight(k.Now, halfW, photoH))
	p.room(h)
	p.y += 1
	x := margin
	for _, pic := range []*picture{k.Then, k.Now} {
		if pic != nil {
			p.picture(pic, x, p.y, halfW, photoH)
			x += halfW + 6
		}
	}
	p.y += h + 2
}

func (p *sheet) caption(pic *picture) string {
	return fmt.Sprintf("%s · %s · %s", pic.When, pic.Caption, tongue.Sayf("photo %d", pic.Number))
}

func (p *sheet) pictureHeight(pic *picture, w, h float64) float64 {
	if pic == nil {
		return 0
	}
	cap := p.height(p.caption(pic), p.small(), w) + 1
	if pic.JPEG == nil {
		return math.Max(16, p.height(pic.Missing, p.small(), w-6)+6) + cap
	}
	return min(w/float64(pic.Width), h/float64(pic.Height))*float64(pic.Height) + cap
}

func (p *sheet) picture(pic *picture, x, y, w, h float64) {
	var taken float64
	if pic.JPEG == nil {
		taken = math.Max(16, p.height(pic.Missing, p.small(), w-6)+6)
		penAt{p, x, y}.lines([]xy{{0, 0}, {w, 0}, {w, taken}, {0, taken}}, true, stroke{p.pal.QuietInk, 0.25, []float64{1.2, 1}})
		p.write(x+3, y+3, pic.Missing, p.small(), w-6)
	} else {
		taken = p.image("photo-"+pic.SHA, "jpg", pic.JPEG, pic.Width, pic.Height, x, y, w, h)
	}
	p.write(x, y+taken+1, p.caption(pic), p.small(), w)
}
