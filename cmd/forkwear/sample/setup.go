package sample

import (
	"context"
	"strconv"

	"forkwear/inspect/shop"
)

// people work in the sample shop.
var people = []string{"Bo", "Tess", "Ines"}

// minor units of invented prices, by kit; minutes are the catalog's own, at a
// rate a minute, but for the jobs that have a price.
var (
	kitPrices = map[string]int{
		"seal_kit": 3900, "bushing_set": 6400, "crown_assembly": 38900, "tube_assembly": 16900, "lowers_assembly": 29900,
		"damper_assembly": 24900, "damper_kit": 4600, "damper_boot": 2400, "damper_fluid": 1200, "bath_fluid": 900,
		"air_kit": 3200, "air_shaft_assembly": 8900, "valve_core": 400, "coil": 5900, "coil_kit": 2100, "bumper_kit": 1400,
		"axle_part": 4900, "guard_part": 2900, "crown_bolts": 3400, "frame_bumper": 1900, "knob_kit": 2600,
		"remote_cable": 1100, "bolt_kit": 1300, "crush_washers": 400, "top_cap_part": 2200,
	}
	jobPrices  = map[string]int{"lowers_service": 6900, "damper_service": 9900, "scratch_job": 2500}
	minuteRate = 110
)

// setUp is what a shop chooses in its settings.
func (f *Filler) setUp(ctx context.Context) error {
	set := [][2]string{{shop.KeyName, "Lower Bridge Suspension (sample)"}, {"shop.sample", "yes"}, {shop.KeyCurrency, "EUR"},
		{"rules.minute_rate", strconv.Itoa(minuteRate)}}
	for _, k := range shop.PriceKeys(f.Catalog) {
		prices := kitPrices
		if k.Kind == shop.OfJob {
			prices = jobPrices
		}
		if p, ok := prices[k.ID]; ok && k.Kind != shop.OfMinutes {
			set = append(set, [2]string{k.Key, strconv.Itoa(p)})
		}
	}
	for _, s := range set {
		if err := f.Lib.PutPreference(ctx, s[0], s[1]); err != nil {
			return err
		}
	}
	return f.desk.SetPeople(ctx, people)
}
