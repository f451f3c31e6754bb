package catalog

import (
	"math"
	"slices"
	"strings"
)

func (h *holes) parts() {
	for _, p := range h.c.Parts {
		what := "part " + p.ID
		h.need(p.Name != "", "%s has no name", what)
		h.need(len(h.c.ChecksOf(p.ID)) > 0, "%s has no check: nothing could ever be said of it", what)
		_, zone := h.c.Zone(p.Zone)
		h.need(zone, "%s: zone %q is not known", what, p.Zone)
		h.need(slices.Contains(legSets, p.Legs), "%s: legs %q is none of %s", what, p.Legs, strings.Join(legSets, ", "))
		_, kit := h.c.Kit(p.SoldAs)
		h.need(kit, "%s is sold as %q, which is not known", what, p.SoldAs)
		if p.SoldAsLoose != "" {
			_, kit := h.c.Kit(p.SoldAsLoose)
			h.need(kit, "%s is sold as %q, which is not known", what, p.SoldAsLoose)
		}
		_, door := h.c.Level(p.Door)
		h.need(door, "%s: door %q is not a level", what, p.Door)
		h.need(p.Years >= 0 && p.Years <= 100, "%s: its rubber is renewed after %g years, which is not 0 to 100", what, p.Years)
		h.when(what, p.When)
	}
}

func (h *holes) levels() {
	for _, l := range h.c.Levels {
		what := "level " + l.ID
		h.need(l.Name != "", "%s has no name", what)
		h.need(l.Hours >= 0 && l.Months >= 0, "%s: its interval is below 0", what)
		for _, id := range l.Opens {
			_, ok := h.c.Level(id)
			h.need(ok && id != l.ID, "%s opens %q, which is not another level", what, id)
		}
		for _, id := range l.Renews {
			_, ok := h.c.Part(id)
			h.need(ok, "%s renews the part %q, which is not known", what, id)
		}
		for _, id := range l.Tasks {
			_, ok := h.c.Task(id)
			h.need(ok, "%s has the task %q, which is not known", what, id)
		}
		for _, s := range l.Stages {
			h.need(s.Valid(), "%s: stage %q is none of received, stripped, after_work", what, s)
		}
	}
}

func (h *holes) others() {
	for _, z := range h.c.Zones {
		h.need(z.Name != "" && z.Order > 0, "zone %s has no name or no place in the order", z.ID)
		h.need(slices.ContainsFunc(h.c.Checks, func(k Check) bool { return k.Zone == z.ID }), "zone %s has no check", z.ID)
	}
	for _, k := range h.c.Kits {
		h.need(k.Name != "" && slices.Contains(kitKinds, k.Kind), "kit %s has no name, or is none of %s", k.ID, strings.Join(kitKinds, ", "))
		h.need(k.Price >= 0, "kit %s has a price below 0", k.ID)
		for _, other := range k.Needs {
			_, known := h.c.Kit(other)
			h.need(known && other != k.ID, "kit %s needs %q, which is not another kit", k.ID, other)
		}
		_, ok := h.c.Job(k.Job)
		h.need(ok, "kit %s is renewed in the job %q, which is not known", k.ID, k.Job)
	}
	for _, j := range h.c.Jobs {
		h.need(j.Name != "" && j.Minutes > 0, "job %s has no name or no planned minutes", j.ID)
	}
	for _, t := range h.c.Tasks {
		h.need(t.Name != "" && slices.Contains(taskLists, t.List), "task %s has no name, or its list is none of %s", t.ID, strings.Join(taskLists, ", "))
		h.when("task "+t.ID, t.When)
	}
	for _, i := range h.c.Instruments {
		ok := i.Resolution >= 0 && i.Calibration >= 0 && i.Method >= 0
		h.need(i.Name != "" && ok && i.Source != "", "instrument %s needs a name, uncertainties of 0 or more and a source", i.ID)
	}
	for _, s := range h.c.Symptoms {
		h.need(s.Name != "", "symptom %s has no name", s.ID)
	}
	for _, c := range h.c.Causes {
		what := "cause " + c.ID
		h.need(len(c.Findings) > 0, "%s has no findings: it would always be found", what)
		h.need(c.Says != "" && c.SettleBy != "" && c.Source != "", "%s needs its sentence, what settles it, and its source", what)
		h.need(slices.Contains(certainties, c.Certainty), "%s: certainty %q is none of %s", what, c.Certainty, strings.Join(certainties, ", "))
		h.need(c.Legs == "" || c.SameLeg && slices.Contains([]string{"spring", "damper"}, c.Legs),
			"%s: legs %q is spring or damper, together with same_leg", what, c.Legs)
		h.conditions(what, c.Findings)
		h.conditions(what, c.Unless)
	}
}

func (h *holes) sheet(s Sheet) {
	what := "data sheet " + s.ID
	h.need(s.Name != "" && s.Source != "", "%s has no name or no source", what)
	for _, w := range []struct {
		have  string
		words []string
	}{{s.Spring, springs}, {s.Damper, dampers}, {s.Crown, crowns}} {
		h.need(w.have == "" || slices.Contains(w.words, w.have), "%s: %q is none of %s", what, w.have, strings.Join(w.words, ", "))
	}
	h.need(s.SpringOn.Valid() && s.DamperOn.Valid(), "%s: a leg is left, right or blank", what)
	h.need(!s.Generic || len(s.Targets) == 0, "%s is generic and has a target: targets come from the maker's sheet only", what)
	h.need(s.Stanchion >= 0 && s.Stanchion < 100, "%s: a tube of %g mm is not believable", what, s.Stanchion)
	for id, x := range s.Lives {
		_, ok := h.c.Check(id)
		h.need(ok && x > 0 && !math.IsInf(x, 0), "%s: life %g of %q is not above 0, or there is no such check", what, x, id)
	}
	for id := range s.New {
		_, ok := h.c.Check(id)
		h.need(ok, "%s: new value of %q, and there is no such check", what, id)
	}
	for id := range s.Limits {
		k, ok := h.c.Check(id)
		h.need(ok, "%s: limit of %q, and there is no such check", what, id)
		h.need(!ok || k.Kind == Number, "%s: limit of %s, which is not a number", what, id)
	}
	for _, k := range h.c.Checks {
		_, own := s.New[k.ID]
		_, limited := s.Limits[k.ID]
		if n, l := k.Bounds(s); (own || limited) && n != nil && l != nil {
			h.side(what, k, *n, *l)
		}
	}
	for key, r := range s.Ranges {
		h.need(len(r) == 2 && r[0] <= r[1], "%s: range %q is not a low and a high", what, key)
	}
}
