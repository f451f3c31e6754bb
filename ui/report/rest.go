package report

import (
	"slices"
	"sort"
	"strings"
	"unicode"
	"unicode/utf8"

	"forkwear/inspect"
	"forkwear/inspect/catalog"
	"forkwear/inspect/shop"
	"forkwear/ui/tongue"
	"forkwear/ui/words"
)

// causeOf tells a likely cause: how sure it is, what speaks for it, and what
// would settle it.
func causeOf(says, certainty, settle string, leg inspect.Leg, evidence []string) cause {
	k := cause{Says: says, Evidence: strings.Join(evidence, "; "), Settle: settle}
	switch certainty {
	case "strong":
		k.Sure = tongue.Say("very likely")
	case "medium":
		k.Sure = tongue.Say("likely")
	default:
		k.Sure = tongue.Say("possible")
	}
	switch leg {
	case inspect.Left:
		k.Sure = tongue.Sayf("%s, left leg", k.Sure)
	case inspect.Right:
		k.Sure = tongue.Sayf("%s, right leg", k.Sure)
	}
	return k
}

// fitted lists the parts that went in new, a pair once, those of one reason in
// one line.
func fitted(s Source) []fact {
	c := s.Story.Case
	legs := map[string][]string{}
	why := map[string]string{}
	var order []string
	for _, f := range c.Fittings {
		if f.FittedVisit != c.Visit.ID || !f.In() || len(c.Earlier) == 0 && !c.Renewed(f.Part, f.Leg) {
			continue
		}
		name := f.Part
		if p, ok := s.Catalog.Part(f.Part); ok {
			name = p.Name
		}
		if legs[name] == nil {
			order = append(order, name)
		}
		legs[name] = append(legs[name], words.Leg(f.Leg))
		why[name] = endWord(ended(c, f))
		if f.Batch != "" && f.Batch != "fitted here" {
			why[name] = strings.TrimPrefix(why[name]+", "+tongue.Sayf("batch %s", f.Batch), ", ")
		}
	}
	var out []fact
	for _, name := range order {
		side := strings.Join(legs[name], " ")
		if len(legs[name]) == 2 {
			side = tongue.Sayf("%s and %s", legs[name][0], legs[name][1])
		}
		if side != "" {
			side = ", " + side
		}
		if i := slices.IndexFunc(out, func(f fact) bool { return f.Value == why[name] }); i >= 0 {
			out[i].Name += "; " + name + side
			continue
		}
		out = append(out, fact{name + side, why[name]})
	}
	return out
}

func ended(c *shop.Case, new inspect.Fitting) inspect.EndReason {
	for _, f := range c.Fittings {
		if f.Part == new.Part && f.Leg == new.Leg && f.EndVisit == c.Visit.ID {
			return f.End
		}
	}
	return inspect.StillIn
}

func endWord(e inspect.EndReason) string {
	switch e {
	case inspect.EndFailed:
		return tongue.Say("the old one had failed")
	case inspect.EndWorn:
		return tongue.Say("the old one was worn")
	case inspect.EndSchedule:
		return tongue.Say("renewed by schedule or with its kit")
	case inspect.EndCrash:
		return tongue.Say("damaged in a crash")
	case inspect.EndOverride:
		return tongue.Say("renewed by the technician's choice")
	case inspect.EndArrival:
		return tongue.Say("the old one was worn or broken on arrival")
	}
	return ""
}

// torques lists the bolts whose torque was written down, with the tool.
func torques(s Source) []fact {
	var out []fact
	for _, t := range shop.Torques(s.Catalog, s.Story.Case) {
		if !t.Typed() {
			continue
		}
		value := words.Measured(t.Done.Value, 0, t.Done.Unit)
		if t.Done.Tool != "" {
			value = tongue.Sayf("%s, with %s", value, t.Done.Tool)
		}
		out = append(out, fact{t.Task.Name, value})
	}
	return out
}

// amended lists what was said after the record was locked, which it does not
// change: what, why, by whom and when.
func amended(c *shop.Case) []fact {
	var out []fact
	for _, a := range c.Amendments {
		when := words.DateTime(a.At)
		if a.By != "" {
			when = tongue.Sayf("%s, by %s", when, a.By)
		}
		said := a.What
		if a.Why != "" {
			said = tongue.Sayf("%s (reason: %s)", a.What, a.Why)
		}
		out = append(out, fact{when, said})
	}
	return out
}

// settings puts found and left side by side, in the order they were found.
func settings(all []inspect.Setting) []setting {
	at := map[string]int{}
	var out []setting
	for _, s := range all {
		i, ok := at[s.Key]
		if !ok {
			i = len(out)
			at[s.Key] = i
			out = append(out, setting{Name: words.SettingName(s.Key), Found: "–", Left: "–"})
		}
		value := words.SettingValue(s)
		if s.Moment == "left" {
			out[i].Left = value
		} else {
			out[i].Found = value
		}
	}
	sort.SliceStable(out, func(i, j int) bool { return out[i].Name < out[j].Name })
	return out
}

// next says when the fork should come again. NextHours counts since the fork
// was new, as the riding hours do.
func next(st *shop.Story) string {
	now, h := st.Case.Claim.Hours, st.NextHours
	by := words.Date(st.NextDate)
	switch dated := !st.NextDate.IsZero(); {
	case h > now && dated:
		return tongue.Sayf("Please come again after about %s more riding, at %s in all, or by %s, whichever is first.", words.Hours(h-now), words.Hours(h), by)
	case h > now:
		return tongue.Sayf("Please come again after about %s more riding, at %s in all.", words.Hours(h-now), words.Hours(h))
	case h > 0 && dated:
		return tongue.Sayf("Please come again now: its %s are reached, or by %s, whichever is first.", words.Hours(h), by)
	case h > 0:
		return tongue.Sayf("Please come again now: its %s are reached.", words.Hours(h))
	case dated:
		return tongue.Sayf("Please come again by %s.", by)
	}
	return tongue.Say("No date is set. Ask the shop when the fork should come again.")
}

func byMonths(l shop.Line) bool { return l.Lead.Grows == catalog.ByMonths }

// lower begins a name in the middle of a sentence.
func lower(s string) string {
	r, n := utf8.DecodeRuneInString(s)
	return string(unicode.ToLower(r)) + s[n:]
}
