package sums

import (
	"fmt"

	"fyne.io/fyne/v2/lang"

	"forkwear/inspect/measure"
	"forkwear/ui/tongue"
	"forkwear/ui/words"
)

// What diameters are measured with.
const (
	micrometer = "micrometer"
	calliper   = "calliper"
)

// every lists the sums. The usual limits of error in them are common practice,
// no source; each stands in a field and can be typed over.
func every() []sum {
	return []sum{
		airHold(), rockPlay(), borePlay(), fluid(), set(), conform(), fit(), sag(), spacers(), tube(), diameters(), runOut(), parallel(), rust(),
		lives(), trends(), rates()}
}

func airHold() sum {
	return sum{lang.L("Air hold"), lang.L("How much air is lost in 24 hours, from two pressures with the temperature of the fork at each. The volumes of chamber and hose reckon with what screwing the pump on takes."),
		[]field{
			{key: "p1", label: lang.L("Pressure at the start"), unit: measure.Bar, hint: "6.2 bar, 90 psi"},
			{key: "t1", label: lang.L("Fork's temperature at the start"), unit: measure.Celsius, usual: "20"},
			{key: "p2", label: lang.L("Pressure after the wait"), unit: measure.Bar, hint: lang.L("as the pump shows it")},
			{key: "t2", label: lang.L("Fork's temperature then"), unit: measure.Celsius, usual: "20"},
			{key: "hours", label: lang.L("The wait"), unit: measure.Hour, hint: "16 h, 2 d"},
			{key: "gauge", label: lang.L("Pump gauge within ±"), unit: measure.Bar, usual: "0.1"},
			{key: "height", label: lang.L("Height above the sea"), unit: measure.Metre, usual: "0"},
			{key: "volume", label: lang.L("Volume of the chamber"), unit: measure.Millilitre, may: true},
			{key: "hose", label: lang.L("Volume of the pump hose"), unit: measure.Millilitre, may: true},
		}, func(in inputs) (result, error) {
			air, err := measure.AtmosphereAt(in.number["height"])
			if err != nil {
				return result{}, err
			}
			h, err := measure.Hold{P1: in.within("p1", "gauge"), P2: in.within("p2", "gauge"), T1: in.exactly("t1"), T2: in.exactly("t2"),
				Hours: in.exactly("hours"), Atm1: air, Chamber: in.exactly("volume"), Hose: in.exactly("hose")}.Run()
			if err != nil {
				return result{}, err
			}
			r := ofSum(h.Sum).and(lang.L("%s of the start pressure in 24 h"), about(h.PercentPerDay, 2, "%")).
				and(lang.L("with nothing lost the gauge would show %s"), about(h.P2Expected, 3, "bar"))
			if h.HoursNeeded != nil {
				r = r.and(lang.L("5 %% a day is proved after a wait of %s"), words.Hours(*h.HoursNeeded))
			}
			return r.found(h.Finding), nil
		}}
}

func rockPlay() sum {
	return sum{lang.L("Bushing play from rock"), lang.L("The lowers are pushed there and back: how far they swing tells how loose the bushings are. A second swing at twice the force takes the bending out."),
		[]field{
			{key: "rock", label: lang.L("Full swing at force F"), unit: measure.Millimetre},
			{key: "rock2", label: lang.L("Full swing at twice the force"), unit: measure.Millimetre, may: true},
			{key: "distance", label: lang.L("Middle of the bushings to the gauge"), unit: measure.Millimetre, hint: "250 mm"},
			{key: "span", label: lang.L("Outer edge to outer edge of the bushings"), unit: measure.Millimetre, hint: "130 mm"},
			{key: "dial", label: lang.L("Swing right within ±"), unit: measure.Millimetre, usual: "0.1"},
		}, func(in inputs) (result, error) {
			r := measure.Rock{AtForce: in.within("rock", "dial"), Distance: in.exactly("distance"), Span: in.exactly("span")}
			if in.has("rock2") {
				k := in.within("rock2", "dial")
				r.AtDoubleForce = &k
			}
			return plain(r.Clearance())
		}}
}

func borePlay() sum {
	return sum{lang.L("Bushing play from diameters"), lang.L("Bore of the bushing less the outside of the tube."),
		[]field{
			{key: "bore", label: lang.L("Bore of the bushing"), unit: measure.Millimetre, hint: "35.06"},
			{key: "shaft", label: lang.L("Outside of the tube"), unit: measure.Millimetre, hint: "34.98"},
			{key: "ubore", label: lang.L("Bore gauge right within ±"), unit: measure.Millimetre, usual: "0.02"},
			{key: "ushaft", label: lang.L("Micrometer right within ±"), unit: measure.Millimetre, usual: "0.004"},
		}, func(in inputs) (result, error) {
			return plain(measure.BoreClearance(in.within("bore", "ubore"), in.within("shaft", "ushaft")))
		}}
}

