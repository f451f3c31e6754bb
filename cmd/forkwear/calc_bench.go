package main

import (
	"fmt"

	"github.com/spf13/cobra"

	"forkwear/inspect/measure"
)

// benchSumCommands are the bench sums of `forkwear calc`: one calculation each,
// flags in, a table or JSON out. Numbers may carry their unit ("45psi", "70cc").
func benchSumCommands() []*cobra.Command {
	return []*cobra.Command{
		benchHold(), benchPlay(), benchFluid(), benchSet(), benchConform(), benchFit(),
		benchSag(), benchTravel(), benchDiameters(), benchRunOut(), benchParallel(), benchRust(),
	}
}

// benchCommand makes a command whose run gives a value that benchPrint can show.
func benchCommand(use, short, example string, run func(cmd *cobra.Command) (any, error)) *cobra.Command {
	var asJSON bool
	cmd := &cobra.Command{
		Use: use, Short: short, Example: "  forkwear calc " + example, Args: cobra.NoArgs,
		RunE: func(cmd *cobra.Command, _ []string) error {
			result, err := run(cmd)
			if err != nil {
				return err
			}
			return benchPrint(cmd.OutOrStdout(), result, asJSON)
		},
	}
	cmd.Flags().BoolVar(&asJSON, "json", false, "write JSON")
	return cmd
}

// benchNumber is a flag that takes a number with or without its unit.
type benchNumber struct {
	unit  measure.Unit
	value float64
	set   bool
}

func (n *benchNumber) String() string {
	if n == nil || !n.set {
		return ""
	}
	return measure.Quantity{Value: n.value, Unit: n.unit}.String()
}

// Set reads what was typed after the flag.
func (n *benchNumber) Set(text string) error {
	q, err := measure.Parse(text, n.unit)
	if err != nil {
		return err
	}
	n.value, n.set = q.Value, true
	return nil
}

// Type names the unit in the help.
func (n *benchNumber) Type() string {
	if n.unit == measure.Pure {
		return "number"
	}
	return string(n.unit)
}

// benchFlag adds a number flag; required ones are refused when missing.
func benchFlag(cmd *cobra.Command, name string, unit measure.Unit, usage string, required bool) *benchNumber {
	n := &benchNumber{unit: unit}
	cmd.Flags().Var(n, name, usage)
	if required {
		if err := cmd.MarkFlagRequired(name); err != nil {
			panic(err) // the flag was added one line above: only a slip in this file gets here
		}
	}
	return n
}

// known joins a value with its u flag; without the flag, the usual half-width of
// the instrument stands in (0: taken as exact).
func (n *benchNumber) known(u *benchNumber, half float64) measure.Known {
	if u.set {
		return measure.Known{Value: n.value, U: u.value}
	}
	return measure.Within(n.value, half)
}

// exact takes the value without uncertainty.
func (n *benchNumber) exact() measure.Known { return measure.Exactly(n.value) }

// limit is the value, nil where the flag wasn't given.
func (n *benchNumber) limit() *float64 {
	if !n.set {
		return nil
	}
	return &n.value
}

// assumed says which usual limits of error stood in for a missing u flag.
func assumed(s *measure.Sum, u *benchNumber, flag, what string) {
	if !u.set {
		s.Remarks = append(s.Remarks, fmt.Sprintf("%s (common practice); --%s gives your own standard uncertainty", what, flag))
	}
}

func benchHold() *cobra.Command {
	var p1, t1, p2, t2, hours, altitude, altitude2, patm, patm2, volume, hose, uP, uT *benchNumber
	cmd := benchCommand("hold", "Air lost per 24 h from two pressures",
		"hold --p1 6.2 --t1 21 --p2 5.9 --t2 14 --hours 16 --altitude 520",
		func(*cobra.Command) (any, error) {
			atm1, err := benchAir(patm, altitude, 0)
			if err != nil {
				return nil, err
			}
			atm2, err := benchAir(patm2, altitude2, atm1)
			if err != nil {
				return nil, err
			}
			r, err := measure.Hold{P1: p1.known(uP, 0.1), P2: p2.known(uP, 0.1), T1: t1.known(uT, 0), T2: t2.known(uT, 0),
				Hours: hours.exact(), Atm1: atm1, Atm2: atm2, Chamber: volume.exact(), Hose: hose.exact()}.Run()
			if err != nil {
				return nil, err
			}
			assumed(&r.Sum, uP, "u-p", "the gauge was taken as ± 0.1 bar")
			return r, nil
		})
	p1 = benchFlag(cmd, "p1", measure.Bar, "pressure at the start", true)
	t1 = benchFlag(cmd, "t1", measure.Celsius, "temperature of the fork at the start", true)
	p2 = benchFlag(cmd, "p2", measure.Bar, "pressure after the wait, as the pump shows it", true)
	t2 = benchFlag(cmd, "t2", measure.Celsius, "temperature of the fork after the wait", true)
	hours = benchFlag(cmd, "hours", measure.Hour, "the wait", true)
	altitude = benchFlag(cmd, "altitude", measure.Metre, "height above the sea (default 0)", false)
	altitude2 = benchFlag(cmd, "altitude2", measure.Metre, "height at the second reading, if the fork travelled", false)
	patm = benchFlag(cmd, "patm", measure.BarAbs, "pressure of the air instead of the altitude", false)
	patm2 = benchFlag(cmd, "patm2", measure.BarAbs, "pressure of the air at the second reading", false)
	volume = benchFlag(cmd, "volume", measure.Millilitre, "volume of the chamber, to reckon with the pump hose", false)
	hose = benchFlag(cmd, "hose", measure.Millilitre, "volume of pump hose and gauge", false)
	uP = benchFlag(cmd, "u-p", measure.Bar, "standard uncertainty of each pressure (default ± 0.1 bar / √3)", false)
	uT = benchFlag(cmd, "u-t", measure.Pure, "standard uncertainty of each temperature in °C (default 0)", false)
	cmd.MarkFlagsMutuallyExclusive("altitude", "patm")
	cmd.MarkFlagsMutuallyExclusive("altitude2", "patm2")
	cmd.MarkFlagsRequiredTogether("volume", "hose")
	return cmd
}

