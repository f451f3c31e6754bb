package catalog

import (
	"slices"
	"strconv"
	"testing"

	"forkwear/inspect"
)

// What a workshop sees and what it means: common practice, no source. Each row
// is written from the trade, not from the catalog's own conditions. leg is
// where the cause must be found.
var causeTable = []struct {
	cause string
	sheet string
	leg   inspect.Leg
	sees  []string
}{
	{"scratch_cuts_lip", "", "right", []string{"weeping", "stanchions.scratch@right=not_fine"}},
	{"seal_hurt_at_fitting", "", "left", []string{"weeping_after_service@left", "stanchions.scratch@left=fine"}},
	{"dirt_worn_lips", "", "", []string{"weeping", "seals.weep@left=3", "seals.weep@right=4", "seals.foam@left=4", "+dust"}},
	{"assembly_grease", "", "", []string{"ring_once"}},
	{"damper_shaft_seal", "", "right", []string{"lowers.bath_out@right=9", "damper.stroke@right=not_fine"}},
	{"air_in_damper", "", "right", []string{"damper.stroke@right=not_fine", "lowers.bath_out@right=-3"}},
	{"boot_short_of_fluid", "", "right", []string{"harsh", "damper.boot@right=3"}},
	{"valve_core", "", "left", []string{"loses_air", "spring.valve_bubbles@left=not_fine"}},
	{"air_cap_ring", "", "left", []string{"loses_air", "spring.cap_bubbles@left=not_fine"}},
	{"air_into_lowers", "", "left", []string{"loses_air", "lowers.trapped@left=not_fine"}},
	{"air_to_negative", "", "", []string{"sits_low", "spring.rest_length=6"}},
	{"oil_above_piston", "", "left", []string{"no_full_travel", "spring.oil_above@left=18"}},
	{"volume_too_small", "", "", []string{"no_full_travel", "spring.travel=1"}},
	{"travel_stopped", "", "", []string{"no_full_travel", "spring.travel=10"}},
	{"bushing_tight", "", "", []string{"sticky", "bushings.free_slide=not_fine"}},
	{"axle_squeezes", "", "", []string{"sticky_wheel_in"}},
	{"seals_dry", "", "left", []string{"sticky", "seals.dry@left=not_fine", "bushings.free_slide=fine"}},
	{"load_wear", "", "left", []string{"bushings.feel=3", "bushings.load_wear@left=not_fine"}},
	{"legs_forced", "", "left", []string{"bushings.lateral@left=not_fine"}},
	{"top_out", "", "left", []string{"tops_out", "spring.top_out@left=5"}},
	{"not_the_fork", "", "", []string{"knocks_braking", "bushings.feel=1"}},
	{"crown_creak", "", "", []string{"creaks", "crown.creak=not_fine", "crown.headset=fine"}},
	{"water_in_bath", "", "right", []string{"lowers.water@right=not_fine"}},
	{"bushing_eats_tube", "", "left", []string{"lowers.bath_look@left=4", "stanchions.coating@left=4"}},
	{"rebound_adjuster", "", "", []string{"rebound_dead", "controls.detent=not_fine"}},
	{"foot_washer", "", "right", []string{"drips_foot@right", "fasteners.foot_bolt@right=3"}},
	{"lower_seal_on_disc", "generic_36_coil_closed_unit_inverted", "left", []string{"oil_on_brake", "seals.lower_seal@left=4"}},
	{"wrong_fill", "", "", []string{"harsh_after_fill"}},
	{"coil_loose", "generic_36_coil_bladder", "left", []string{"coil_clunk", "spring.preload_parts@left=not_fine"}},
	{"lock_cable", "", "", []string{"lock_slips", "controls.remote=3"}},
	{"lock_air", "", "", []string{"lock_slips", "damper.lock=not_fine"}},
	{"scored_bore", "", "left", []string{"loses_air", "spring.bore@left=3"}},
	{"bent_by_blow", "", "left", []string{"crash", "stanchions.straight@left=0.4"}},
}

func at(found []FoundCause, cause string) (legs []inspect.Leg) {
	for _, f := range found {
		if f.Cause.ID == cause {
			legs = append(legs, f.Leg)
		}
	}
	return legs
}