func fluid() sum {
	return sum{lang.L("Fluid balance"), lang.L("What went in last time against what came out now. Not for dampers filled by bleeding."),
		[]field{
			{key: "in", label: lang.L("Filled last time"), unit: measure.Millilitre, hint: "20 mL, 20cc"},
			{key: "out", label: lang.L("Came out now"), unit: measure.Millilitre},
			{key: "cup", label: lang.L("Each volume right within ±"), unit: measure.Millilitre, usual: "1"},
			{key: "share", label: lang.L("Share that usually comes out"), unit: measure.Percent, usual: "75"},
			{key: "ushare", label: lang.L("Standard uncertainty of that share"), unit: measure.Percent, usual: "12"},
		}, func(in inputs) (result, error) {
			b, err := measure.Bath{In: in.within("in", "cup"), Out: in.within("out", "cup"),
				Recovery: measure.Known{Value: in.number["share"] / 100, U: in.number["ushare"] / 100}}.Balance()
			if err != nil {
				return result{}, err
			}
			return ofSum(b.Sum).and(lang.L("%s were expected to come out"), fixed(b.ExpectedOut, 1, "mL")).found(b.Finding), nil
		}}
}

func set() sum {
	return sum{lang.L("Compression set"), lang.L("How much of its squeeze a ring has kept for good: 0 % is new, 100 % fills its groove and no more."),
		[]field{
			{key: "h0", label: lang.L("Height when new"), unit: measure.Millimetre, hint: "3.53"},
			{key: "h1", label: lang.L("Height now, at rest"), unit: measure.Millimetre},
			{key: "hs", label: lang.L("Height it was held at"), unit: measure.Millimetre, hint: lang.L("depth of its groove")},
			{key: "half", label: lang.L("Each height right within ±"), unit: measure.Millimetre, usual: "0.03"},
		}, func(in inputs) (result, error) {
			return plain(measure.CompressionSet(in.within("h0", "half"), in.within("h1", "half"), in.within("hs", "half")))
		}}
}

func conform() sum {
	return sum{lang.L("Inside its limits?"), lang.L("How sure it is that the true value lies within its limits, and what that proves."),
		[]field{
			{key: "value", label: lang.L("Measured value"), unit: measure.Pure, hint: "34.975"},
			{key: "u", label: lang.L("Its standard uncertainty"), unit: measure.Pure, hint: "0.004"},
			{key: "lower", label: lang.L("Lower limit"), unit: measure.Pure, may: true},
			{key: "upper", label: lang.L("Upper limit"), unit: measure.Pure, may: true},
			{key: "level", label: lang.L("Proved from a chance of"), unit: measure.Percent, usual: "95"},
		}, func(in inputs) (result, error) {
			c, err := measure.Conform(in.number["value"], in.number["u"], in.maybe("lower"), in.maybe("upper"), in.number["level"]/100)
			if err != nil {
				return result{}, err
			}
			says := map[measure.Decision]string{measure.Inside: lang.L("Inside, proved"), measure.Outside: lang.L("Outside, proved"), measure.Undecided: lang.L("Not decided: measure again")}
			r := result{head: says[c.Decision], formula: c.Formula, inputs: c.Inputs, remarks: c.Remarks}
			r = r.and(lang.L("chance to be inside %s"), chance(c.PConform))
			if c.POver != nil {
				r = r.and(lang.L("chance to be over %s"), chance(*c.POver))
			}
			if c.PUnder != nil {
				r = r.and(lang.L("chance to be under %s"), chance(*c.PUnder))
			}
			return r, nil
		}}
}

// chance writes a probability without ever rounding it to certain.
func chance(p float64) string {
	switch {
	case p > 0 && p < 0.001:
		return "< " + words.Decimal("0.1") + words.Thin + "%"
	case p < 1 && p > 0.999:
		return "> " + words.Decimal("99.9") + words.Thin + "%"
	}
	return words.Fixed(100*p, 1) + words.Thin + "%"
}

