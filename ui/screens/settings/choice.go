package settings

import (
	"fmt"
	"math"
	"strconv"
	"strings"
	"time"
	_ "time/tzdata" // zones are known on machines without their own list too

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/lang"
	"fyne.io/fyne/v2/widget"

	"forkwear/inspect"
	"forkwear/inspect/measure"
	"forkwear/inspect/shop"
	"forkwear/ui/screens/rows"
	"forkwear/ui/tongue"
	"forkwear/ui/words"
)

// choice is one preference as it is shown and typed.
type choice struct {
	key, label, hint, usual string
	unit                    string
	long                    bool // the field takes the whole width
	show                    func(kept string) string
	read                    func(text string) (kept string, err error)
}

func asTyped(s string) string { return s }

func anyText(s string) (string, error) { return s, nil }

func shopChoices() []choice {
	return []choice{
		{key: shop.KeyName, label: lang.L("Name of the shop"), long: true, hint: lang.L("stands on reports"), show: asTyped, read: anyText},
		{key: shop.KeyCurrency, label: lang.L("Currency"), hint: "EUR", show: asTyped, read: readCurrency},
		{key: shop.KeyZone, label: lang.L("Time zone, such as Europe/Vienna"), hint: lang.L("this computer's"), show: asTyped, read: readZone},
	}
}

// ruleChoices show shares in percent and amounts in whole units of money.
func ruleChoices() []choice {
	var out []choice
	usual := shop.DefaultRules()
	for _, k := range shop.RuleKeys() {
		c := choice{key: k.Key, label: tongue.Say(k.Name), show: asTyped}
		read := anyText
		switch {
		case k.Share:
			c.unit, c.show, read = "%", showShare, readShare
		case k.Minor:
			c.show, read = showMoney, readMoney
		}
		c.read = func(text string) (string, error) {
			kept, err := read(text)
			if err != nil {
				return "", err
			}
			r := usual
			return kept, k.Put(&r, kept)
		}
		c.usual = c.show(k.Get(usual))
		c.hint = fmt.Sprintf(lang.L("usual: %s"), c.usual)
		if k.Minor {
			c.usual, c.hint = "", lang.L("not set")
		}
		out = append(out, c)
	}
	return out
}

func readCurrency(text string) (string, error) {
	text = strings.ToUpper(text)
	if text == "" {
		return "", nil
	}
	if len(text) != 3 || strings.Trim(text, "ABCDEFGHIJKLMNOPQRSTUVWXYZ") != "" {
		return "", inspect.Refuse(inspect.Invalid, "%q is not the three letters of a currency, such as EUR", text)
	}
	return text, nil
}

func readZone(text string) (string, error) {
	if text == "" {
		return "", nil
	}
	if _, err := time.LoadLocation(text); err != nil || text == "Local" {
		return "", inspect.Refuse(inspect.Invalid, "the time zone %q is not known: write it as continent/town, such as Europe/Vienna, or leave it empty", text)
	}
	return text, nil
}

func showShare(kept string) string {
	x, err := strconv.ParseFloat(kept, 64)
	if err != nil {
		return kept
	}
	return words.Decimal(strconv.FormatFloat(math.Round(x*1e6)/1e4, 'f', -1, 64))
}

func readShare(text string) (string, error) {
	if text == "" {
		return "", nil
	}
	q, err := measure.Parse(text, measure.Percent)
	if err != nil {
		return "", err
	}
	if q.Value <= 0 || q.Value >= 100 {
		return "", inspect.Refuse(inspect.Invalid, "%s %% is not between 0 and 100 %%", words.Decimal(strconv.FormatFloat(q.Value, 'g', 6, 64)))
	}
	return strconv.FormatFloat(q.Value/100, 'g', 12, 64), nil
}

func showMoney(kept string) string {
	n, err := strconv.ParseInt(kept, 10, 64)
	if err != nil {
		return kept
	}
	return words.Decimal(fmt.Sprintf("%d.%02d", n/100, n%100))
}

func readMoney(text string) (string, error) {
	if text == "" {
		return "", nil
	}
	q, err := measure.Parse(text, measure.Pure)
	if err != nil {
		return "", err
	}
	if q.Value < 0 || q.Value > 1e7 {
		return "", inspect.Refuse(inspect.Invalid, "%q is not an amount from 0 to 10 000 000", text)
	}
	return strconv.FormatInt(int64(math.Round(q.Value*100)), 10), nil
}

// entry keeps what was typed when it is left or Enter is pressed.
type entry struct {
	widget.Entry

	choice  choice
	kept    string // in the library
	refused rows.Refusal
	keep    func(e *entry, text string)
	settle  func()
}

func newEntry(c choice, keep func(e *entry, text string)) *entry {
	e := &entry{choice: c, keep: keep, refused: rows.NewRefusal()}
	e.SetPlaceHolder(c.hint)
	if c.unit != "" { // a number never needs to scroll inside its field, the page under the pointer does
		e.Scroll = fyne.ScrollNone
	}
	e.OnSubmitted = func(string) { e.commit() }
	e.ExtendBaseWidget(e)
	return e
}

// FocusLost implements fyne.Focusable.
func (e *entry) FocusLost() {
	e.Entry.FocusLost()
	e.commit()
}

// TypedKey takes back what was typed with Escape.
func (e *entry) TypedKey(k *fyne.KeyEvent) {
	if k.Name == fyne.KeyEscape {
		e.set(e.kept)
		return
	}
	e.Entry.TypedKey(k)
}

func (e *entry) set(kept string) {
	e.kept = kept
	e.SetText(e.choice.show(kept))
	e.refuse(nil)
}

// refuse writes what is wrong under the field, or takes it away.
func (e *entry) refuse(err error) {
	seen := e.refused.Visible()
	e.refused.Set(err)
	if seen || err != nil {
		e.settle()
	}
}

func (e *entry) commit() {
	kept, err := e.choice.read(strings.TrimSpace(e.Text))
	e.refuse(err)
	if err == nil && kept != e.kept {
		e.keep(e, kept)
	}
}
