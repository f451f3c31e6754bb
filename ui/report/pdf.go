package report

import (
	"bytes"
	"context"
	"fmt"
	"image/color"
	"io"
	"strings"

	"codeberg.org/go-pdf/fpdf"
	"golang.org/x/image/font/gofont/gobold"
	"golang.org/x/image/font/gofont/goregular"

	"forkwear/ui/theme/tokens"
	"forkwear/ui/tongue"
)

// The page in mm and the sizes of its text in points.
const (
	margin   = 16.0
	pageW    = 210.0
	pageH    = 297.0
	wide     = pageW - 2*margin
	foot     = 16.0 // kept free for the page number
	mmOfPt   = 25.4 / 72
	leading  = 1.38
	bodyPt   = 9.5
	smallPt  = 8.0
	titlePt  = 20.0
	headPt   = 12.0
	typeface = "go"
)

// PDF writes the report for A4. The bytes depend on the source alone.
func PDF(ctx context.Context, w io.Writer, s Source) error { return writePDF(ctx, w, s, true) }

func writePDF(ctx context.Context, w io.Writer, s Source, compress bool) error {
	t, err := tell(ctx, s)
	if err != nil {
		return err
	}
	g, err := newGlyphs()
	if err != nil {
		return err
	}
	f := fpdf.New("P", "mm", "A4", "")
	f.SetCompression(compress)
	f.SetCatalogSort(true)
	f.SetCreationDate(s.Made.UTC())
	f.SetModificationDate(s.Made.UTC())
	f.SetProducer("Forkwear", true)
	f.SetTitle(tongue.Sayf("%s: service report", g.shown(t.Fork)), true)
	f.SetLang(tongue.Code())
	f.SetMargins(margin, margin, margin)
	f.SetAutoPageBreak(false, 0)
	// The typefaces are copied: the library patches the bytes that it is given.
	f.AddUTF8FontFromBytes(typeface, "", bytes.Clone(goregular.TTF))
	f.AddUTF8FontFromBytes(typeface, "B", bytes.Clone(gobold.TTF))
	f.AliasNbPages("{pages}")
	p := &sheet{f: f, g: g, pal: tokens.Light(), t: t}
	f.SetFooterFunc(p.footer)
	f.AddPage()
	p.y = margin
	p.all()
	if err := f.Output(w); err != nil {
		return fmt.Errorf("the report can't be written as PDF: %w", err)
	}
	return nil
}

// sheet lays the telling out from top to bottom; y is where the next line goes.
type sheet struct {
	f   *fpdf.Fpdf
	g   *glyphs
	pal tokens.Palette
	t   *telling
	y   float64

	pictures int // placed so far
}

func (p *sheet) footer() {
	left := p.g.shown(p.t.Shop.Name)
	if p.t.Sample {
		left = sampleWords()
	}
	p.font("", smallPt, p.pal.QuietInk)
	y := pageH - 10
	p.text(margin, y, left)
	page := fmt.Sprintf("%d / {pages}", p.f.PageNo())
	p.text(pageW-margin-p.f.GetStringWidth(fmt.Sprintf("%d / 9", p.f.PageNo())), y, page)
}

func (p *sheet) font(style string, pt float64, c color.NRGBA) {
	p.f.SetFont(typeface, style, pt)
	p.f.SetTextColor(int(c.R), int(c.G), int(c.B))
}

// text sets one line with its foot at y. Spaces that kept a number and its
// unit together have done their work and become plain ones.
func (p *sheet) text(x, y float64, s string) {
	p.f.Text(x, y, strings.ReplaceAll(s, "\u00a0", " "))
}

// room starts a new page unless h mm are left on this one.
func (p *sheet) room(h float64) {
	if p.y+h > pageH-foot-2 && p.y > margin {
		p.f.AddPage()
		p.y = margin
	}
}

// look is the way a text is set.
type look struct {
	style string
	pt    float64
	c     color.NRGBA
}

func (p *sheet) body() look  { return look{"", bodyPt, p.pal.Ink} }
func (p *sheet) quiet() look { return look{"", bodyPt, p.pal.QuietInk} }
func (p *sheet) small() look { return look{"", smallPt, p.pal.QuietInk} }
func (p *sheet) bold() look  { return look{"B", bodyPt, p.pal.Ink} }

func (l look) line() float64 { return l.pt * mmOfPt * leading }

// split breaks a text into lines of at most w mm. A word longer than a line is
// broken where it must.
func (p *sheet) split(text string, l look, w float64) []string {
	p.font(l.style, l.pt, l.c)
	var out []string
	row := ""
	for _, word := range strings.Split(p.g.shown(text), " ") {
		if word == "" {
			continue
		}
		try := word
		if row != "" {
			try = row + " " + word
		}
		if p.f.GetStringWidth(try) <= w {
			row = try
			continue
		}
		if row != "" {
			out = append(out, row)
		}
		row = ""
		for _, r := range word {
			if row != "" && p.f.GetStringWidth(row+string(r)) > w {
				out = append(out, row)
				row = ""
			}
			row += string(r)
		}
	}
	if row != "" {
		out = append(out, row)
	}
	return out
}

// height is how high a text of w mm width will be.
func (p *sheet) height(text string, l look, w float64) float64 {
	return float64(len(p.split(text, l, w))) * l.line()
}

// write sets a text at x, y and returns its height; it breaks no page.
func (p *sheet) write(x, y float64, text string, l look, w float64) float64 {
	rows := p.split(text, l, w)
	p.font(l.style, l.pt, l.c)
	for i, row := range rows {
		p.text(x, y+float64(i)*l.line()+l.pt*mmOfPt, row)
	}
	return float64(len(rows)) * l.line()
}

// writeEnd sets a text that ends at x.
func (p *sheet) writeEnd(x, y float64, text string, l look, w float64) float64 {
	rows := p.split(text, l, w)
	p.font(l.style, l.pt, l.c)
	for i, row := range rows {
		p.text(x-p.f.GetStringWidth(row), y+float64(i)*l.line()+l.pt*mmOfPt, row)
	}
	return float64(len(rows)) * l.line()
}

// flow sets a paragraph over the whole width and moves down, page by page.
func (p *sheet) flow(text string, l look) {
	for _, row := range p.split(text, l, wide) {
		p.room(l.line())
		p.font(l.style, l.pt, l.c)
		p.text(margin, p.y+l.pt*mmOfPt, row)
		p.y += l.line()
	}
	p.y += 1.2
}

// heading begins a section and keeps it with what follows, need mm high.
func (p *sheet) heading(text string, need float64) {
	l := look{"B", headPt, p.pal.Ink}
	p.y += 4.5
	p.room(l.line() + 2 + need)
	p.y += p.write(margin, p.y, text, l, wide) + 1.5
}

func (p *sheet) hairline(y float64) {
	p.f.SetDrawColor(int(p.pal.Line.R), int(p.pal.Line.G), int(p.pal.Line.B))
	p.f.SetLineWidth(0.25)
	p.f.Line(margin, y, pageW-margin, y)
}
