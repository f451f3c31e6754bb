package report

import (
	"context"
	"fmt"
	"strings"

	"forkwear/inspect"
	"forkwear/inspect/shop"
	"forkwear/ui/tongue"
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
	Heading  string // of the cards
	Cards    []card
	Costs    []cost
	Total    fact
	Causes   []cause
	Reused   []reused  // those of which wear was told
	Remedied []reused  // those that the work puts right: refilled, cleaned, adjusted
	Alike    []alike   // those of which only a sentence is told
	Gallery  []picture // photos of parts that go back in, and of the drop-off
	Unopened []string
	Fitted   []fact
	Torques  []fact
	Settings []setting
	Signed   []signed
	Amended  []fact // said after the record was locked
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
	Sold     string // the line of the estimate that it stands in; "" without one
	Answer   string
	Done     string
	name     string
	leg      inspect.Leg
}

type cause struct{ Says, Sure, Evidence, Settle string }

type reused struct {
	Part, Left, Note string
	Used             *float64
	UsedWord         string
	remedied         bool
}

type setting struct{ Name, Found, Left string }

func caution() string {
	return tongue.Say("The maker's manual and the local rules come first. The limits used here are common practice in workshops, not the maker's word, and no substitute for it. Ride with care after any work on the fork, and come back at once if it knocks, leaks or feels loose.")
}

func fingerprint() string {
	return tongue.Say("The long number is the fingerprint (SHA-256) of the original photo on the shop's record.")
}

func sampleWords() string { return tongue.Say("Sample shop: nothing here is real.") }

func howToRead() string {
	return tongue.Say("How to read the wear lines: each dot is one visit. The line must stay below the limit. The shaded band is where it may run, in nine cases out of ten. The tick marks the next visit.")
}

// tell turns a source into words and pictures.
func tell(ctx context.Context, s Source) (*telling, error) {
	if err := s.check(); err != nil {
		return nil, err
	}
	s = ordered(s)
	c := s.Story.Case
	t := &telling{Shop: s.Shop, Sample: s.Sample, Made: words.Date(s.Made), Fork: c.Fork.Label(), Facts: append(facts(c), told(s)...)}
	album := &album{ctx: ctx, source: s}
	t.Stop = stops(s.Story)
	t.verdicts(s, album)
	if s.Jobs != nil {
		t.Costs, t.Total = costs(s)
	}
	if len(c.Earlier) == 0 {
		t.Baseline = tongue.Say("Baseline taken. This is the fork's first visit here, so there is nothing to compare with yet. What was measured today is where the next visit starts.")
	}
	for _, f := range s.Story.Causes {
		t.Causes = append(t.Causes, causeOf(f.Cause.Says, f.Cause.Certainty, f.Cause.SettleBy, f.Leg, f.Evidence))
	}
	for _, l := range s.Story.Unopened {
		t.Unopened = append(t.Unopened, words.PartAt(partName(l), l.Assessment.Leg))
	}
	t.Unopened = bothLegs(t.Unopened)
	t.Gallery = album.rest(s.Story)
	t.Fitted = fitted(s)
	t.Torques = torques(s)
	t.Settings = settings(c.Settings)
	t.Amended = amended(c)
	t.Signed = signatures(c)
	if t.Next = next(s.Story); len(t.Stop) > 0 {
		t.Next = tongue.Sayf("First have this put right. Then %s", lower(t.Next))
	}
	t.Foot = []string{caution()}
	t.Index = album.index
	t.Remarks = album.remarks
	var err error
	if t.Drawing, err = forkDrawing(s.Story); err != nil {
		return nil, err
	}
	return t, ctx.Err()
}

func facts(c *shop.Case) []fact {
	fs := []fact{{tongue.Say("Customer"), c.Customer.Name}, {tongue.Say("Visit"), words.Date(c.Visit.DroppedOff)}}
	if !c.Visit.Ready.IsZero() {
		fs = append(fs, fact{tongue.Say("Ready"), words.Date(c.Visit.Ready)})
	}
	fs = append(fs, fact{tongue.Say("Ticket"), fmt.Sprint(c.Visit.Ticket)})
	if c.Level.Name != "" {
		fs = append(fs, fact{tongue.Say("Service"), c.Level.Name})
	}
	if c.Fork.Serial != "" {
		fs = append(fs, fact{tongue.Say("Serial"), c.Fork.Serial})
	}
	if c.Fork.Tag != "" {
		fs = append(fs, fact{tongue.Say("Tag"), c.Fork.Tag})
	}
	return append(fs, fact{tongue.Say("Riding hours"), ridden(c.Claim)})
}

