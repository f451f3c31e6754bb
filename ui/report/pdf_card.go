package report

import (
	"math"

	"forkwear/ui/tongue"
)

// beside is the width of a card's words where its wear line stands beside them.
const beside = wide - wearW - 6

// soldW is the width kept for the line of the estimate that a card stands in.
const soldW = 62.0

// card sets one decided part: its words, beside them the wear line, and the
// photos. A card stays whole; only one whose words alone would fill half a page
// is broken.
func (p *sheet) card(k card) {
	l, tint := p.body(), p.verdictColor(k.Verdict)
	head := look{"B", 11, p.pal.Ink}
	p.room(p.cardNeeds(k, 0))
	p.hairline(p.y)
	p.y += 3.5
	mark(penAt{p, margin, p.y}, k.Verdict, xy{2.4, 2.4}, 2.3)
	p.font("B", head.pt, tint)
	word := p.f.GetStringWidth(p.g.shown(k.Word))
	p.write(margin+7, p.y, k.Word, look{"B", head.pt, tint}, wide)
	line := p.writeEnd(pageW-margin, p.y+0.5, k.Sold, p.small(), soldW)
	p.y += math.Max(line, p.write(margin+10+word, p.y, k.Part, head, wide-12-word-min(soldW, line*soldW))) + 1.2
	top := p.y
	if !p.sideways(k) {
		if one := k.only(); one != nil && k.Line == nil && p.textHeight(k, beside) < 90 {
			p.y += p.besidePhoto(k, one) + 2.5
			return
		}
		for _, s := range k.texts() {
			p.flow(s, l)
		}
		p.y += p.terms(k, margin, p.y+0.4, wide) + 0.4
		if k.Line != nil {
			p.room(wearH + 8)
			p.y += p.line(k, margin, p.y) + 1
		}
		p.pair(k)
		p.y += 2.5
		return
	}
	for _, s := range k.texts() {
		p.y += p.write(margin, p.y, s, l, beside) + 1.2
	}
	p.y += p.terms(k, margin, p.y+0.4, beside) + 0.4
	one := k.only()
	if one != nil {
		p.picture(one, margin, p.y+1, beside, oneH)
		p.y += p.pictureHeight(one, beside, oneH) + 2
	}
	p.y = math.Max(p.y, top+p.line(k, margin+beside+6, top))
	if one == nil {
		p.pair(k)
	}
	p.y += 2.5
}

// besidePhoto sets the words with the card's one photo at their right and
// returns the height.
func (p *sheet) besidePhoto(k card, one *picture) float64 {
	y := p.y
	for _, s := range k.texts() {
		y += p.write(margin, y, s, p.body(), beside) + 1.2
	}
	y += p.terms(k, margin, y+0.4, beside) + 0.4
	p.picture(one, margin+beside+6, p.y, wearW, oneH)
	return math.Max(y-p.y, p.pictureHeight(one, wearW, oneH)+1)
}

// line draws the wear line with its title from x, y down and returns the height.
func (p *sheet) line(k card, x, y float64) float64 {
	h := p.write(x, y, k.Line.Title, p.small(), wearW) + 0.5
	k.Line.draw(penAt{p, x, y + h})
	return h + wearH
}

// texts are the sentences of a card that are not empty.
func (k card) texts() []string {
	var out []string
	for _, s := range []string{k.Sentence, k.Chance, k.Why, k.LineSays} {
		if s != "" {
			out = append(out, s)
		}
	}
	return out
}

// only is the one photo of a card that has one.
func (k card) only() *picture {
	switch {
	case k.Then == nil:
		return k.Now
	case k.Now == nil:
		return k.Then
	}
	return nil
}

// sideways reports whether the wear line stands beside the words.
func (p *sheet) sideways(k card) bool {
	return k.Line != nil && p.textHeight(k, beside) < 90
}

func (p *sheet) textHeight(k card, w float64) float64 {
	h := 0.8
	for _, s := range k.texts() {
		h += p.height(s, p.body(), w) + 1.2
	}
	for _, f := range terms(k) {
		h += math.Max(p.body().line(), p.height(f.Value, p.body(), w-termNames)) + 0.6
	}
	return h
}

const termNames = 22.0

// terms sets the price of a card's part and what was answered, from x, y down,
// and returns the height.
func (p *sheet) terms(k card, x, y, w float64) float64 {
	top, l := y, p.body()
	for _, f := range terms(k) {
		p.write(x, y, f.Name, p.quiet(), termNames)
		y += math.Max(l.line(), p.write(x+termNames, y, f.Value, l, w-termNames)) + 0.6
	}
	return y - top
}

func terms(k card) []fact {
	var fs []fact
	for _, f := range []fact{{tongue.Say("Price"), k.Price}, {tongue.Say("Your answer"), k.Answer}, {tongue.Say("Done"), k.Done}} {
		if f.Value != "" {
			fs = append(fs, f)
		}
	}
	return fs
}

// cardNeeds is the room that a card must find on a page, at most a page.
// before is what else comes first.
func (p *sheet) cardNeeds(k card, before float64) float64 {
	return math.Min(p.cardHeight(k)+before, pageH-margin-foot-2-20)
}

func (p *sheet) cardHeight(k card) float64 {
	pair := 0.0
	if k.Then != nil || k.Now != nil {
		pair = math.Max(p.pictureHeight(k.Then, halfW, photoH), p.pictureHeight(k.Now, halfW, photoH)) + 3
	}
	const frame = 13.0
	line := p.small().line() + 0.5 + wearH
	if one := k.only(); one != nil && k.Line == nil && p.textHeight(k, beside) < 90 {
		return frame + math.Max(p.textHeight(k, beside), p.pictureHeight(one, wearW, oneH)+1)
	}
	if !p.sideways(k) {
		h := frame + p.textHeight(k, wide) + pair
		if k.Line != nil {
			h += line + 1
		}
		return h
	}
	words := p.textHeight(k, beside)
	if one := k.only(); one != nil {
		return frame + math.Max(words+p.pictureHeight(one, beside, oneH)+3, line)
	}
	return frame + math.Max(words, line) + pair
}
