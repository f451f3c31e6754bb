package catalog

import (
	"slices"
	"testing"

	"pgregory.net/rapid"

	"forkwear/inspect"
)

func lineIDs(ps []Position) (ids []string) {
	for _, p := range ps {
		id := p.Check.ID
		if p.Leg != inspect.Whole {
			id += "@" + string(p.Leg)
		}
		ids = append(ids, id)
	}
	return ids
}

func TestLayoutSwitchesChecks(t *testing.T) {
	c := shippedCatalog(t)
	for _, row := range []struct {
		sheet, has, hasNot string
	}{
		{"generic_36_air_bladder", "damper.boot@right", "damper.oil_height@right"},
		{"generic_36_air_bladder", "spring.bore@left", "spring.coil_length@left"},
		{"generic_34_air_floating_piston", "damper.piston_depth@right", "damper.boot@right"},
		{"generic_36_coil_bladder", "spring.coil_length@left", "spring.bore@left"},
		{"generic_35_air_closed_unit", "damper.unit_leak@right", "damper.fluid_look@right"},
		{"generic_36_coil_closed_unit_inverted", "seals.lip@left", "seals.foam@left"},
		{"generic_36_air_bladder", "seals.foam@right", "spring.bore@right"},
	} {
		ids := lineIDs(Positions(c, sheetOf(t, c, row.sheet), "full", inspect.Stripped, Evidence{}))
		if !slices.Contains(ids, row.has) || slices.Contains(ids, row.hasNot) {
			t.Errorf("%s: want %s and not %s in %v", row.sheet, row.has, row.hasNot, ids)
		}
	}
	all := lineIDs(AllPositions(c, sheetOf(t, c, "generic_36_air_bladder"), inspect.Stripped))
	if slices.Contains(all, "stanchions.runout@left") {
		t.Error("run-out is asked of tubes that are pressed into their crown")
	}
	if all := lineIDs(AllPositions(c, sheetOf(t, c, "generic_40_air_bladder_dual"), inspect.Stripped)); !slices.Contains(all, "stanchions.runout@left") {
		t.Error("run-out is not asked of loose tubes")
	}
}

func TestFindingsOpenChecks(t *testing.T) {
	c := shippedCatalog(t)
	sheet := sheetOf(t, c, "generic_36_air_bladder")
	for _, row := range []struct {
		level string
		stage inspect.Stage
		sees  []string
		opens string
		want  bool
	}{
		{"look_over", inspect.Received, nil, "bushings.rock", false},
		{"look_over", inspect.Received, []string{"bushings.feel=2"}, "bushings.rock", true},
		{"look_over", inspect.Received, []string{"bushings.feel=1.5"}, "bushings.rock", false},
		{"lowers", inspect.Stripped, []string{"stanchions.coating@left=3"}, "stanchions.diameter@left", true},
		{"lowers", inspect.Stripped, []string{"stanchions.coating@left=3"}, "stanchions.diameter@right", false},
		{"lowers", inspect.Stripped, []string{"850h"}, "stanchions.diameter@right", true},
		{"look_over", inspect.Received, []string{"loses_air"}, "spring.hold@left", true},
		{"look_over", inspect.Received, []string{"+road salt"}, "lowers.paint", true},
		// a lowers service does not open the spring leg: nothing in it can be asked for
		{"lowers", inspect.Stripped, []string{"no_full_travel"}, "spring.oil_above@left", false},
		{"air_spring", inspect.Stripped, []string{"no_full_travel"}, "spring.oil_above@left", true},
		{"look_over", inspect.Stripped, []string{"bushings.feel=4"}, "bushings.rock", false},
	} {
		ev := evidenceOf(t, c, row.sees...)
		ps := Positions(c, sheet, row.level, row.stage, ev)
		if got := slices.Contains(lineIDs(ps), row.opens); got != row.want {
			t.Errorf("%s, %s, %v: %s is there: %v, want %v", row.level, row.stage, row.sees, row.opens, got, row.want)
		}
		for _, p := range ps {
			if !p.Base && len(OpenedBy(c, p.Check, p.Leg, sheet, ev)) == 0 {
				t.Errorf("%s at %q does not say what opened it", p.Check.ID, p.Leg)
			}
		}
	}
}

func TestDoorsAndRenewed(t *testing.T) {
	c := shippedCatalog(t)
	if got, want := c.Doors("full"), []string{"full", "lowers", "air_spring", "damper", "look_over"}; !slices.Equal(got, want) {
		t.Errorf("full opens %v, want %v", got, want)
	}
	// wipers at full, crush washers whenever the feet were open: common practice, no source
	if got := c.Renewed("full"); !slices.Contains(got, "wiper") || !slices.Contains(got, "crush_washer") || !slices.Contains(got, "air_piston") {
		t.Errorf("a full service renews %v", got)
	}
	if got := c.Renewed("look_over"); len(got) != 0 {
		t.Errorf("a look-over renews %v", got)
	}
	if c.Doors("lunch") != nil || Positions(c, Sheet{}, "lunch", inspect.Received, Evidence{}) != nil {
		t.Error("an unknown level opens something")
	}
}