func TestEachCauseIsFoundFromWhatTheWorkshopSees(t *testing.T) {
	c := shippedCatalog(t)
	tested := map[string]bool{}
	for _, row := range causeTable {
		tested[row.cause] = true
		id := row.sheet
		if id == "" {
			id = "generic_36_air_bladder" // spring left, damper right
		}
		sheet := sheetOf(t, c, id)
		legs := at(Causes(c, sheet, evidenceOf(t, c, row.sees...)), row.cause)
		if !slices.Equal(legs, []inspect.Leg{row.leg}) {
			t.Errorf("%v: %s is found at legs %q, want once at %q", row.sees, row.cause, legs, row.leg)
		}
		cause, _ := find(c.Causes, row.cause, func(x Cause) string { return x.ID })
		if legs := at(Causes(c, sheet, evidenceOf(t, c, row.sees[:1]...)), row.cause); len(cause.Findings) > 1 && len(legs) > 0 {
			t.Errorf("%q alone already finds %s", row.sees[0], row.cause)
		}
	}
	for _, cause := range c.Causes {
		if !tested[cause.ID] {
			t.Errorf("cause %s has no row in this table", cause.ID)
		}
	}
	if len(c.Causes) < 25 {
		t.Errorf("%d causes, want 25 or more", len(c.Causes))
	}
}

func TestNothingIsFoundOnAnEmptyOrSoundFork(t *testing.T) {
	c := shippedCatalog(t)
	for _, sheet := range c.Sheets {
		if found := Causes(c, sheet, Evidence{}); len(found) > 0 {
			t.Errorf("%s: nothing is known and %s is found", sheet.ID, found[0].Cause.ID)
		}
		sound := Evidence{Readings: map[inspect.Slot]inspect.Reading{}}
		for _, k := range c.Checks {
			for _, leg := range sheet.LegsOf(k.Legs) {
				r := readingOf(t, c, k.ID, leg, soundAnswer(k))
				sound.Readings[r.Slot()] = r
			}
		}
		if found := Causes(c, sheet, sound); len(found) > 0 {
			t.Errorf("%s: all is sound and %s is found: %v", sheet.ID, found[0].Cause.ID, found[0].Evidence)
		}
	}
}

func soundAnswer(k Check) string {
	if k.Kind == Fine {
		return "fine"
	}
	if k.Kind == Number && k.New != nil {
		return strconv.FormatFloat(*k.New, 'f', -1, 64)
	}
	return "0"
}

func TestCausesKeepToTheirLeg(t *testing.T) {
	c := shippedCatalog(t)
	sheet := sheetOf(t, c, "generic_36_air_bladder")
	for _, row := range []struct {
		cause string
		sees  []string
	}{
		{"scratch_cuts_lip", []string{"seals.weep@left=4", "stanchions.scratch@right=not_fine"}},
		{"scratch_cuts_lip", []string{"weeping@left", "stanchions.scratch@right=not_fine"}},
		{"damper_shaft_seal", []string{"lowers.bath_out@left=9", "damper.stroke@right=not_fine"}},
		{"air_into_lowers", []string{"loses_air", "lowers.trapped@right=not_fine"}},
		{"bushing_eats_tube", []string{"lowers.bath_look@left=4", "stanchions.coating@right=5"}},
		{"dirt_worn_lips", []string{"seals.weep@left=4", "seals.foam@left=4"}},
		{"assembly_grease", []string{"ring_once", "seals.weep@left=3"}},
		{"air_to_negative", []string{"spring.rest_length=6", "spring.hold@left=12"}},
		{"not_the_fork", []string{"knocks_braking", "bushings.feel=3"}},
	} {
		if legs := at(Causes(c, sheet, evidenceOf(t, c, row.sees...)), row.cause); len(legs) > 0 {
			t.Errorf("%v: %s is found at %q", row.sees, row.cause, legs)
		}
	}
	legs := at(Causes(c, sheet, evidenceOf(t, c, "weeping", "stanchions.scratch@left=not_fine", "stanchions.scratch@right=not_fine")), "scratch_cuts_lip")
	if !slices.Equal(legs, []inspect.Leg{inspect.Left, inspect.Right}) {
		t.Errorf("both legs weep and are scratched: found at %q", legs)
	}
}

func TestStrongCausesComeFirst(t *testing.T) {
	c := shippedCatalog(t)
	sheet := sheetOf(t, c, "generic_36_air_bladder")
	found := Causes(c, sheet, evidenceOf(t, c, "harsh_after_fill", "no_full_travel", "spring.oil_above@left=20", "loses_air", "spring.valve_bubbles@left=not_fine"))
	for i := 1; i < len(found); i++ {
		if slices.Index(certainties, found[i].Cause.Certainty) < slices.Index(certainties, found[i-1].Cause.Certainty) {
			t.Errorf("%s stands before %s", found[i-1].Cause.ID, found[i].Cause.ID)
		}
	}
	if len(found) < 3 || len(found[0].Evidence) != 2 {
		t.Fatalf("found %d causes, the first with %v", len(found), found[0].Evidence)
	}
	if got := found[0].Evidence[1]; got != "Bubble test at the valve: bubbles at the valve (left leg)" {
		t.Errorf("evidence reads %q", got)
	}
}
