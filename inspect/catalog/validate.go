package catalog

import (
	"math"
	"slices"
	"strings"
	"unicode/utf8"

	"forkwear/inspect"
)

// What the words of a catalog may be.
var (
	kinds       = []Kind{Grade, Number, Fine}
	growths     = []Growth{ByHours, ByMonths, Sudden, Record}
	reductions  = []string{"least", "greatest", "mean", "range"}
	remedies    = []string{"replace", "bleed", "clean", "adjust", "rework", "renew_kit", "renew_assembly", "send_away", "look"}
	kitKinds    = []string{"kit", "assembly", "part"}
	taskLists   = []string{"service", "function", "hand_back"}
	certainties = []string{"strong", "medium", "weak"}
	// riding conditions as a visit words them
	ridingConditions = []string{"dry", "dust", "mud", "wet", "bike park", "road salt"}
)

// An instruction must fit beside the grades on the smallest window.
const (
	howLines = 2
	howRunes = 180
)

// holes collects what is wrong, each with the thing it is about.
type holes struct {
	c    *Catalog
	errs []error
}

func (h *holes) say(format string, args ...any) {
	h.errs = append(h.errs, inspect.Refuse(inspect.Invalid, format, args...))
}

// need says a hole unless ok.
func (h *holes) need(ok bool, format string, args ...any) {
	if !ok {
		h.say(format, args...)
	}
}

// Validate returns every hole of the catalog: a part without a check, a check
// without a part, a limit on the wrong side of new, ids that nothing answers
// to, a check that nothing opens, an instruction longer than a screen, missing
// words. Nil when there are none. It goes on after the first.
func (c *Catalog) Validate() []error {
	h := &holes{c: c}
	for _, k := range c.Checks {
		h.check(k)
	}
	h.reachable()
	h.parts()
	h.levels()
	h.others()
	for _, s := range c.Sheets {
		h.sheet(s)
	}
	return h.errs
}

func (h *holes) check(k Check) {
	h.checkWords(k)
	h.checkIDs(k)
	h.checkNumbers(k)
	lines := strings.Split(strings.TrimSpace(k.How), "\n")
	h.need(strings.TrimSpace(k.How) != "", "check %s does not say how to look", k.ID)
	h.need(len(lines) <= howLines && utf8.RuneCountInString(k.How) <= howRunes,
		"check %s: its instruction has %d lines and %d letters, a screen holds %d and %d: move the rest to 'more'",
		k.ID, len(lines), utf8.RuneCountInString(k.How), howLines, howRunes)
	h.need(k.Source != "", "check %s names no source: 'common practice, no source' if there is none", k.ID)
	h.need(k.Grows == Record || k.Fails != "", "check %s does not say what failing means for the customer", k.ID)
	h.need(k.Grows == Record || slices.Contains(remedies, k.Remedy), "check %s: remedy %q is none of %s", k.ID, k.Remedy, strings.Join(remedies, ", "))
	if k.Grows == ByHours || k.Grows == ByMonths {
		h.need(k.Life > 0 && !math.IsInf(k.Life, 0), "check %s grows by %s and has no expected life", k.ID, k.Grows)
		h.need(k.Kind != Fine, "check %s is fine or not fine: that has no trend, it grows 'sudden' or is a 'record'", k.ID)
	}
	h.need(k.LifeCv >= 0 && k.Exponent >= 0, "check %s: life_cv and exponent are 0 or more", k.ID)
}

func (h *holes) checkWords(k Check) {
	h.need(k.Name != "", "check %s has no name", k.ID)
	h.need(slices.Contains(kinds, k.Kind), "check %s: kind %q is none of grade, number, fine", k.ID, k.Kind)
	h.need(slices.Contains(growths, k.Grows), "check %s: it grows %q, none of hours, months, sudden, record", k.ID, k.Grows)
	h.need(slices.Contains(legSets, k.Legs), "check %s: legs %q is none of %s", k.ID, k.Legs, strings.Join(legSets, ", "))
	for word, text := range k.Words {
		known := k.Kind == Grade && len(word) == 1 && word >= "0" && word <= "5" ||
			k.Kind == Fine && (word == "fine" || word == "not_fine")
		h.need(known && strings.TrimSpace(text) != "", "check %s: word %q belongs to no answer of its kind, or is empty", k.ID, word)
	}
	if k.Kind != Grade {
		return
	}
	for _, g := range []string{"0", "3", "5"} {
		h.need(k.Words[g] != "", "check %s has no words for grade %s", k.ID, g)
	}
	h.need(k.Grows == Record || k.LimitGrade > 0 && k.LimitGrade <= 5, "check %s: the limit grade is %g, not above 0 and up to 5", k.ID, k.LimitGrade)
}

