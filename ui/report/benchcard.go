package report

import (
	"bytes"
	"context"
	"fmt"
	"io"
	"strconv"
	"time"

	"codeberg.org/go-pdf/fpdf"
	"golang.org/x/image/font/gofont/gobold"
	"golang.org/x/image/font/gofont/goregular"

	"forkwear/inspect"
	"forkwear/media/benchcard"
	"forkwear/ui/theme/tokens"
	"forkwear/ui/tongue"
	"forkwear/ui/words"
)

// BenchCards is a sheet of bench cards for one visit. They show what is here
// and no more: nothing of the customer.
type BenchCards struct {
	Visit      inspect.ID
	Ticket     int
	Tag        string // the workshop's tag on the fork, "" without
	DroppedOff time.Time
	Copies     int    // 0 is 1; at most 6 fit on a sheet
	Paper      string // "A4" (also ""), "Letter"
	Made       time.Time
}

// CheckLineWords stand at the check line of a sheet of bench cards.
func CheckLineWords() string {
	return tongue.Say("measure this line: 100 mm; if it is not, print at 100 %, no fit to page")
}

// Where things stand on the sheet, mm.
const (
	mostCards  = 6
	cardGap    = 6.0
	cardsTop   = 78.0
	cutLength  = 1.5
	cutClear   = 1.5 // between a card and its cut marks; with their length half of cardGap
	sheetSide  = 16.0
	checkLineY = 46.0
)

// BenchCardPDF writes the sheet. It fails for a visit without an id of its
// own, for more than six copies and for other paper.
func BenchCardPDF(ctx context.Context, w io.Writer, b BenchCards) error {
	return writeBenchCards(ctx, w, b, true)
}

func writeBenchCards(ctx context.Context, w io.Writer, b BenchCards, compress bool) error {
	if b.Copies == 0 {
		b.Copies = 1
	}
	if b.Copies < 1 || b.Copies > mostCards {
		return inspect.Refuse(inspect.Invalid, "%d bench cards don't fit on a sheet: print 1 to %d", b.Copies, mostCards)
	}
	if b.Paper == "" {
		b.Paper = "A4"
	}
	if b.Paper != "A4" && b.Paper != "Letter" {
		return inspect.Refuse(inspect.Invalid, "bench cards can't be printed on %.20q: choose A4 or Letter", b.Paper)
	}
	code, err := benchcard.Encode(b.Visit)
	if err != nil {
		return err
	}
	dark, err := benchcard.Modules(code)
	if err != nil {
		return err
	}
	if err := ctx.Err(); err != nil {
		return err
	}
	g, err := newGlyphs()
	if err != nil {
		return err
	}
	f := b.document(compress)
	c := &cardSheet{sheet{f: f, g: g, pal: tokens.Light()}, b, dark}
	c.head()
	width, _ := f.GetPageSize()
	left := (width - 2*benchcard.Width - cardGap) / 2
	for i := range b.Copies {
		c.card(left+float64(i%2)*(benchcard.Width+cardGap), cardsTop+float64(i/2)*(benchcard.Height+cardGap))
	}
	if err := f.Output(w); err != nil {
		return fmt.Errorf("the bench card can't be written as PDF: %w", err)
	}
	return nil
}

// document is an empty page with typefaces.
func (b BenchCards) document(compress bool) *fpdf.Fpdf {
	f := fpdf.New("P", "mm", b.Paper, "")
	f.SetCompression(compress)
	f.SetCatalogSort(true)
	f.SetCreationDate(b.Made.UTC())
	f.SetModificationDate(b.Made.UTC())
	f.SetProducer("Forkwear", true)
	f.SetTitle(tongue.Sayf("Bench card %d", b.Ticket), true)
	f.SetLang(tongue.Code())
	f.SetAutoPageBreak(false, 0)
	f.AddUTF8FontFromBytes(typeface, "", bytes.Clone(goregular.TTF))
	f.AddUTF8FontFromBytes(typeface, "B", bytes.Clone(gobold.TTF))
	f.AddPage()
	return f
}

// cardSheet draws one sheet.
type cardSheet struct {
	sheet
	b    BenchCards
	dark [][]bool
}

