package catalog

import (
	"math"
	"strings"
	"testing"
	"unicode/utf8"

	"forkwear/inspect"
)

func TestShippedCatalogHasNoHoles(t *testing.T) {
	for _, hole := range shippedCatalog(t).Validate() {
		t.Error(hole)
	}
}

func check(c *Catalog, id string) *Check {
	for i := range c.Checks {
		if c.Checks[i].ID == id {
			return &c.Checks[i]
		}
	}
	return nil
}

func number(x float64) *float64 { return &x }

// Every kind of hole is made in a sound catalog and must be found.
func TestHolesAreFound(t *testing.T) {
	for _, row := range []struct {
		want string
		harm func(c *Catalog)
	}{
		{"part sprocket has no check", func(c *Catalog) { c.Parts = append(c.Parts, Part{ID: "sprocket", Zone: "crown"}) }},
		{"seals.weep belongs to no part", func(c *Catalog) { check(c, "seals.weep").Part = "sprocket" }},
		{"spring.hold is on the wrong side of new", func(c *Catalog) { check(c, "spring.hold").Limit = number(-5) }},
		{"spring.coil_length is on the wrong side of new", func(c *Catalog) { check(c, "spring.coil_length").Limit = number(102) }},
		{"stanchions.diameter is on the wrong side of new", func(c *Catalog) { check(c, "stanchions.diameter").LimitFromNew = number(0.02) }},
		{"bushings.rock is on the wrong side of new", func(c *Catalog) { c.Sheets[0].Limits["bushings.rock"] = 0.01 }},
		{"bushings.rock is on the wrong side of new", func(c *Catalog) { check(c, "bushings.rock").Limit = number(math.NaN()) }},
		{"zone \"moon\" is not known", func(c *Catalog) { check(c, "seals.weep").Zone = "moon" }},
		{"instrument \"dowsing rod\" is not known", func(c *Catalog) { check(c, "seals.weep").Instruments = []string{"dowsing rod"} }},
		{"level \"lunch\" is not known", func(c *Catalog) { check(c, "seals.weep").Levels = []string{"lunch"} }},
		{"asks for a symptom that is not known", func(c *Catalog) { check(c, "seals.weep").OpenedBy = []string{"symptom:hunger"} }},
		{"asks for a check that is not known", func(c *Catalog) { c.Causes[0].Findings = []string{"check:seals.whep>=3"} }},
		{"does not fit the answers of that check", func(c *Catalog) { c.Causes[0].Findings = []string{"check:seals.weep=not_fine"} }},
		{"asks for none of the riding conditions", func(c *Catalog) { c.Causes[0].Unless = []string{"condition:sunshine"} }},
		{"begins with none of", func(c *Catalog) { c.Causes[0].Findings = []string{"weeping"} }},
		{"is no layout condition", func(c *Catalog) { c.Parts[0].When = []string{"wheel=round"} }},
		{"\"helium\" in \"spring=helium\"", func(c *Catalog) { check(c, "seals.weep").When = []string{"spring=helium"} }},
		{"seals.dry is opened by no level, symptom or finding", func(c *Catalog) { check(c, "seals.dry").OpenedBy = nil }},
		// only opened by itself, which nothing opens
		{"seals.dry is opened by no level, symptom or finding", func(c *Catalog) { check(c, "seals.dry").OpenedBy = []string{"check:seals.dry=not_fine"} }},
		{"its instruction has", func(c *Catalog) { check(c, "seals.weep").How = strings.Repeat("wipe ", 37) }},
		{"its instruction has", func(c *Catalog) { check(c, "seals.weep").How = "one\ntwo\nthree" }},
		{"does not say how to look", func(c *Catalog) { check(c, "seals.weep").How = " " }},
		{"has no words for grade 3", func(c *Catalog) { delete(check(c, "seals.weep").Words, "3") }},
		{"word \"6\"", func(c *Catalog) { check(c, "seals.weep").Words["6"] = "worse" }},
		{"the limit grade is 0", func(c *Catalog) { check(c, "seals.weep").LimitGrade = 0 }},
		{"does not say what failing means", func(c *Catalog) { check(c, "seals.weep").Fails = "" }},
		{"remedy \"pray\"", func(c *Catalog) { check(c, "seals.weep").Remedy = "pray" }},
		{"names no source", func(c *Catalog) { check(c, "seals.weep").Source = "" }},
		{"no expected life", func(c *Catalog) { check(c, "seals.weep").Life = 0 }},
		{"that has no trend", func(c *Catalog) { k := check(c, "damper.stroke"); k.Grows, k.Life = ByHours, 100 }},
		{"no rule to reduce them", func(c *Catalog) { check(c, "stanchions.diameter").Reduce = "" }},
		{"names no instrument", func(c *Catalog) { check(c, "stanchions.diameter").Instruments = nil }},
		{"does not say whether it rises or falls", func(c *Catalog) { check(c, "stanchions.diameter").Sense = "" }},
		{"is judged and has no limit", func(c *Catalog) { check(c, "spring.hold").Limit = nil }},
		{"stage \"tomorrow\"", func(c *Catalog) { check(c, "seals.weep").Stages = []inspect.Stage{"tomorrow"} }},
		{"is sold as \"gold\"", func(c *Catalog) { c.Parts[0].SoldAs = "gold" }},
		{"renewed after -1 years", func(c *Catalog) { c.Parts[0].Years = -1 }},
		{"renewed after NaN years", func(c *Catalog) { c.Parts[0].Years = math.NaN() }},
		{"renews the part \"wig\"", func(c *Catalog) { c.Levels[1].Renews = []string{"wig"} }},
		{"has the task \"sing\"", func(c *Catalog) { c.Levels[1].Tasks = []string{"sing"} }},
		{"opens \"lowers\", which is not another", func(c *Catalog) { c.Levels[1].Opens = []string{"lowers"} }},
		{"is generic and has a target", func(c *Catalog) { c.Sheets[0].Targets = map[string]float64{"fluid.left": 10} }},
		{"is not a low and a high", func(c *Catalog) { c.Sheets[0].Ranges["fluid.left"] = []float64{40, 5} }},
		{"there is no such check", func(c *Catalog) { c.Sheets[0].Lives["seals.whep"] = 10 }},
		{"it would always be found", func(c *Catalog) { c.Causes[0].Findings = nil }},
	} {
		c := shippedCatalog(t)
		row.harm(c)
		found := false
		for _, hole := range c.Validate() {
			found = found || strings.Contains(hole.Error(), row.want)
		}
		if !found {
			t.Errorf("a hole was made and not found: %q in %v", row.want, c.Validate())
		}
	}
}