func (h *holes) checkIDs(k Check) {
	part, ok := h.c.Part(k.Part)
	h.need(ok, "check %s belongs to no part: %q is not known", k.ID, k.Part)
	_, zone := h.c.Zone(k.Zone)
	h.need(zone, "check %s: zone %q is not known", k.ID, k.Zone)
	h.need(!ok || part.Legs != "whole" || k.Legs == "whole" || part.Legs == k.Legs || k.Legs == "both",
		"check %s is asked at the %s leg of %s, a part of the whole fork", k.ID, k.Legs, k.Part)
	h.need(len(k.Stages) > 0, "check %s has no stage", k.ID)
	for _, s := range k.Stages {
		h.need(s.Valid(), "check %s: stage %q is none of received, stripped, after_work", k.ID, s)
	}
	for _, id := range k.Instruments {
		_, ok := h.c.Instrument(id)
		h.need(ok, "check %s: instrument %q is not known", k.ID, id)
	}
	for _, id := range k.Levels {
		_, ok := h.c.Level(id)
		h.need(ok, "check %s: level %q is not known", k.ID, id)
	}
	if k.Door != "" {
		_, ok := h.c.Level(k.Door)
		h.need(ok, "check %s: door %q is not a level", k.ID, k.Door)
	}
	h.conditions("check "+k.ID, k.OpenedBy)
	h.when("check "+k.ID, k.When)
}

func (h *holes) checkNumbers(k Check) {
	h.need(len(k.Points) < 2 || slices.Contains(reductions, k.Reduce), "check %s has %d points and no rule to reduce them: least, greatest, mean or range", k.ID, len(k.Points))
	h.need(k.Reduce == "" || slices.Contains(reductions, k.Reduce), "check %s: reduction %q is none of %s", k.ID, k.Reduce, strings.Join(reductions, ", "))
	if k.Kind != Number {
		h.need(k.Limit == nil && k.LimitFromNew == nil, "check %s is not a number and has a limit in numbers", k.ID)
		return
	}
	h.need(k.Unit != "", "check %s is a number without a unit", k.ID)
	h.need(len(k.Instruments) > 0, "check %s is a number and names no instrument", k.ID)
	if k.Grows == Record && k.Limit == nil && k.LimitFromNew == nil {
		return
	}
	h.need(k.Limit != nil || k.LimitFromNew != nil, "check %s is judged and has no limit: give limit or limit_from_new, or let it be a record", k.ID)
	h.need(k.Sense == "rises" || k.Sense == "falls", "check %s does not say whether it rises or falls with wear", k.ID)
	if k.New != nil && k.Limit != nil {
		h.side("check "+k.ID, k, *k.New, *k.Limit)
	}
	if k.LimitFromNew != nil {
		h.side("check "+k.ID, k, 0, *k.LimitFromNew)
	}
}

// side says a hole where a limit is not beyond new on the side of wear.
func (h *holes) side(what string, k Check, newValue, limit float64) {
	d := limit - newValue
	ok := k.Sense == "rises" && d > 0 || k.Sense == "falls" && d < 0
	h.need(ok && !math.IsInf(d, 0), "%s: the limit %g of %s is on the wrong side of new %g, it %s with wear", what, limit, k.ID, newValue, k.Sense)
}

func (h *holes) conditions(what string, texts []string) {
	for _, text := range texts {
		cond, err := ParseCondition(text)
		if err != nil {
			h.say("%s: %w", what, err)
			continue
		}
		for _, t := range cond.Terms {
			h.term(what, text, t)
		}
	}
}

func (h *holes) term(what, text string, t Term) {
	switch t.Kind {
	case OfSymptom:
		_, ok := h.c.Symptom(t.ID)
		h.need(ok, "%s: %q asks for a symptom that is not known", what, text)
	case OfCondition:
		h.need(slices.Contains(ridingConditions, t.ID), "%s: %q asks for none of the riding conditions %s", what, text, strings.Join(ridingConditions, ", "))
	case OfCheck:
		k, ok := h.c.Check(t.ID)
		h.need(ok, "%s: %q asks for a check that is not known", what, text)
		fine := t.Word == "fine" || t.Word == "not_fine"
		h.need(!ok || t.Word == "over" || fine == (k.Kind == Fine), "%s: %q does not fit the answers of that check, it is a %s", what, text, k.Kind)
		h.need(!ok || k.Kind != Grade || t.Word != "" || t.Value >= 0 && t.Value <= 5, "%s: %q asks for a grade beyond 0 to 5", what, text)
		h.need(!ok || !t.Both || k.Legs == "both", "%s: %q asks for both legs of a check that has no two", what, text)
	}
}

func (h *holes) when(what string, when []string) {
	for _, w := range when {
		if _, err := (Sheet{}).meets(w); err != nil {
			h.say("%s: %w", what, err)
		}
	}
}

// reachable finds checks that no level, symptom or hours open, not even by way
// of another check.
func (h *holes) reachable() {
	open := map[string]bool{}
	for more := true; more; {
		more = false
		for _, k := range h.c.Checks {
			if !open[k.ID] && (len(k.Levels) > 0 || h.canOpen(k, open)) {
				open[k.ID], more = true, true
			}
		}
	}
	for _, k := range h.c.Checks {
		h.need(open[k.ID], "check %s is opened by no level, symptom or finding", k.ID)
	}
}

func (h *holes) canOpen(k Check, open map[string]bool) bool {
	for _, text := range k.OpenedBy {
		cond, err := ParseCondition(text)
		if err != nil {
			continue
		}
		for _, t := range cond.Terms {
			if t.Kind != OfCheck || open[t.ID] {
				return true
			}
		}
	}
	return false
}
