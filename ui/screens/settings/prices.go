package settings

import (
	"math"
	"strconv"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/lang"
	"fyne.io/fyne/v2/widget"

	"forkwear/inspect"
	"forkwear/inspect/measure"
	"forkwear/inspect/shop"
	"forkwear/ui/screens/rows"
	"forkwear/ui/theme/tokens"
	"forkwear/ui/words"
)

// prices is the part of the page where the shop says what it takes.
type prices struct {
	keys   []shop.PriceKey
	titles []*widget.RichText // the headings of the money columns
	box    fyne.CanvasObject
}

// soldGroup is a heading of what is sold, by the catalog's kind.
type soldGroup struct{ kind, title string }

func soldGroups() []soldGroup {
	return []soldGroup{{"kit", lang.L("Kits, one for the fork")}, {"assembly", lang.L("Assemblies, one for the fork or a loose tube")},
		{"part", lang.L("Single parts, one for each leg")}}
}

// buildPrices is a compact table of all that can be priced; each field is kept
// when it is left, as everywhere on this page.
func (s *Screen) buildPrices() fyne.CanvasObject {
	s.prices.keys = shop.PriceKeys(s.env.Desk.Catalog)
	sold, work := container.NewVBox(), container.NewVBox()
	for _, g := range soldGroups() {
		sold.Add(s.priceHeading(g.title, ""))
		for _, k := range s.prices.keys {
			if k.Kind == shop.OfKit && k.Sold == g.kind {
				sold.Add(s.priceRow(k.Name, k))
			}
		}
	}
	work.Add(s.priceHeading(lang.L("Work"), lang.L("Minutes")))
	for i, k := range s.prices.keys {
		if k.Kind == shop.OfJob { // its minutes follow
			work.Add(s.priceRow(k.Name, s.prices.keys[i+1], k))
		}
	}
	work.Add(rows.Quiet(lang.L("Work without a price of its own costs its minutes at the rate of a minute of labour.")))
	s.prices.box = container.NewVBox(rows.Gap(), rows.Title(lang.L("Prices"), false),
		rows.Quiet(lang.L("What the estimate counts. A field left empty is not priced, and the estimate says so; 0 costs nothing.")),
		rows.Beside(sold, work, .5, 760))
	return s.prices.box
}

// toPrices scrolls down to the table, which is long and stands last.
func (s *Screen) toPrices() { s.page.ScrollToOffset(fyne.NewPos(0, s.prices.box.Position().Y)) }

func (s *Screen) priceHeading(title, before string) fyne.CanvasObject {
	money := rows.Quiet("")
	money.Wrapping = fyne.TextWrapOff
	s.prices.titles = append(s.prices.titles, money)
	cells := []fyne.CanvasObject{rows.Title(title, false)}
	if before != "" {
		t := rows.Quiet(before)
		t.Wrapping = fyne.TextWrapOff
		cells = append(cells, t)
	}
	return container.New(priceColumns{}, append(cells, money)...)
}

// priceRow is a name with one field for each of its prices.
func (s *Screen) priceRow(name string, keys ...shop.PriceKey) fyne.CanvasObject {
	label := widget.NewLabel(name)
	label.Wrapping = fyne.TextWrapWord
	cells, below := []fyne.CanvasObject{label}, container.NewVBox()
	for _, k := range keys {
		e := newEntry(priceChoice(k), s.onKeep)
		e.Scroll = fyne.ScrollNone // the wheel turns the page, not the field under the pointer
		e.settle = func() { rows.Settle(s.page) }
		s.entries[k.Key] = e
		cells = append(cells, rows.Target(e))
		below.Add(e.refused.RichText)
	}
	return container.NewVBox(container.New(priceColumns{}, cells...), below)
}