func TestPartPositionsAndSoldAs(t *testing.T) {
	c := shippedCatalog(t)
	single, dual := sheetOf(t, c, "generic_36_air_bladder"), sheetOf(t, c, "generic_40_coil_open_bath_dual")
	legs := map[string][]inspect.Leg{}
	for _, p := range PartPositions(c, single) {
		legs[p.Part.ID] = append(legs[p.Part.ID], p.Leg)
	}
	for part, want := range map[string][]inspect.Leg{
		"stanchion": {inspect.Left, inspect.Right}, "boot": {inspect.Right}, "air_piston": {inspect.Left},
		"crown_steerer": {inspect.Whole}, "coil": nil, "floating_piston": nil, "crown_clamps": nil,
	} {
		if !slices.Equal(legs[part], want) {
			t.Errorf("%s is at %q, want %q", part, legs[part], want)
		}
	}
	tube, _ := c.Part("stanchion")
	if tube.SoldAsFor(single) != "crown_assembly" || tube.SoldAsFor(dual) != "tube_assembly" {
		t.Errorf("a tube is sold as %s and %s", tube.SoldAsFor(single), tube.SoldAsFor(dual))
	}
	// a sheet that says nothing asks for both legs and all layouts
	if got := (Sheet{}).LegsOf("damper"); len(got) != 2 {
		t.Errorf("the damper of an unknown layout is looked for at %q", got)
	}
}

func TestTasks(t *testing.T) {
	c := shippedCatalog(t)
	for _, sheet := range c.Sheets {
		for _, level := range c.Levels {
			hand := TasksFor(c, sheet, level.ID, "hand_back")
			if len(hand) < 10 {
				t.Errorf("%s, %s: the hand-back list has %d lines", sheet.ID, level.ID, len(hand))
			}
			for _, task := range TasksFor(c, sheet, level.ID, "") {
				if task.Unit == "" || task.Sheet == "preload" {
					continue
				}
				if _, ok := sheet.Ranges[task.Sheet]; !ok && level.ID == "lowers" && task.Sheet != "" {
					t.Errorf("%s: no plausibility range for %s of task %s", sheet.ID, task.Sheet, task.ID)
				}
			}
		}
	}
	air := TasksFor(c, sheetOf(t, c, "generic_36_air_bladder"), "lowers", "service")
	if i := slices.IndexFunc(air, func(x Task) bool { return x.ID == "sv.air_out" }); i < 0 || air[i].Caution == "" || i > 3 {
		t.Error("the air is not let out first, with its caution")
	}
}

func TestPositionsInWorkingOrder(t *testing.T) {
	c := shippedCatalog(t)
	order := c.zoneOrder()
	rapid.Check(t, func(t *rapid.T) {
		sheet := Sheet{
			Spring:   rapid.SampledFrom([]string{"", "air", "coil"}).Draw(t, "spring"),
			Damper:   rapid.SampledFrom(append([]string{""}, dampers...)).Draw(t, "damper"),
			Crown:    rapid.SampledFrom([]string{"", "single", "dual"}).Draw(t, "crown"),
			Inverted: rapid.Bool().Draw(t, "inverted"),
			SpringOn: rapid.SampledFrom([]inspect.Leg{"", "left", "right"}).Draw(t, "spring leg"),
			DamperOn: rapid.SampledFrom([]inspect.Leg{"", "left", "right"}).Draw(t, "damper leg"),
		}
		level := rapid.SampledFrom(c.Levels).Draw(t, "level").ID
		stage := rapid.SampledFrom(inspect.Stages()).Draw(t, "stage")
		symptom := rapid.SampledFrom(c.Symptoms).Draw(t, "symptom").ID
		plain := lineIDs(Positions(c, sheet, level, stage, Evidence{}))
		more := Positions(c, sheet, level, stage, Evidence{Symptoms: []inspect.Complaint{{Symptom: symptom}}, Hours: 600})
		ids, all := lineIDs(more), lineIDs(AllPositions(c, sheet, stage))
		for _, id := range plain {
			if !slices.Contains(ids, id) {
				t.Fatalf("a complaint took %s off the list", id)
			}
		}
		for i, id := range ids {
			if !slices.Contains(all, id) || slices.Contains(ids[:i], id) {
				t.Fatalf("%s is not among all that apply, or stands twice", id)
			}
			if i > 0 && order[more[i].Check.Zone] < order[more[i-1].Check.Zone] {
				t.Fatalf("%s stands after %s", id, ids[i-1])
			}
			if i > 0 && more[i].Check.ID == more[i-1].Check.ID && more[i-1].Leg != inspect.Left {
				t.Fatalf("%s: right before left", id)
			}
		}
	})
}

func BenchmarkPositions(b *testing.B) {
	c := shippedCatalog(b)
	sheet := sheetOf(b, c, "generic_36_air_bladder")
	ev := Evidence{Readings: map[inspect.Slot]inspect.Reading{}, Hours: 300}
	for _, stage := range inspect.Stages() {
		for _, p := range AllPositions(c, sheet, stage) {
			r := readingOf(b, c, p.Check.ID, p.Leg, "fine")
			r.Stage = stage
			ev.Readings[r.Slot()] = r
		}
	}
	for b.Loop() {
		Positions(c, sheet, "full", inspect.Stripped, ev)
		Causes(c, sheet, ev)
	}
}
