package report

import (
	"context"
	"fmt"
	"math"
	"strings"

	"forkwear/inspect"
	"forkwear/inspect/shop"
	"forkwear/inspect/verdict"
	"forkwear/ui/words"
)

// telling is the report in words, the same for both layouts.
type telling struct {
	Shop     ShopInfo
	Sample   bool
	Made     string
	Fork     string
	Facts    []fact // the head: customer, dates, hours ...
	Stop     []string
	Summary  string
	Baseline string
	Drawing  []byte // PNG
	Cards    []card
	Causes   []cause
	Reused   []reused
	Gallery  []picture // photos of parts that go back in, and of the drop-off
	Unopened []string
	Fitted   []fact
	Settings []setting
	Next     string
	Foot     []string
	Index    []indexed
	Remarks  []string // what could not be shown
}

type fact struct{ Name, Value string }

type card struct {
	Verdict  inspect.Verdict
	Word     string // "Replace"
	Part     string // "Wiper and oil seal, left"
	Sentence string
	Chance   string
	Why      string // what failing means
	Then     *picture
	Now      *picture
	Line     *wearLine
	LineSays string
	Price    string
	Answer   string
	Done     string
}

type cause struct{ Says, Sure, Evidence, Settle string }

type reused struct {
	Part, Left, Note string
	Used             *float64
	UsedWord         string
}

type setting struct{ Name, Found, Left string }

const caution = "The maker's manual and the local rules come first. The limits used here are common practice in workshops, not the maker's word, and no substitute for it. Ride with care after any work on the fork, and come back at once if it knocks, leaks or feels loose."

const fingerprint = "The long number is the fingerprint (SHA-256) of the original photo on the shop's record."

const howToRead = "How to read the wear lines: each dot is one visit. The line must stay below the limit. The shaded band is where it may run, in nine cases out of ten. The tick marks the next visit."

// tell turns a source into words and pictures.
func tell(ctx context.Context, s Source) (*telling, error) {
	if err := s.check(); err != nil {
		return nil, err
	}
	c := s.Story.Case
	t := &telling{Shop: s.Shop, Sample: s.Sample, Made: words.Date(s.Made), Fork: c.Fork.Label(), Facts: facts(c)}
	album := &album{ctx: ctx, source: s}
	t.verdicts(s, album)
	if len(c.Earlier) == 0 {
		t.Baseline = "Baseline taken. This is the fork's first visit here, so there is nothing to compare with yet. What was measured today is where the next visit starts."
	}
	for _, f := range s.Story.Causes {
		t.Causes = append(t.Causes, causeOf(f.Cause.Says, f.Cause.Certainty, f.Cause.SettleBy, f.Leg, f.Evidence))
	}
	for _, l := range s.Story.Unopened {
		t.Unopened = append(t.Unopened, words.PartAt(partName(l), l.Assessment.Leg))
	}
	t.Gallery = album.rest(s.Story)
	t.Fitted = fitted(s)
	t.Settings = settings(c.Settings)
	t.Next = next(s.Story)
	t.Foot = []string{caution}
	t.Index = album.index
	t.Remarks = album.remarks
	var err error
	if t.Drawing, err = forkDrawing(s.Story); err != nil {
		return nil, err
	}
	return t, ctx.Err()
}

func facts(c *shop.Case) []fact {
	fs := []fact{{"Customer", c.Customer.Name}, {"Visit", words.Date(c.Visit.DroppedOff)}}
	if !c.Visit.Ready.IsZero() {
		fs = append(fs, fact{"Ready", words.Date(c.Visit.Ready)})
	}
	fs = append(fs, fact{"Ticket", fmt.Sprint(c.Visit.Ticket)})
	if c.Level.Name != "" {
		fs = append(fs, fact{"Service", c.Level.Name})
	}
	if c.Fork.Serial != "" {
		fs = append(fs, fact{"Serial", c.Fork.Serial})
	}
	if c.Fork.Tag != "" {
		fs = append(fs, fact{"Tag", c.Fork.Tag})
	}
	return append(fs, fact{"Riding hours", ridden(c.Claim)})
}

// ridden writes the riding hours with twice their standard uncertainty.
func ridden(cl inspect.Claim) string {
	s := fmt.Sprintf("%.0f", cl.Hours)
	if cl.U > 0 {
		s += fmt.Sprintf(" ±%s%.0f", words.Thin, 2*cl.U)
	}
	s += words.Thin + "h"
	if cl.AtLeast {
		return "at least " + s
	}
	return s
}

// verdicts sorts the lines into cards, the table of reused parts and the counts.
func (t *telling) verdicts(s Source, a *album) {
	var replace, replaced, measure, reuse int
	for _, l := range s.Story.Lines {
		v := l.Assessment.InForce()
		if l.Assessment.DoNotRide && !l.Renewed {
			t.Stop = append(t.Stop, words.PartAt(partName(l), l.Assessment.Leg)+": "+l.Sentence)
		}
		switch {
		case l.Renewed:
			replaced++
		case v == inspect.Replace:
			replace++
		case v == inspect.Measure:
			measure++
		default:
			reuse++
		}
		switch {
		case v != inspect.Reuse || l.Assessment.Override != nil:
			t.Cards = append(t.Cards, cardOf(s, l, a))
		case !l.Renewed:
			t.Reused = append(t.Reused, reusedOf(l))
		}
	}
	if s.Story.DoNotRide && len(t.Stop) == 0 {
		t.Stop = append(t.Stop, "Ask the shop which part this is about.")
	}
	t.Summary = summary(replace, replaced, measure, reuse)
}

