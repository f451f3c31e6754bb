package words

import "forkwear/inspect/measure"

// UnitChoice is one unit that a shop chooses: the preference of the library
// that holds it, and what can be chosen, the record's own first.
type UnitChoice struct {
	Key   string
	Kind  measure.Kind
	Units []measure.Unit
}

// UnitChoices are all that a shop can choose.
func UnitChoices() []UnitChoice {
	var out []UnitChoice
	for _, c := range []UnitChoice{
		{Key: "units.pressure", Kind: measure.KindGauge}, {Key: "units.length", Kind: measure.KindLength},
		{Key: "units.volume", Kind: measure.KindVolume}, {Key: "units.temperature", Kind: measure.KindTemperature},
	} {
		c.Units = measure.Choices(c.Kind)
		out = append(out, c)
	}
	return out
}

// UnitsFrom makes the shop's units of its preferences, key to sign. What can't
// be chosen counts as not set.
func UnitsFrom(values map[string]string) measure.Preference {
	var p measure.Preference
	for _, c := range UnitChoices() {
		for _, u := range c.Units {
			if string(u) != values[c.Key] {
				continue
			}
			switch c.Kind {
			case measure.KindGauge:
				p.Pressure = u
			case measure.KindLength:
				p.Length = u
			case measure.KindVolume:
				p.Volume = u
			case measure.KindTemperature:
				p.Temperature = u
			}
		}
	}
	return p
}
