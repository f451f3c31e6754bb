package shop

import (
	"context"
	"fmt"
	"math"
	"strconv"
	"strings"

	"forkwear/inspect"
	"forkwear/inspect/catalog"
)

// soldNothing is the catalog's kit of settings: nothing goes over the counter.
const soldNothing = "nothing_sold"

// most bounds one price, in minor units, so that no sum runs over.
const most = 1e9

// PriceKind is what a price is asked for.
type PriceKind string

// The kinds of prices that a shop sets.
const (
	OfKit     PriceKind = "price.kit."   // minor units for one kit, assembly or part
	OfJob     PriceKind = "price.job."   // minor units for the work, whatever time it takes
	OfMinutes PriceKind = "minutes.job." // planned minutes of the work
)

// PriceKey is one price that the shop may set; Key is its preference.
type PriceKey struct {
	Key   string
	Kind  PriceKind
	ID    string // kit or job
	Name  string
	Sold  string // of a kit: "kit", "assembly", "part"
	Usual int64  // what counts while nothing is set: 0 not known; minutes of a job
}

// PriceKeys lists what can be priced, in catalog order: kits, then each job
// with its price and its minutes.
func PriceKeys(cat *catalog.Catalog) []PriceKey {
	var out []PriceKey
	for _, k := range cat.Kits {
		if k.ID != soldNothing {
			out = append(out, PriceKey{Key: string(OfKit) + k.ID, Kind: OfKit, ID: k.ID, Name: k.Name, Sold: k.Kind, Usual: k.Price})
		}
	}
	for _, j := range cat.Jobs {
		out = append(out, PriceKey{Key: string(OfJob) + j.ID, Kind: OfJob, ID: j.ID, Name: j.Name},
			PriceKey{Key: string(OfMinutes) + j.ID, Kind: OfMinutes, ID: j.ID, Name: j.Name, Usual: int64(j.Minutes)})
	}
	return out
}

// Read reads a kept price: "" is not set, else whole minor units from 0, or
// minutes from 0 to a day.
func (k PriceKey) Read(text string) (n int64, set bool, err error) {
	if text = strings.TrimSpace(text); text == "" {
		return 0, false, nil
	}
	n, err = strconv.ParseInt(text, 10, 64)
	switch {
	case err != nil:
		return 0, false, inspect.Refuse(inspect.Invalid, "%s: %q is not a whole number", k.Name, text)
	case k.Kind == OfMinutes && (n < 0 || n > 24*60):
		return 0, false, inspect.Refuse(inspect.Invalid, "%s: %d minutes are not between 0 and a day", k.Name, n)
	case n < 0 || n > most:
		return 0, false, inspect.Refuse(inspect.Invalid, "%s: %d is not an amount from 0 to 10 000 000.00", k.Name, n)
	}
	return n, true, nil
}

// Prices is what the shop takes. The zero value knows no price and no minutes.
type Prices struct {
	Currency   string
	MinuteRate int64 // minor units for a minute of work, 0 not set

	kits, jobs map[string]int64
	minutes    map[string]int
}

// Prices loads what the shop has set. A price that can't be read counts as not
// set and is told in the error; the others are usable either way.
func (d *Desk) Prices(ctx context.Context) (Prices, error) {
	got := map[string]string{}
	keys := []string{KeyCurrency, keyMinuteRate}
	for _, k := range PriceKeys(d.Catalog) {
		keys = append(keys, k.Key)
	}
	for _, key := range keys {
		v, err := d.Lib.Preference(ctx, key)
		if err != nil {
			return Prices{}, fmt.Errorf("the prices can't be read: %w", err)
		}
		got[key] = v
	}
	return PricesFrom(d.Catalog, got)
}

const keyMinuteRate = "rules.minute_rate"

// PricesFrom reads the prices out of preferences; errors as Prices.
func PricesFrom(cat *catalog.Catalog, preferences map[string]string) (Prices, error) {
	p := Prices{Currency: preferences[KeyCurrency], kits: map[string]int64{soldNothing: 0}, jobs: map[string]int64{}, minutes: map[string]int{}}
	var bad []string
	for _, k := range PriceKeys(cat) {
		n, set, err := k.Read(preferences[k.Key])
		if err != nil {
			bad = append(bad, err.Error())
		}
		switch {
		case k.Kind == OfMinutes && set:
			p.minutes[k.ID] = int(n)
		case k.Kind == OfMinutes:
			p.minutes[k.ID] = int(k.Usual)
		case k.Kind == OfKit && set:
			p.kits[k.ID] = n
		case k.Kind == OfKit && k.Usual > 0:
			p.kits[k.ID] = k.Usual
		case k.Kind == OfJob && set:
			p.jobs[k.ID] = n
		}
	}
	if text := strings.TrimSpace(preferences[keyMinuteRate]); text != "" {
		n, err := strconv.ParseInt(text, 10, 64)
		if err != nil || n < 0 || n > most {
			bad = append(bad, fmt.Sprintf("a minute of labour: %q is not an amount from 0", text))
		} else {
			p.MinuteRate = n
		}
	}
	if bad != nil {
		return p, inspect.Refuse(inspect.Invalid, "%s. It counts as not set until it is typed again in the settings", strings.Join(bad, "; "))
	}
	return p, nil
}

// OfKit is the price of one kit, assembly or part in minor units; ok is false
// where none is set.
func (p Prices) OfKit(id string) (minor int64, ok bool) {
	minor, ok = p.kits[id]
	return minor, ok
}

// OfJob is the price of the work of a job in minor units: the shop's own for
// the job, else minutes times the rate; ok is false where neither is set.
func (p Prices) OfJob(id string) (minor int64, ok bool) {
	if minor, ok = p.jobs[id]; ok {
		return minor, true
	}
	m, known := p.minutes[id]
	if !known || p.MinuteRate <= 0 {
		return 0, false
	}
	return p.MinuteRate * int64(m), true
}

// Minutes are the planned minutes of a job, 0 where it is not known.
func (p Prices) Minutes(job string) int { return p.minutes[job] }

// Amount is a sum of prices. Unknown counts what has no price: the money is
// then the least that it comes to.
type Amount struct {
	Money   inspect.Money
	Unknown int
	Minutes int
}

// Known reports that every price of the sum is set.
func (a Amount) Known() bool { return a.Unknown == 0 }

func (a *Amount) add(minor int64, known bool) {
	if !known {
		a.Unknown++
		return
	}
	if a.Money.Minor > math.MaxInt64-minor {
		a.Money.Minor = math.MaxInt64
		return
	}
	a.Money.Minor += minor
}

// priceOf is what the rules reckon with for one part: its kit and the minutes
// of its job; 0 where nothing is set.
func (d *Desk) priceOf(c *Case, part catalog.Part, p Prices) (minor int64, minutes int) {
	k, _ := d.Catalog.Kit(part.SoldAsFor(c.Sheet))
	minor, _ = p.OfKit(k.ID)
	return minor, p.Minutes(k.Job)
}