// benchAir is the pressure of the air from either flag, or the one given.
func benchAir(patm, altitude *benchNumber, otherwise measure.AbsoluteBar) (measure.AbsoluteBar, error) {
	switch {
	case patm.set && patm.value <= 0:
		return 0, fmt.Errorf("the pressure of the air is %g bar: give one above 0, such as 1.013", patm.value)
	case patm.set:
		return measure.AbsoluteBar(patm.value), nil
	case altitude.set:
		return measure.AtmosphereAt(altitude.value)
	}
	return otherwise, nil
}

func benchPlay() *cobra.Command {
	var rock, rock2, distance, span, bore, shaft, uRock, uBore, uShaft *benchNumber
	cmd := benchCommand("play", "Bushing clearance from rock, or from bore and shaft",
		"play --rock 0.60 --rock2 0.90 --distance 250 --span 130",
		func(*cobra.Command) (any, error) {
			if bore.set {
				s, err := measure.BoreClearance(bore.known(uBore, 0.02), shaft.known(uShaft, 0.004))
				if err != nil {
					return nil, err
				}
				assumed(&s, uBore, "u-bore", "the bore gauge was taken as ± 0.02 mm")
				assumed(&s, uShaft, "u-shaft", "the micrometer was taken as ± 0.004 mm")
				return s, nil
			}
			r := measure.Rock{AtForce: rock.known(uRock, 0.1), Distance: distance.exact(), Span: span.exact()}
			if rock2.set {
				double := rock2.known(uRock, 0.1)
				r.AtDoubleForce = &double
			}
			s, err := r.Clearance()
			if err != nil {
				return nil, err
			}
			assumed(&s, uRock, "u-rock", "the rock was taken as ± 0.1 mm")
			return s, nil
		})
	rock = benchFlag(cmd, "rock", measure.Millimetre, "full swing at force F", false)
	rock2 = benchFlag(cmd, "rock2", measure.Millimetre, "full swing at 2F, to take the bending out", false)
	distance = benchFlag(cmd, "distance", measure.Millimetre, "middle of the bushings to the gauge", false)
	span = benchFlag(cmd, "span", measure.Millimetre, "between the outer edges of the bushings", false)
	bore = benchFlag(cmd, "bore", measure.Millimetre, "bore of the bushing", false)
	shaft = benchFlag(cmd, "shaft", measure.Millimetre, "outside diameter of the tube", false)
	uRock = benchFlag(cmd, "u-rock", measure.Millimetre, "standard uncertainty of a rock (default ± 0.1 mm / √3)", false)
	uBore = benchFlag(cmd, "u-bore", measure.Millimetre, "standard uncertainty of the bore (default ± 0.02 mm / √3)", false)
	uShaft = benchFlag(cmd, "u-shaft", measure.Millimetre, "standard uncertainty of the shaft (default ± 0.004 mm / √3)", false)
	cmd.MarkFlagsRequiredTogether("rock", "distance", "span")
	cmd.MarkFlagsRequiredTogether("bore", "shaft")
	cmd.MarkFlagsOneRequired("rock", "bore")
	cmd.MarkFlagsMutuallyExclusive("rock", "bore")
	cmd.MarkFlagsMutuallyExclusive("rock2", "bore")
	return cmd
}

func benchConform() *cobra.Command {
	var value, u, lower, upper, level *benchNumber
	cmd := benchCommand("conform", "Chance to be within limits, and what that proves",
		"conform --value 34.975 --u 0.004 --lower 34.97",
		func(*cobra.Command) (any, error) {
			at := measure.DefaultLevel
			if level.set {
				at = level.value
			}
			c, err := measure.Conform(value.value, u.value, lower.limit(), upper.limit(), at)
			if err != nil {
				return nil, err
			}
			return c, nil
		})
	value = benchFlag(cmd, "value", measure.Pure, "measured value", true)
	u = benchFlag(cmd, "u", measure.Pure, "its standard uncertainty", true)
	lower = benchFlag(cmd, "lower", measure.Pure, "lower limit", false)
	upper = benchFlag(cmd, "upper", measure.Pure, "upper limit", false)
	level = benchFlag(cmd, "level", measure.Pure, "probability that proves it (default 0.95)", false)
	cmd.MarkFlagsOneRequired("lower", "upper")
	return cmd
}

func benchFit() *cobra.Command {
	var size *benchNumber
	var hole, shaft string
	cmd := benchCommand("fit", "Limits and play of an ISO 286 fit", "fit --size 40 --hole H7 --shaft f7",
		func(*cobra.Command) (any, error) {
			f, err := measure.Fit(size.value, hole, shaft)
			if err != nil {
				return nil, err
			}
			return f, nil
		})
	size = benchFlag(cmd, "size", measure.Millimetre, "nominal size", true)
	cmd.Flags().StringVar(&hole, "hole", "", "class of the hole, such as H7")
	cmd.Flags().StringVar(&shaft, "shaft", "", "class of the shaft, such as f7")
	cmd.MarkFlagsOneRequired("hole", "shaft")
	return cmd
}
