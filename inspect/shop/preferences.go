package shop

import (
	"context"
	"fmt"
	"math"
	"strconv"
	"strings"

	"forkwear/inspect"
	"forkwear/inspect/verdict"
)

// Keys of the shop's own choices in the library.
const (
	KeyName     = "shop.name"
	KeyCurrency = "shop.currency"
	KeyZone     = "shop.zone"   // an IANA time zone; "" is the computer's own
	KeyPeople   = "shop.people" // names, one a line
	KeyPIN      = "shop.pin"
)

// RuleKey is one threshold of verdict.Rules as a choice of the shop.
type RuleKey struct {
	Key   string
	Name  string
	Share bool // 0..1, else a whole number; Minor: of minor units
	Minor bool
	at    func(r *verdict.Rules) (share *float64, minor *int64, count *int)
}

// RuleKeys lists the thresholds in the order in which they are shown.
func RuleKeys() []RuleKey {
	share := func(f func(*verdict.Rules) *float64) func(*verdict.Rules) (*float64, *int64, *int) {
		return func(r *verdict.Rules) (*float64, *int64, *int) { return f(r), nil, nil }
	}
	minor := func(f func(*verdict.Rules) *int64) func(*verdict.Rules) (*float64, *int64, *int) {
		return func(r *verdict.Rules) (*float64, *int64, *int) { return nil, f(r), nil }
	}
	return []RuleKey{
		{"rules.sure", "Chance from which a limit counts as passed", true, false, share(func(r *verdict.Rules) *float64 { return &r.Sure })},
		{"rules.threshold", "Greatest chance that a part does not last to its next visit", true, false, share(func(r *verdict.Rules) *float64 { return &r.Threshold })},
		{"rules.safety_limit", "The same for safety parts", true, false, share(func(r *verdict.Rules) *float64 { return &r.SafetyLimit })},
		{"rules.worth_asking", "Least chance that measuring again changes the verdict", true, false, share(func(r *verdict.Rules) *float64 { return &r.WorthAsking })},
		{"rules.repeats_asked", "Repeats that 'measure again' asks for", false, false, func(r *verdict.Rules) (*float64, *int64, *int) { return nil, nil, &r.RepeatsAsked }},
		{"rules.not_worth", "Below this price a part is not worth measuring", false, true, minor(func(r *verdict.Rules) *int64 { return &r.NotWorth })},
		{"rules.reopen_cost", "What it costs to open the fork again", false, true, minor(func(r *verdict.Rules) *int64 { return &r.ReopenCost })},
		{"rules.minute_rate", "A minute of labour", false, true, minor(func(r *verdict.Rules) *int64 { return &r.MinuteRate })},
	}
}

// Put reads one choice into r: a share in 0..1 ("0.2"), a whole number of
// repeats 1..20, or whole minor units from 0. The empty text leaves the default.
func (k RuleKey) Put(r *verdict.Rules, text string) error {
	if text = strings.TrimSpace(text); text == "" {
		return nil
	}
	share, minor, count := k.at(r)
	if share != nil {
		x, err := strconv.ParseFloat(text, 64)
		if err != nil || math.IsNaN(x) || x <= 0 || x >= 1 {
			return inspect.Refuse(inspect.Invalid, "%s: %q is not between 0 and 1", k.Name, text)
		}
		*share = x
		return nil
	}
	n, err := strconv.ParseInt(text, 10, 64)
	switch {
	case err != nil:
		return inspect.Refuse(inspect.Invalid, "%s: %q is not a whole number", k.Name, text)
	case minor != nil && (n < 0 || n > 1e9):
		return inspect.Refuse(inspect.Invalid, "%s: %d is not an amount from 0 to 10 000 000.00", k.Name, n)
	case count != nil && (n < 1 || n > 20):
		return inspect.Refuse(inspect.Invalid, "%s: %d is not one of 1 to 20", k.Name, n)
	}
	if minor != nil {
		*minor = n
	} else {
		*count = int(n)
	}
	return nil
}

// Get writes what r holds as Put reads it.
func (k RuleKey) Get(r verdict.Rules) string {
	share, minor, count := k.at(&r)
	switch {
	case share != nil:
		return strconv.FormatFloat(*share, 'g', -1, 64)
	case minor != nil:
		return strconv.FormatInt(*minor, 10)
	}
	return strconv.Itoa(*count)
}

// DefaultRules are the thresholds in force while the shop has not chosen: 0.95
// is the default of ISO 14253-1, the others are common practice without source.
func DefaultRules() verdict.Rules {
	return verdict.Rules{Sure: 0.95, Threshold: 0.20, SafetyLimit: 0.05, WorthAsking: 0.10, RepeatsAsked: 3}
}

// RulesFrom reads the thresholds out of preferences. A value that can't be read
// leaves its default and is told in the error; the rules are usable either way.
func RulesFrom(preferences map[string]string) (verdict.Rules, error) {
	r := DefaultRules()
	var bad []string
	for _, k := range RuleKeys() {
		if err := k.Put(&r, preferences[k.Key]); err != nil {
			bad = append(bad, err.Error())
		}
	}
	if bad != nil {
		return r, inspect.Refuse(inspect.Invalid, "%s. The default counts until it is typed again in the settings", strings.Join(bad, "; "))
	}
	return r, nil
}

// Rules loads the thresholds of this library; errors as RulesFrom.
func (d *Desk) Rules(ctx context.Context) (verdict.Rules, error) {
	got := map[string]string{}
	for _, k := range RuleKeys() {
		v, err := d.Lib.Preference(ctx, k.Key)
		if err != nil {
			return DefaultRules(), fmt.Errorf("the thresholds can't be read: %w", err)
		}
		got[k.Key] = v
	}
	return RulesFrom(got)
}