// told lists what the customer came with, since when.
func told(s Source) []fact {
	var parts []string
	for _, k := range s.Story.Case.Complaints {
		name := k.Note
		if y, ok := s.Catalog.Symptom(k.Symptom); ok {
			name = y.Name
		}
		if name == "" {
			continue
		}
		name = words.PartAt(name, k.Leg)
		if k.Since != "" {
			name += " (" + k.Since + ")"
		}
		parts = append(parts, name)
	}
	if len(parts) == 0 {
		return nil
	}
	return []fact{{tongue.Say("You told us"), strings.Join(parts, "; ")}}
}

// ridden writes the riding hours with twice their standard uncertainty.
func ridden(cl inspect.Claim) string {
	s := fmt.Sprintf("%.0f", cl.Hours)
	if cl.U > 0 {
		s += fmt.Sprintf(" ±%s%.0f", words.Thin, 2*cl.U)
	}
	s += words.Thin + "h"
	if cl.AtLeast {
		return tongue.Sayf("at least %s", s)
	}
	return s
}

// verdicts sorts the lines into cards, the table of reused parts and the counts.
func (t *telling) verdicts(s Source, a *album) {
	var replace, replaced, measure, reuse int
	for _, l := range s.Story.Lines {
		v := l.Assessment.InForce()
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
			t.sort(reusedOf(l))
		}
	}
	t.Reused, t.Alike = grouped(t.Reused)
	t.Cards = joined(t.Cards)
	t.heading(replace, replaced, measure)
	t.Summary = summary(replace, replaced, measure, reuse)
}

// sort tells what the work puts right from what goes back in as it is.
func (t *telling) sort(r reused) {
	if r.remedied {
		t.Remedied = append(t.Remedied, r)
		return
	}
	t.Reused = append(t.Reused, r)
}

// heading names the cards by what is still to do; where all is done, no card
// needs to say it again.
func (t *telling) heading(replace, replaced, measure int) {
	t.Heading = tongue.Say("What needs a decision")
	switch {
	case replaced > 0 && replace+measure == 0:
		t.Heading = tongue.Say("What was replaced, and why")
		for i := range t.Cards {
			t.Cards[i].Done = ""
		}
	case replaced > 0:
		t.Heading = tongue.Say("What was found")
	}
}

// stops says why the fork may not be ridden; empty where it may.
func stops(st *shop.Story) []string {
	var out []string
	for _, lines := range [][]shop.Line{st.Lines, st.Unopened} {
		for _, l := range lines {
			if l.Assessment.DoNotRide && !l.Renewed {
				out = append(out, strings.TrimSuffix(words.PartAt(partName(l), l.Assessment.Leg)+": "+l.Sentence, ": "))
			}
		}
	}
	if st.DoNotRide && len(out) == 0 {
		out = append(out, tongue.Say("Ask the shop which part this is about."))
	}
	return out
}

// summary is the report in one sentence: "2 things to replace, 1 to measure
// again, 9 go back in." The first count names what is counted.
func summary(replace, replaced, measure, reuse int) string {
	var parts []string
	add := func(n int, first, firsts, one, many string) {
		form := many
		switch {
		case n == 0:
			return
		case len(parts) == 0 && n == 1:
			form = first
		case len(parts) == 0:
			form = firsts
		case n == 1:
			form = one
		}
		parts = append(parts, fmt.Sprintf(form, n))
	}
	add(replace, tongue.Say("%d thing to replace"), tongue.Say("%d things to replace"), tongue.Say("%d to replace"), tongue.Say("%d to replace"))
	add(replaced, tongue.Say("%d thing replaced"), tongue.Say("%d things replaced"), tongue.Say("%d replaced"), tongue.Say("%d replaced"))
	add(measure, tongue.Say("%d thing to measure again"), tongue.Say("%d things to measure again"), tongue.Say("%d to measure again"), tongue.Say("%d to measure again"))
	add(reuse, tongue.Say("%d thing goes back in"), tongue.Say("%d things go back in"), tongue.Say("%d goes back in"), tongue.Say("%d go back in"))
	if len(parts) == 0 {
		return tongue.Say("Nothing was decided at this visit.")
	}
	return strings.Join(parts, ", ") + "."
}
