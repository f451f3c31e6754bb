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
	if len(p.t.Stop) > 0 {
		p.y += 3
		p.flow(p.t.Summary, look{"B", 12, p.pal.Ink})
		if p.t.Baseline != "" {
			p.flow(p.t.Baseline, p.quiet())
		}
	}
	p.costs()
	if len(p.t.Cards) > 0 {
		p.heading(p.t.Heading, p.cardNeeds(p.t.Cards[0], 10))
		if hasLine(p.t.Cards) {
			p.flow(howToRead(), p.small())
		}
		for _, k := range p.t.Cards {
			p.card(k)
		}
	}
	p.causes()
	p.reused(tongue.Say("Put right by the work"), tongue.Say("Work"), p.t.Remedied)
	p.reused(tongue.Say("Goes back in"), tongue.Say("Hours left"), p.t.Reused)
	p.alike()
	p.gallery()
	if len(p.t.Unopened) > 0 {
		p.heading(tongue.Say("Not opened this time"), 10)
		p.flow(tongue.Sayf("%s. Nothing is said about these parts.", strings.Join(p.t.Unopened, "; ")), p.body())
	}
	p.table(tongue.Say("Fitted new"), nil, factRows(p.t.Fitted), []float64{115, wide - 115})
	p.table(tongue.Say("Torques"), nil, factRows(p.t.Torques), []float64{80, wide - 80})
	p.settings()
	p.signed()
	p.table(tongue.Say("Added after the fork was collected"), nil, factRows(p.t.Amended), []float64{60, wide - 60})
	p.heading(tongue.Say("Next visit"), 12)
	h := p.height(p.t.Next, p.body(), wide-6)
	p.room(h)
	penAt{p, margin, p.y}.fill([]xy{{0, -0.6}, {1.2, -0.6}, {1.2, h + 0.6}, {0, h + 0.6}}, p.pal.Accent)
	p.y += p.write(margin+4, p.y, p.t.Next, p.body(), wide-6) + 2
	p.foot()
	p.index()
}

func (p *sheet) head() {
	const pic = 40.0
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
	if len(p.t.Stop) == 0 { // else the warning comes before it
		p.y += 3
		p.y += p.write(margin, p.y, p.t.Summary, look{"B", 12, p.pal.Ink}, w) + 1.5
		if p.t.Baseline != "" {
			p.y += p.write(margin, p.y, p.t.Baseline, p.quiet(), w)
		}
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
	oneH   = 38.0 // a photo that stands alone beside a wear line
	thumbs = 4    // photos of the gallery in a row
	thumbW = (wide - (thumbs-1)*5) / thumbs
	thumbH = 27.0
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
