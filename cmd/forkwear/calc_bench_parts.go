package main

import (
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"forkwear/inspect/measure"
)

func benchFluid() *cobra.Command {
	var in, out, uIn, uOut, recovery, uRecovery *benchNumber
	cmd := benchCommand("fluid", "What a chamber gained or lost since it was filled",
		"fluid --in 20cc --out 13cc",
		func(*cobra.Command) (any, error) {
			b := measure.Bath{In: in.known(uIn, 1), Out: out.known(uOut, 1), Recovery: measure.DefaultRecovery()}
			if recovery.set {
				b.Recovery.Value = recovery.value / 100
			}
			if uRecovery.set {
				b.Recovery.U = uRecovery.value / 100
			}
			r, err := b.Balance()
			if err != nil {
				return nil, err
			}
			assumed(&r.Sum, uIn, "u-in", "the volume filled was taken as ± 1 mL")
			assumed(&r.Sum, uOut, "u-out", "the cup was taken as ± 1 mL")
			return r, nil
		})
	in = benchFlag(cmd, "in", measure.Millilitre, "volume filled last time", true)
	out = benchFlag(cmd, "out", measure.Millilitre, "volume that came out", true)
	uIn = benchFlag(cmd, "u-in", measure.Millilitre, "standard uncertainty of the volume filled (default ± 1 mL / √3)", false)
	uOut = benchFlag(cmd, "u-out", measure.Millilitre, "standard uncertainty of what came out (default ± 1 mL / √3)", false)
	recovery = benchFlag(cmd, "recovery", measure.Percent, "share that usually comes out (default 75 %)", false)
	uRecovery = benchFlag(cmd, "u-recovery", measure.Percent, "standard uncertainty of that share (default 12 %)", false)
	return cmd
}

func benchSet() *cobra.Command {
	var h0, h1, hs, uH *benchNumber
	cmd := benchCommand("set", "Compression set of a ring", "set --h0 3.53 --h1 3.31 --hs 2.65",
		func(*cobra.Command) (any, error) {
			s, err := measure.CompressionSet(h0.known(uH, 0.03), h1.known(uH, 0.03), hs.known(uH, 0.03))
			if err != nil {
				return nil, err
			}
			assumed(&s, uH, "u-h", "each height was taken as ± 0.03 mm")
			return s, nil
		})
	h0 = benchFlag(cmd, "h0", measure.Millimetre, "height when new", true)
	h1 = benchFlag(cmd, "h1", measure.Millimetre, "height now, at rest", true)
	hs = benchFlag(cmd, "hs", measure.Millimetre, "height it was held at", true)
	uH = benchFlag(cmd, "u-h", measure.Millimetre, "standard uncertainty of each height (default ± 0.03 mm / √3)", false)
	return cmd
}

func benchSag() *cobra.Command {
	var sunk, travel, u *benchNumber
	cmd := benchCommand("sag", "Share of the travel that the rider takes", "sag --sunk 32 --travel 160",
		func(*cobra.Command) (any, error) {
			s, err := measure.Sag(sunk.known(u, 2), travel.exact())
			if err != nil {
				return nil, err
			}
			assumed(&s, u, "u", "the ring was taken as ± 2 mm")
			return s, nil
		})
	sunk = benchFlag(cmd, "sunk", measure.Millimetre, "how far the ring moved", true)
	travel = benchFlag(cmd, "travel", measure.Millimetre, "travel of the fork", true)
	u = benchFlag(cmd, "u", measure.Millimetre, "standard uncertainty of the ring (default ± 2 mm / √3)", false)
	return cmd
}

func benchTravel() *cobra.Command {
	var full, each, extended, home, u *benchNumber
	var spacers int
	cmd := benchCommand("travel", "Travel from its spacers, or measured on the tube", "travel --full 180 --spacers 2",
		func(*cobra.Command) (any, error) {
			if full.set {
				step := measure.Exactly(float64(measure.SpacerStep))
				if each.set {
					step = each.exact()
				}
				return benchResult(measure.TravelFromSpacers(full.exact(), spacers, step))
			}
			s, err := measure.TravelFromTube(extended.known(u, 1), home.known(u, 1))
			if err != nil {
				return nil, err
			}
			assumed(&s, u, "u", "the rule was taken as ± 1 mm")
			return s, nil
		})
	full = benchFlag(cmd, "full", measure.Millimetre, "travel without spacers", false)
	cmd.Flags().IntVar(&spacers, "spacers", 0, "number of spacers")
	each = benchFlag(cmd, "each", measure.Millimetre, "what one spacer takes (default 10 mm)", false)
	extended = benchFlag(cmd, "extended", measure.Millimetre, "exposed tube at full extension", false)
	home = benchFlag(cmd, "home", measure.Millimetre, "exposed tube pushed home, air out", false)
	u = benchFlag(cmd, "u", measure.Millimetre, "standard uncertainty of a length (default ± 1 mm / √3)", false)
	cmd.MarkFlagsRequiredTogether("extended", "home")
	cmd.MarkFlagsOneRequired("full", "extended")
	cmd.MarkFlagsMutuallyExclusive("full", "extended")
	return cmd
}

