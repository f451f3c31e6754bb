package measure

// SpacerStep is what one travel spacer takes by default: 10 mm (common practice,
// no source: 180 mm with two is 160 mm). Other forks change travel by the shaft.
const SpacerStep Length = 10

// TravelFromSpacers is the travel left of the full travel with n spacers of a
// given thickness each: travel = full - n·each, mm. It fails when nothing is left.
func TravelFromSpacers(full Known, n int, each Known) (Sum, error) {
	if err := need(named{"the full travel in mm", full.Value}, named{"the spacer in mm", each.Value}); err != nil {
		return Sum{}, err
	}
	if n < 0 || n > 100 {
		return Sum{}, refuse("%d spacers can't be right: give 0 or a few", n)
	}
	if full.Value-float64(n)*each.Value <= 0 {
		return Sum{}, refuse("%d spacers of %g mm leave nothing of %g mm: check the numbers", n, each.Value, full.Value)
	}
	inputs := []Input{full.input("full travel", Millimetre), each.input("each spacer", Millimetre)}
	s, err := work(Millimetre, "travel = full - n·each", inputs, func(x []float64) float64 { return x[0] - float64(n)*x[1] })
	if err != nil {
		return Sum{}, err
	}
	s.Inputs = append(s.Inputs, Input{Name: "spacers", Value: float64(n), Unit: string(Pure)})
	return s, nil
}

// TravelFromTube is the travel measured on the tube: exposed at full extension
// less exposed when pushed home with the air out, mm.
func TravelFromTube(extended, home Known) (Sum, error) {
	if err := need(named{"the exposed tube at full extension in mm", extended.Value}); err != nil {
		return Sum{}, err
	}
	if !finite(home.Value) || home.Value < 0 || home.Value >= extended.Value {
		return Sum{}, refuse("the exposed tube pushed home (%v mm) is not between 0 and that at full extension (%g mm)", home.Value, extended.Value)
	}
	return work(Millimetre, "travel = extended - home", []Input{extended.input("extended", Millimetre), home.input("home", Millimetre)},
		func(x []float64) float64 { return x[0] - x[1] })
}

// Sag is the share of the travel that the rider takes, in percent:
// sag = 100 sunk/travel, mm. 0 <= sunk <= travel.
func Sag(sunk, travel Known) (Sum, error) {
	if err := need(named{"the travel in mm", travel.Value}); err != nil {
		return Sum{}, err
	}
	if !finite(sunk.Value) || sunk.Value < 0 || sunk.Value > travel.Value {
		return Sum{}, refuse("the sag %v mm is not between 0 and the travel of %g mm", sunk.Value, travel.Value)
	}
	s, err := work(Percent, "sag = 100·sunk/travel", []Input{sunk.input("sunk", Millimetre), travel.input("travel", Millimetre)},
		func(x []float64) float64 { return 100 * x[0] / x[1] })
	if err != nil {
		return Sum{}, err
	}
	s.floor(0)
	s.remark("common practice, no source: 15 to 20 % for trail riding, 20 to 30 % for steep ground; advice, no limit")
	return s, nil
}