func fit() sum {
	return sum{lang.L("Fit of hole and shaft"), lang.L("Limits and play of an ISO 286 fit, such as 40 H7/f7."),
		[]field{
			{key: "size", label: lang.L("Nominal size"), unit: measure.Millimetre, hint: "40"},
			{key: "hole", label: lang.L("Class of the hole"), may: true, usual: "H7"},
			{key: "shaft", label: lang.L("Class of the shaft"), may: true, usual: "f7"},
		}, func(in inputs) (result, error) {
			f, err := measure.Fit(in.number["size"], in.text["hole"], in.text["shaft"])
			if err != nil {
				return result{}, err
			}
			r := result{formula: f.Formula, inputs: f.Inputs, remarks: f.Remarks, head: lang.L("Limits")}
			if f.Clearance != nil && f.Kind != nil {
				r.head = fmt.Sprintf(lang.L("%s to %s µm of play"), words.Number(f.Clearance.Min, 0), words.Number(f.Clearance.Max, 0))
				r = r.and(lang.L("a %s fit"), tongue.Say(*f.Kind))
			}
			for _, l := range []struct {
				name string
				at   *measure.Limits
			}{{lang.L("hole"), f.Hole}, {lang.L("shaft"), f.Shaft}} {
				if l.at != nil {
					r = r.and(lang.L("%s %s to %s µm: %s to %s mm"), l.name, signed(l.at.Lower), signed(l.at.Upper), words.Fixed(f.Size+l.at.Lower/1000, 3), words.Fixed(f.Size+l.at.Upper/1000, 3))
				}
			}
			return r, nil
		}}
}

func sag() sum {
	return sum{lang.L("Sag"), lang.L("The share of the travel that the rider's weight takes."),
		[]field{
			{key: "sunk", label: lang.L("How far the ring moved"), unit: measure.Millimetre, hint: "32"},
			{key: "travel", label: lang.L("Travel of the fork"), unit: measure.Millimetre, hint: "160"},
			{key: "half", label: lang.L("Ring read within ±"), unit: measure.Millimetre, usual: "2"},
		}, func(in inputs) (result, error) {
			return plain(measure.Sag(in.within("sunk", "half"), in.exactly("travel")))
		}}
}

func spacers() sum {
	return sum{lang.L("Travel from spacers"), lang.L("Full travel less what the spacers take. Other forks change travel by the shaft."),
		[]field{
			{key: "full", label: lang.L("Travel without spacers"), unit: measure.Millimetre, hint: "180"},
			{key: "n", label: lang.L("Number of spacers"), unit: measure.Pure, usual: "1"},
			{key: "each", label: lang.L("One spacer takes"), unit: measure.Millimetre, usual: "10"},
		}, func(in inputs) (result, error) {
			n, err := count(in.number["n"])
			if err != nil {
				return result{}, err
			}
			return plain(measure.TravelFromSpacers(in.exactly("full"), n, in.exactly("each")))
		}}
}

func tube() sum {
	return sum{lang.L("Travel on the tube"), lang.L("Measured: the tube that shows at full length less what shows pushed home with the air out."),
		[]field{
			{key: "out", label: lang.L("Shows at full length"), unit: measure.Millimetre, hint: "182"},
			{key: "home", label: lang.L("Shows pushed home, air out"), unit: measure.Millimetre, hint: "22"},
			{key: "half", label: lang.L("Rule read within ±"), unit: measure.Millimetre, usual: "1"},
		}, func(in inputs) (result, error) {
			return plain(measure.TravelFromTube(in.within("out", "half"), in.within("home", "half")))
		}}
}

func diameters() sum {
	return sum{lang.L("Stanchion diameters"), lang.L("Least diameter, out-of-round and taper of one tube, from diameters at several heights and directions."),
		[]field{
			{key: "spots", label: lang.L("Height, direction, diameter: one place a line"), many: true, hint: "20 0 34.990\n20 90 34.970\n120 0 35.000"},
			{key: "gauge", label: lang.L("Measured with"), choices: []choice{{micrometer, lang.L("micrometer, ± 0.004 mm")}, {calliper, lang.L("calliper, ± 0.03 mm")}}, usual: micrometer},
			{key: "decide", label: lang.L("Difference that must be told"), unit: measure.Millimetre, usual: "0.02"},
			{key: "new", label: lang.L("Diameter when new"), unit: measure.Millimetre, may: true},
		}, workDiameters}
}

func workDiameters(in inputs) (result, error) {
	g := measure.Micrometer()
	if in.text["gauge"] == calliper {
		g = measure.Calliper()
	}
	at, err := parseSpots(in.text["spots"])
	if err != nil {
		return result{}, err
	}
	var fresh *measure.Known
	if in.has("new") {
		k := measure.Within(in.number["new"], g.Calibration)
		fresh = &k
	}
	d, err := measure.Diameters(at, g, in.number["decide"], fresh)
	if err != nil {
		return result{}, err
	}
	r := ofSum(d.Sum).and(lang.L("lowest reading %s, mean %s"), fixed(d.LeastRead, 3, "mm"), fixed(d.Mean, 3, "mm"))
	for _, x := range []struct {
		name string
		v, u *float64
	}{{lang.L("out of round"), d.Ovality, d.OvalityU}, {lang.L("taper"), d.Taper, d.TaperU}, {lang.L("worn"), d.Worn, d.WornU}} {
		if x.v != nil {
			r = r.and("%s %s", x.name, figure(*x.v, x.u, "mm"))
		}
	}
	return r, nil
}