// summary is the report in one sentence: "2 things to replace, 1 to measure
// again, 9 go back in."
func summary(replace, replaced, measure, reuse int) string {
	var parts []string
	add := func(n int, one, many string) {
		if n == 0 {
			return
		}
		phrase := many
		if n == 1 {
			phrase = one
		}
		if len(parts) == 0 { // the first count names what is counted
			thing := "things"
			if n == 1 {
				thing = "thing"
			}
			phrase = thing + " " + phrase
		}
		parts = append(parts, fmt.Sprintf("%d %s", n, phrase))
	}
	add(replace, "to replace", "to replace")
	add(replaced, "replaced", "replaced")
	add(measure, "to measure again", "to measure again")
	add(reuse, "goes back in", "go back in")
	if len(parts) == 0 {
		return "Nothing was decided at this visit."
	}
	return strings.Join(parts, ", ") + "."
}

func cardOf(s Source, l shop.Line, a *album) card {
	as := l.Assessment
	k := card{Verdict: as.InForce(), Word: words.Verdict(as.InForce()), Part: words.PartAt(partName(l), as.Leg),
		Sentence: l.Sentence, Chance: chance(l), Price: price(s.Story.Case, l), Answer: answer(l.Consent)}
	if as.InForce() == inspect.Replace && !strings.Contains(l.Sentence, l.Lead.Fails) {
		k.Why = l.Lead.Fails
	}
	if l.Renewed {
		k.Done = "Fitted new during this visit."
	}
	if l.Then != nil {
		k.Then = a.take(*l.Then, "Then", hoursOf(l.ThenVisit))
	}
	if l.Now != nil {
		k.Now = a.take(*l.Now, "Now", &s.Story.Case.Claim.Hours)
	}
	k.Line, k.LineSays = lineOf(s.Story.Case, l)
	return k
}

func hoursOf(v *inspect.VisitRow) *float64 {
	if v == nil {
		return nil
	}
	return &v.Hours
}

// chance says the chance not to last, unless the sentence has said it, or
// nothing but the limit stands behind it.
func chance(l shop.Line) string {
	a := l.Assessment
	if a.WearUsed == nil || a.NoTrend || a.Baseline || l.Part.NoLife || a.S == [3]float64{} || math.IsNaN(a.PThen) {
		return ""
	}
	said := verdict.Chance(a.PThen)
	if a.PThen > 0.98 {
		said += " that it does not last until the next service."
	} else {
		said += " that it wears out before the next service."
	}
	if strings.Contains(l.Sentence, verdict.Chance(a.PThen)) {
		return ""
	}
	if a.PriorOnly {
		said += " This rests on the typical life of such a part."
	}
	return said
}

func price(c *shop.Case, l shop.Line) string {
	if l.Kit.Price <= 0 || l.Assessment.InForce() != inspect.Replace {
		return ""
	}
	currency := c.Visit.Package.Currency
	if currency == "" {
		currency = c.Visit.GoAhead.Currency
	}
	p := strings.TrimSpace(words.Money(inspect.Money{Minor: l.Kit.Price, Currency: currency}))
	if l.Kit.Name != "" {
		p = l.Kit.Name + ", " + p
	}
	return p
}

func answer(k *inspect.Consent) string {
	if k == nil {
		return "not asked yet"
	}
	s := "yes"
	if !k.Accepted {
		s = "no"
	}
	for _, w := range []string{k.By, k.How, words.Date(k.At)} {
		if w != "" && w != "–" {
			s += ", " + w
		}
	}
	return s
}

func reusedOf(l shop.Line) reused {
	a := l.Assessment
	r := reused{Part: words.PartAt(partName(l), a.Leg), Note: l.Sentence, UsedWord: "–", Left: "–"}
	if a.WearUsed != nil && !math.IsNaN(*a.WearUsed) {
		u := math.Max(0, *a.WearUsed)
		r.Used, r.UsedWord = &u, words.Share(u)
	}
	switch {
	case l.Part.NoLife:
		r.Left = "never told for this part"
	case a.Baseline:
		r.Left = "baseline taken"
	case a.NoTrend:
		r.Left = "no wear seen yet"
	case a.HoursLeft != nil:
		unit := "h"
		if byMonths(l) {
			unit = "months"
		}
		r.Left = fmt.Sprintf("%.0f to %.0f%s%s", math.Max(0, a.HoursLeft.P05), a.HoursLeft.P95, words.Thin, unit)
		if a.PriorOnly {
			r.Left += ", by typical life"
		}
	}
	return r
}

func partName(l shop.Line) string {
	if l.Part.Name != "" {
		return l.Part.Name
	}
	return l.Assessment.Part
}