// The sizes that the workshop's day allows: common practice, no source.
func TestBaseListsAreAsLongAsAServiceAllows(t *testing.T) {
	c := shippedCatalog(t)
	for _, want := range []struct {
		level     string
		low, high int
	}{{"look_over", 10, 14}, {"lowers", 20, 25}, {"full", 36, 46}} {
		for _, sheet := range c.Sheets {
			base := map[string]bool{}
			for _, stage := range inspect.Stages() {
				for _, p := range Positions(c, sheet, want.level, stage, Evidence{}) {
					if !p.Base {
						t.Errorf("%s, %s: %s is opened by nothing at all", sheet.ID, want.level, p.Check.ID)
					}
					base[p.Check.ID] = true
				}
			}
			if len(base) < want.low || len(base) > want.high {
				t.Errorf("%s: the base list of %s has %d checks, want %d to %d", sheet.ID, want.level, len(base), want.low, want.high)
			}
		}
	}
}

func TestHowMuchIsShipped(t *testing.T) {
	c := shippedCatalog(t)
	zones := map[string]int{}
	for _, k := range c.Checks {
		zones[k.Zone]++
		if k.DoNotRide && !k.Safety {
			t.Errorf("%s is 'do not ride' and not safety-marked", k.ID)
		}
		if utf8.RuneCountInString(k.Fails) > 180 {
			t.Errorf("%s: the sentence for the customer is too long", k.ID)
		}
	}
	if len(c.Checks) < 80 || len(zones) != 9 || len(c.Symptoms) < 20 || len(c.Sheets) < 12 {
		t.Errorf("%d checks in %d zones, %d symptoms, %d sheets", len(c.Checks), len(zones), len(c.Symptoms), len(c.Sheets))
	}
	for zone, n := range zones {
		if n < 4 {
			t.Errorf("zone %s has %d checks", zone, n)
		}
	}
	for _, s := range c.Sheets {
		if !s.Generic || len(s.Targets) > 0 {
			t.Errorf("sheet %s is shipped and not generic, or has a target", s.ID)
		}
	}
	for _, p := range c.Parts {
		if p.NoLife {
			for _, k := range c.ChecksOf(p.ID) {
				if k.Grows == ByHours {
					t.Errorf("%s would show hours left for %s, which never has any", k.ID, p.ID)
				}
			}
		}
	}
}
