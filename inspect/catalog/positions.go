package catalog

import (
	"slices"
	"sort"

	"forkwear/inspect"
)

// PartAt is one part at one leg of a fork.
type PartAt struct {
	Part Part
	Leg  inspect.Leg
}

// Doors returns the ids of a level and of all levels that it opens, itself
// first, each once. An unknown level opens nothing.
func (c *Catalog) Doors(level string) []string {
	var doors []string
	todo := []string{level}
	for len(todo) > 0 {
		id := todo[0]
		todo = todo[1:]
		l, ok := c.Level(id)
		if !ok || slices.Contains(doors, id) {
			continue
		}
		doors = append(doors, id)
		todo = append(todo, l.Opens...)
	}
	return doors
}

// Renewed returns the ids of the parts that a level always renews, those of the
// levels that it opens included, in catalog order of the parts.
func (c *Catalog) Renewed(level string) []string {
	wanted := map[string]bool{}
	for _, id := range c.Doors(level) {
		l, _ := c.Level(id)
		for _, p := range l.Renews {
			wanted[p] = true
		}
	}
	var out []string
	for _, p := range c.Parts {
		if wanted[p.ID] {
			out = append(out, p.ID)
		}
	}
	return out
}

// TasksFor returns a level's work-sheet lines of one list ("service",
// "function", "hand_back"; "" for all) that apply to the sheet, in order.
func TasksFor(c *Catalog, sheet Sheet, level, list string) []Task {
	l, _ := c.Level(level)
	var out []Task
	for _, id := range l.Tasks {
		t, ok := c.Task(id)
		if ok && (list == "" || t.List == list) && sheet.Meets(t.When) {
			out = append(out, t)
		}
	}
	return out
}

// Positions is the checklist of a level at a stage in working order: zone, then
// catalog order, left before right. Base lines come from the level and the
// levels it opens; the others were opened by a symptom, a finding or the hours,
// as far as this level opens their door.
func Positions(c *Catalog, sheet Sheet, level string, stage inspect.Stage, ev Evidence) []Position {
	l, ok := c.Level(level)
	if !ok || len(l.Stages) > 0 && !slices.Contains(l.Stages, stage) {
		return nil
	}
	doors, v := c.Doors(level), c.view(sheet, ev)
	return c.lines(sheet, stage, func(k Check, leg inspect.Leg) (take, base bool) {
		for _, id := range k.Levels {
			if slices.Contains(doors, id) {
				return true, true
			}
		}
		if stage == inspect.Stripped && !slices.Contains(doors, c.doorOf(k)) {
			return false, false
		}
		return len(v.openedBy(k, leg)) > 0, false
	})
}

// AllPositions is every check that applies to the sheet at a stage, whether or
// not anything opened it, in working order: the list to open checks by hand.
// Base is false throughout.
func AllPositions(c *Catalog, sheet Sheet, stage inspect.Stage) []Position {
	return c.lines(sheet, stage, func(Check, inspect.Leg) (take, base bool) { return true, false })
}

// PartPositions returns every part that a fork of this sheet has, at each of
// its legs, by zone, then catalog order, left before right.
func PartPositions(c *Catalog, sheet Sheet) []PartAt {
	var out []PartAt
	for _, p := range c.Parts {
		if !sheet.Meets(p.When) {
			continue
		}
		for _, leg := range sheet.LegsOf(p.Legs) {
			out = append(out, PartAt{p, leg})
		}
	}
	order := c.zoneOrder()
	sort.SliceStable(out, func(i, j int) bool { return order[out[i].Part.Zone] < order[out[j].Part.Zone] })
	return out
}

// OpenedBy returns what opened a check at a leg, in plain words: why the line
// is there.
func OpenedBy(c *Catalog, k Check, leg inspect.Leg, sheet Sheet, ev Evidence) []string {
	return c.view(sheet, ev).openedBy(k, leg)
}

func (v *view) openedBy(k Check, leg inspect.Leg) []string {
	var out []string
	for _, text := range k.OpenedBy {
		cond, err := ParseCondition(text)
		if err != nil {
			continue
		}
		if h, ok := cond.at(leg, v); ok {
			out = append(out, h.says)
		}
	}
	return out
}

func (c *Catalog) doorOf(k Check) string {
	if k.Door != "" {
		return k.Door
	}
	p, _ := c.Part(k.Part)
	return p.Door
}

func (c *Catalog) lines(sheet Sheet, stage inspect.Stage, choose func(Check, inspect.Leg) (take, base bool)) []Position {
	var out []Position
	for _, k := range c.Checks {
		if !slices.Contains(k.Stages, stage) || !c.Applies(k, sheet) {
			continue
		}
		for _, leg := range sheet.LegsOf(k.Legs) {
			if take, base := choose(k, leg); take {
				out = append(out, Position{Check: k, Leg: leg, Stage: stage, Base: base})
			}
		}
	}
	order := c.zoneOrder()
	sort.SliceStable(out, func(i, j int) bool { return order[out[i].Check.Zone] < order[out[j].Check.Zone] })
	return out
}

func (c *Catalog) zoneOrder() map[string]int {
	order := make(map[string]int, len(c.Zones))
	for _, z := range c.Zones {
		order[z.ID] = z.Order
	}
	return order
}