func priceChoice(k shop.PriceKey) choice {
	c := choice{key: k.Key, label: k.Name + ": " + lang.L("price"), hint: lang.L("not set"), show: showMoney, read: readPrice}
	switch k.Kind {
	case shop.OfMinutes:
		c.label, c.hint, c.show, c.read = k.Name+": "+lang.L("minutes"), strconv.FormatInt(k.Usual, 10), asTyped, readMinutes
	case shop.OfKit:
		if k.Usual > 0 {
			c.hint = showMoney(strconv.FormatInt(k.Usual, 10))
		}
	}
	return c
}

// showRates writes into the empty price fields of work what its minutes come
// to, and the currency over the columns.
func (s *Screen) showRates() {
	values := map[string]string{}
	for key, e := range s.entries {
		values[key] = e.kept
	}
	p, _ := shop.PricesFrom(s.env.Desk.Catalog, values) // a field that can't be read says so itself
	title := lang.L("Price")
	if p.Currency != "" {
		title += words.Thin + p.Currency
	}
	for _, t := range s.prices.titles {
		rows.SetQuiet(t, title)
	}
	for _, k := range s.prices.keys {
		if k.Kind != shop.OfJob {
			continue
		}
		hint := lang.L("not set")
		if minor, ok := p.OfJob(k.ID); ok && s.entries[k.Key].kept == "" {
			hint = showMoney(strconv.FormatInt(minor, 10))
		}
		s.entries[k.Key].SetPlaceHolder(hint)
	}
}

// readPrice reads an amount as people type it: 12, 12.50, 12,50. Three decimals
// are refused: 1.250 may mean a thousand.
func readPrice(text string) (string, error) {
	if text == "" {
		return "", nil
	}
	q, err := measure.Parse(text, measure.Pure)
	if err != nil || math.IsNaN(q.Value) {
		return "", inspect.Refuse(inspect.Invalid, "%q is not an amount: type it as 12, 12.50 or 12,50", text)
	}
	if i := strings.LastIndexAny(text, ".,"); i >= 0 && len(text)-i-1 > 2 {
		return "", inspect.Refuse(inspect.Invalid, "%q has more than two decimals: type %s or %s", text, strings.NewReplacer(".", "", ",", "").Replace(text), showMoney(strconv.FormatInt(int64(math.Round(q.Value*100)), 10)))
	}
	if q.Value < 0 || q.Value > 1e7 {
		return "", inspect.Refuse(inspect.Invalid, "%q is not an amount from 0 to 10 000 000", text)
	}
	return strconv.FormatInt(int64(math.Round(q.Value*100)), 10), nil
}

func readMinutes(text string) (string, error) {
	if text == "" {
		return "", nil
	}
	n, err := strconv.Atoi(text)
	if err != nil || n < 0 || n > 24*60 {
		return "", inspect.Refuse(inspect.Invalid, "%q is not a number of minutes from 0 to a day", text)
	}
	return strconv.Itoa(n), nil
}

// priceColumns gives the name the room that the fields leave.
type priceColumns struct{}

const priceWidth = 104

// MinSize implements fyne.Layout.
func (priceColumns) MinSize(os []fyne.CanvasObject) fyne.Size {
	h := float32(0)
	for _, o := range os {
		h = max(h, o.MinSize().Height)
	}
	return fyne.NewSize(float32(len(os)-1)*(priceWidth+tokens.Step)+120, h)
}

// Layout implements fyne.Layout.
func (priceColumns) Layout(os []fyne.CanvasObject, size fyne.Size) {
	n := float32(len(os) - 1)
	left := max(0, size.Width-n*(priceWidth+tokens.Step))
	for i, o := range os {
		m := o.MinSize().Height
		if i == 0 {
			o.Resize(fyne.NewSize(left, size.Height))
			m = o.MinSize().Height
			o.Resize(fyne.NewSize(left, m))
			o.Move(fyne.NewPos(0, max(0, (size.Height-m)/2)))
			continue
		}
		o.Resize(fyne.NewSize(priceWidth, m))
		o.Move(fyne.NewPos(left+tokens.Step+float32(i-1)*(priceWidth+tokens.Step), max(0, (size.Height-m)/2)))
	}
}