func benchDiameters() *cobra.Command {
	var decide, fresh, uFresh *benchNumber
	var spots []string
	var gauge string
	cmd := benchCommand("diameters", "Least diameter, ovality and taper of a tube",
		"diameters --spot 20:0:34.990 --spot 20:90:34.970 --spot 120:0:35.000 --new 35",
		func(*cobra.Command) (any, error) {
			g, err := benchGauge(gauge)
			if err != nil {
				return nil, err
			}
			at, err := benchSpots(spots)
			if err != nil {
				return nil, err
			}
			difference := 0.02
			if decide.set {
				difference = decide.value
			}
			var was *measure.Known
			if fresh.set {
				k := fresh.known(uFresh, g.Calibration)
				was = &k
			}
			return benchResult(measure.Diameters(at, g, difference, was))
		})
	cmd.Flags().StringArrayVar(&spots, "spot", nil, "HEIGHT:DIRECTION:DIAMETER in mm, degrees, mm; repeat it")
	cmd.Flags().StringVar(&gauge, "gauge", "micrometer", "micrometer or calliper")
	decide = benchFlag(cmd, "decide", measure.Millimetre, "the difference that must be told (default 0.02 mm)", false)
	fresh = benchFlag(cmd, "new", measure.Millimetre, "diameter when new", false)
	uFresh = benchFlag(cmd, "u-new", measure.Millimetre, "standard uncertainty of that (default as the gauge)", false)
	cmd.MarkFlagsOneRequired("spot")
	return cmd
}

func benchGauge(name string) (measure.Gauge, error) {
	switch name {
	case "micrometer":
		return measure.Micrometer(), nil
	case "calliper":
		return measure.Calliper(), nil
	}
	return measure.Gauge{}, fmt.Errorf("the gauge %q is unknown: use micrometer or calliper", name)
}

func benchSpots(texts []string) ([]measure.Spot, error) {
	var spots []measure.Spot
	for _, text := range texts {
		f := strings.Split(text, ":")
		if len(f) != 3 {
			return nil, fmt.Errorf("--spot %q can't be read: write HEIGHT:DIRECTION:DIAMETER, such as 20:90:34.985", text)
		}
		var x [3]float64
		for i, unit := range []measure.Unit{measure.Millimetre, measure.Degree, measure.Millimetre} {
			q, err := measure.Parse(f[i], unit)
			if err != nil {
				return nil, fmt.Errorf("--spot %q: %w", text, err)
			}
			x[i] = q.Value
		}
		spots = append(spots, measure.Spot{Height: x[0], Direction: x[1], Diameter: x[2]})
	}
	return spots, nil
}

func benchRunOut() *cobra.Command {
	var swing, u *benchNumber
	cmd := benchCommand("runout", "Bow of a loose tube from its run-out", "runout --swing 0.08",
		func(*cobra.Command) (any, error) {
			s, err := measure.RunOutBow(swing.known(u, 0.02))
			if err != nil {
				return nil, err
			}
			assumed(&s, u, "u", "the dial gauge was taken as ± 0.02 mm")
			return s, nil
		})
	swing = benchFlag(cmd, "swing", measure.Millimetre, "full swing of the dial gauge in one turn", true)
	u = benchFlag(cmd, "u", measure.Millimetre, "standard uncertainty of the swing (default ± 0.02 mm / √3)", false)
	return cmd
}

func benchParallel() *cobra.Command {
	var crown, end, u *benchNumber
	cmd := benchCommand("parallel", "How far two tubes run apart", "parallel --crown 130.0 --end 130.2",
		func(*cobra.Command) (any, error) {
			s, err := measure.Parallelism(crown.known(u, 0.05), end.known(u, 0.05))
			if err != nil {
				return nil, err
			}
			assumed(&s, u, "u", "the calliper was taken as ± 0.05 mm")
			return s, nil
		})
	crown = benchFlag(cmd, "crown", measure.Millimetre, "between the tubes at the crown", true)
	end = benchFlag(cmd, "end", measure.Millimetre, "between the tubes at their ends", true)
	u = benchFlag(cmd, "u", measure.Millimetre, "standard uncertainty of each (default ± 0.05 mm / √3)", false)
	return cmd
}

func benchRust() *cobra.Command {
	var area, whole, u *benchNumber
	var rule string
	cmd := benchCommand("rust", "ISO 4628-3 grade of a rusted area", "rust --area 12 --whole 2500",
		func(*cobra.Command) (any, error) {
			r := measure.UpperLimit
			if rule != "upper" {
				if r = measure.NearestLog; rule != "nearest" {
					return nil, fmt.Errorf("the rule %q is unknown: use upper or nearest", rule)
				}
			}
			return benchResult(measure.Rust(area.known(u, 0), whole.exact(), r))
		})
	area = benchFlag(cmd, "area", measure.SquareMM, "rusted area", true)
	whole = benchFlag(cmd, "whole", measure.SquareMM, "area looked at", true)
	u = benchFlag(cmd, "u", measure.SquareMM, "standard uncertainty of the rusted area (default 0)", false)
	cmd.Flags().StringVar(&rule, "rule", "upper", "upper: the picture that shows as much or more; nearest: on a log scale")
	return cmd
}

// benchResult keeps a nil result out of an interface when there is an error.
func benchResult[T any](result T, err error) (any, error) {
	if err != nil {
		return nil, err
	}
	return result, nil
}