// head says what the cards are for, and has the check line.
func (c *cardSheet) head() {
	width, _ := c.f.GetPageSize()
	x := (width - 2*benchcard.Width - cardGap) / 2
	room := width - 2*x
	c.write(x, 14, tongue.Sayf("Bench card for ticket %d", c.b.Ticket), look{"B", headPt, c.pal.Ink}, room)
	c.write(x, 22, tongue.Say("Cut it out along the outer side of the dark frame and lay it flat beside the part, at the same height, whenever you take a photo. A photo that shows it is filed with this ticket, and can be measured."), c.body(), room)
	c.ink()
	c.f.SetLineWidth(0.3)
	c.f.Line(x, checkLineY, x+benchcard.CheckLine, checkLineY)
	for _, end := range []float64{x, x + benchcard.CheckLine} {
		c.f.Line(end, checkLineY-2.5, end, checkLineY+2.5)
	}
	y := checkLineY + 4
	y += c.write(x, y, CheckLineWords(), c.body(), room) + 2.5
	c.write(x, y, tongue.Say("I measured ______ mm   (multiply lengths measured with these cards by this / 100)"), c.body(), room)
}

func (c *cardSheet) ink() {
	c.f.SetDrawColor(0, 0, 0)
	c.f.SetFillColor(0, 0, 0)
}

// card draws one card with its top left corner at x, y.
func (c *cardSheet) card(x, y float64) {
	const w, h = benchcard.Width, benchcard.Height
	c.ink()
	c.f.SetLineWidth(0.1)
	for _, sx := range []float64{x, x + w} {
		c.f.Line(sx, y-cutClear, sx, y-cutClear-cutLength)
		c.f.Line(sx, y+h+cutClear, sx, y+h+cutClear+cutLength)
	}
	for _, sy := range []float64{y, y + h} {
		c.f.Line(x-cutClear, sy, x-cutClear-cutLength, sy)
		c.f.Line(x+w+cutClear, sy, x+w+cutClear+cutLength, sy)
	}
	c.f.RoundedRect(x, y, w, h, benchcard.Radius, "1234", "F")
	c.f.SetFillColor(255, 255, 255)
	const in = benchcard.Frame
	c.f.RoundedRect(x+in, y+in, w-2*in, h-2*in, benchcard.Radius-in, "1234", "F")
	c.ink()
	// One path for all modules, so that no viewer leaves hairlines between them.
	for _, r := range benchcard.Runs(c.dark) {
		c.f.MoveTo(x+r.X, y+r.Y)
		c.f.LineTo(x+r.X+r.W, y+r.Y)
		c.f.LineTo(x+r.X+r.W, y+r.Y+r.H)
		c.f.LineTo(x+r.X, y+r.Y+r.H)
		c.f.ClosePath()
	}
	c.f.DrawPath("F")
	c.millimetres(x, y)
	c.words(x+benchcard.TextLeft, y)
}

// millimetres draws the scale along the lower edge.
func (c *cardSheet) millimetres(x, y float64) {
	c.f.SetLineWidth(0.13)
	for _, s := range benchcard.ScaleStrokes() {
		foot := y + benchcard.ScaleFoot
		c.f.Line(x+s.X, foot, x+s.X, foot-s.Length)
		if s.Label != "" {
			c.font("", 4.5, c.pal.Ink)
			c.text(x+s.X-c.f.GetStringWidth(s.Label)/2, foot-s.Length-0.3, s.Label)
		}
	}
}

// words are ticket, tag and day.
func (c *cardSheet) words(x, y float64) {
	const room = benchcard.TextRight - benchcard.TextLeft
	quiet := look{"", smallPt, c.pal.QuietInk}
	c.write(x, y+7, tongue.Say("Ticket"), quiet, room)
	c.fitted(x, y+23, strconv.Itoa(c.b.Ticket), 40, room)
	if c.b.Tag != "" {
		c.write(x, y+26.5, tongue.Say("Fork"), quiet, room)
		c.fitted(x, y+34.5, c.g.shown(c.b.Tag), 15, room)
	}
	if !c.b.DroppedOff.IsZero() {
		c.write(x, y+37, tongue.Say("Dropped off"), quiet, room)
		c.fitted(x, y+44.5, words.Date(c.b.DroppedOff), 11, room)
	}
}

// fitted sets one bold line with its foot at y, smaller where it would be too
// wide.
func (c *cardSheet) fitted(x, y float64, s string, pt, room float64) {
	c.font("B", pt, c.pal.Ink)
	if wide := c.f.GetStringWidth(s); wide > room {
		c.font("B", pt*room/wide, c.pal.Ink)
	}
	c.text(x, y, s)
}
