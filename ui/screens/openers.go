package screens

import (
	"forkwear/ui/place"
	"forkwear/ui/screens/bench"
	"forkwear/ui/screens/compare"
	"forkwear/ui/screens/counter"
	"forkwear/ui/screens/decide"
	"forkwear/ui/screens/dropoff"
	"forkwear/ui/screens/due"
	"forkwear/ui/screens/forklife"
	"forkwear/ui/screens/forks"
	"forkwear/ui/screens/handback"
	"forkwear/ui/screens/inspection"
	"forkwear/ui/screens/measure"
	"forkwear/ui/screens/patterns"
	"forkwear/ui/screens/service"
	"forkwear/ui/screens/settings"
	"forkwear/ui/screens/sums"
	"forkwear/ui/screens/tray"
	"forkwear/ui/window"
)

// Openers gives the screen of every place.
func Openers() map[place.Name]window.Opener {
	return map[place.Name]window.Opener{
		place.Bench:    bench.New,
		place.Forks:    forks.New,
		place.Due:      due.New,
		place.Patterns: patterns.New,
		place.Sums:     sums.New,
		place.Settings: settings.New,
		place.Tray:     tray.New,
		place.DropOff:  dropoff.New,
		place.Inspect:  inspection.New,
		place.Decide:   decide.New,
		place.Counter:  counter.New,
		place.Service:  service.New,
		place.HandBack: handback.New,
		place.ForkLife: forklife.New,
		place.Compare:  compare.New,
		place.Measure:  measure.New,
	}
}
