package report

import (
	"fmt"
	"math"
	"strings"

	"forkwear/inspect"
	"forkwear/ui/tongue"
)

func (p *sheet) causes() {
	if len(p.t.Causes) == 0 {
		return
	}
	p.heading(tongue.Say("What likely lies behind it"), 14)
	for _, k := range p.t.Causes {
		p.room(14)
		p.flow(k.Says+" ("+k.Sure+")", p.bold())
		if k.Evidence != "" {
			p.flow(tongue.Sayf("Seen: %s.", k.Evidence), p.body())
		}
		if k.Settle != "" {
			p.flow(tongue.Sayf("What would settle it: %s", k.Settle), p.quiet())
		}
		p.y += 1.2
	}
}

// reused is the table of the parts that go back in, with bars of wear used.
func (p *sheet) reused(title, left string, all []reused) {
	cols := []float64{52, 40, 34, wide - 126}
	names := []string{tongue.Say("Part"), tongue.Say("Wear used"), left, tongue.Say("Why")}
	p.rows(title, names, cols, len(all), func(i int) ([]string, float64, func(float64)) {
		r := all[i]
		cells := []string{"", "", r.Left, r.Note}
		return cells, p.height(r.Part, p.tableLook(), cols[0]-8), func(y float64) {
			mark(penAt{p, margin, y}, inspect.Reuse, xy{1.6, 1.9}, 1.5)
			p.write(margin+5, y, r.Part, p.tableLook(), cols[0]-8)
			x := margin + cols[0]
			if r.Used != nil {
				usedBar(penAt{p, x, y + 0.2}, *r.Used)
				x += barW + 2
			}
			p.write(x, y, r.UsedWord, p.tableLook(), cols[1])
		}
	})
}

func (p *sheet) tableLook() look { return look{"", 8.5, p.pal.Ink} }

// table sets rows of words.
func (p *sheet) table(title string, names []string, rows [][]string, cols []float64) {
	p.rows(title, names, cols, len(rows), func(i int) ([]string, float64, func(float64)) { return rows[i], 0, nil })
}

// rows sets a table of n rows; each gives its words, the least height it wants,
// and may draw into its line.
func (p *sheet) rows(title string, names []string, cols []float64, n int, row func(i int) (cells []string, least float64, draw func(y float64))) {
	if n == 0 {
		return
	}
	p.heading(title, 18)
	header := func() {
		if names == nil {
			return
		}
		x := margin
		for i, s := range names {
			p.write(x, p.y, s, p.small(), cols[i])
			x += cols[i]
		}
		p.y += p.small().line() + 0.8
		p.hairline(p.y)
		p.y += 1.4
	}
	header()
	l := p.tableLook()
	for i := range n {
		cells, least, more := row(i)
		h := math.Max(l.line(), least)
		for k, s := range cells {
			h = math.Max(h, p.height(s, l, cols[k]-3))
		}
		page := p.f.PageNo()
		p.room(h + 2.6)
		if p.f.PageNo() != page {
			header()
		}
		x := margin
		for k, s := range cells {
			p.write(x, p.y, s, l, cols[k]-3)
			x += cols[k]
		}
		if more != nil {
			more(p.y)
		}
		p.y += h + 1.2
		p.hairline(p.y)
		p.y += 1.4
	}
}

func factRows(fs []fact) [][]string {
	var out [][]string
	for _, f := range fs {
		out = append(out, []string{f.Name, f.Value})
	}
	return out
}

func (p *sheet) settings() {
	if !hasLeft(p.t.Settings) {
		var found []string
		for _, s := range p.t.Settings {
			found = append(found, tongue.Sayf("%s: %s", s.Name, s.Found))
		}
		if found != nil {
			p.heading(tongue.Say("Settings as found"), 8)
			p.flow(strings.Join(found, "; "), p.body())
		}
		return
	}
	names := []string{"", tongue.Say("As found"), tongue.Say("As left")}
	var out [][]string
	for _, s := range p.t.Settings {
		out = append(out, []string{s.Name, s.Found, s.Left})
	}
	p.table(tongue.Say("Settings"), names, out, []float64{70, 54, wide - 124})
}

func (p *sheet) gallery() {
	g := p.t.Gallery
	if len(g) == 0 {
		return
	}
	p.heading(tongue.Say("More photos of this visit"), thumbH+10)
	for i := 0; i < len(g); i += thumbs {
		row := g[i:min(i+thumbs, len(g))]
		h := 0.0
		for k := range row {
			h = math.Max(h, p.pictureHeight(&row[k], thumbW, thumbH))
		}
		p.room(h)
		for k := range row {
			p.picture(&row[k], margin+float64(k)*(thumbW+5), p.y, thumbW, thumbH)
		}
		p.y += h + 3
	}
}

func (p *sheet) index() {
	if len(p.t.Index) == 0 {
		return
	}
	p.y += 3
	p.room(14)
	p.flow(fingerprint(), p.small())
	l := look{"", 5.5, p.pal.QuietInk}
	for i, x := range p.t.Index {
		at := margin + float64(i%2)*(wide/2+2)
		if i%2 == 0 {
			p.room(l.line())
		}
		p.write(at, p.y, fmt.Sprint(x.Number), l, 6)
		h := p.write(at+5, p.y, x.SHA, l, wide/2-7)
		if i%2 == 1 || i == len(p.t.Index)-1 {
			p.y += h + 0.3
		}
	}
}

func (p *sheet) foot() {
	p.y += 3
	p.room(20)
	p.hairline(p.y)
	p.y += 3
	for _, s := range p.t.Remarks {
		p.flow(s, p.small())
	}
	for _, s := range p.t.Foot {
		p.flow(s, p.small())
	}
	p.flow(tongue.Sayf("Written %s.", p.t.Made), p.small())
	if s := p.g.remark(); s != "" {
		p.flow(s, p.small())
	}
}

// costs is the estimate: what each line holds, its price, the answer, the sum.
func (p *sheet) costs() {
	if len(p.t.Costs) == 0 {
		return
	}
	var out [][]string
	for _, c := range p.t.Costs {
		out = append(out, []string{c.Name, c.Holds, c.Price, c.Answer})
	}
	p.table(tongue.Say("What it costs"), []string{tongue.Say("Line"), tongue.Say("What is in it"), tongue.Say("Price"), tongue.Say("Your answer")},
		out, []float64{56, 54, 26, wide - 136})
	p.room(7)
	p.write(margin, p.y, p.t.Total.Name, p.bold(), 108)
	p.y += p.write(margin+110, p.y, p.t.Total.Value, p.bold(), wide-110) + 1
}

// alike tells the parts of which one sentence is all there is to say.
func (p *sheet) alike() {
	if len(p.t.Alike) == 0 {
		return
	}
	if len(p.t.Reused) == 0 {
		p.heading(tongue.Say("Goes back in"), 10)
	}
	for _, a := range p.t.Alike {
		p.flow(tongue.Sayf("%s: %s", strings.TrimSuffix(a.Note, "."), strings.Join(a.Parts, "; ")), p.body())
	}
}

func hasLeft(all []setting) bool {
	for _, s := range all {
		if s.Left != "–" {
			return true
		}
	}
	return false
}
