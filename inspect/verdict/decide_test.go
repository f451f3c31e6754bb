package verdict

import (
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"forkwear/inspect"
	"forkwear/inspect/catalog"
)

func graded(limit float64, remedy string) catalog.Check {
	return catalog.Check{ID: "g", Name: "Grade", Kind: catalog.Grade, Grows: catalog.ByHours, LimitGrade: limit, Remedy: remedy, Fails: "Worn.", Life: 500}
}

func numeric(remedy string) catalog.Check {
	return catalog.Check{ID: "n", Name: "Number", Kind: catalog.Number, Grows: catalog.ByHours, Remedy: remedy, Fails: "Worn.", Instruments: []string{"gauge"}}
}

func fine(remedy string) catalog.Check {
	return catalog.Check{ID: "f", Name: "Fine", Kind: catalog.Fine, Grows: catalog.Sudden, Remedy: remedy, Fails: "Broken."}
}

func found(k catalog.Check, a inspect.Answer, v float64, w *Wear) Finding {
	return Finding{Check: k, Required: true, Reading: &inspect.Reading{ID: "r", Answer: a, Value: v, Check: k.ID}, IDs: []inspect.ID{"r"}, Wear: w}
}

func with(k catalog.Check, f func(*catalog.Check)) catalog.Check { f(&k); return k }

func decided(a inspect.Assessment) inspect.Reason {
	n, out := 0, inspect.Reason{}
	for _, r := range a.Reasons {
		if r.Decide {
			n, out = n+1, r
		}
	}
	if n != 1 {
		return inspect.Reason{Rule: -n}
	}
	return out
}

func num(x float64) *float64 { return &x }

// Domain 3: a departure is a told reason and moves no verdict.
func TestFasterIsTold(t *testing.T) {
	f := found(graded(3, "replace"), inspect.Graded, 2, &Wear{PThen: 0.1, POver: 0})
	plain := Decide(Input{Opened: true, Findings: []Finding{f}}, Rules{})
	f.Faster = "z = 3"
	told := Decide(Input{Opened: true, Findings: []Finding{f}}, Rules{})
	if told.Verdict != plain.Verdict || told.Remedy != plain.Remedy || decided(told) != decided(plain) {
		t.Errorf("the verdict moved: %+v, was %+v", told, plain)
	}
	want := inspect.Reason{Rule: 8, Check: "g", Plain: "Wearing faster than before.", Why: "z = 3"}
	if len(told.Reasons) != len(plain.Reasons)+1 || told.Reasons[0] != want {
		t.Errorf("reasons %+v, want %+v first and the old ones after it", told.Reasons, want)
	}
}

// The rules of the domain, section 4, one by one.
func TestRules(t *testing.T) {
	dnr := func(k *catalog.Check) { k.DoNotRide = true }
	safety := func(k *catalog.Check) { k.Safety = true }
	sudden := func(k *catalog.Check) { k.Grows = catalog.Sudden }
	measured := func(k catalog.Check, w Wear) Finding {
		f := found(k, inspect.Measured, 1, &w)
		f.New, f.Limit = num(0), num(1)
		return f
	}
	doubt := found(with(fine("renew_assembly"), dnr), inspect.NotFine, 0, nil)
	doubt.Doubt = true
	optional := Finding{Check: fine("replace")}
	gauge := []catalog.Instrument{{ID: "gauge", Name: "Gauge", Resolution: 0.01}}
	type want struct {
		v      inspect.Verdict
		rule   int
		remedy string
		ride   bool // do not ride
	}
	for name, tc := range map[string]struct {
		in   Input
		want want
	}{
		"1 replace":                  {Input{Findings: []Finding{found(with(fine("renew_assembly"), dnr), inspect.NotFine, 0, nil)}}, want{inspect.Replace, 1, "renew_assembly", true}},
		"1 rework":                   {Input{Findings: []Finding{found(with(fine("rework"), dnr), inspect.NotFine, 0, nil)}}, want{inspect.Replace, 1, "rework", true}},
		"1 cleared":                  {Input{Findings: []Finding{found(with(fine("rework"), dnr), inspect.Fine, 0, nil)}}, want{inspect.Reuse, 8, "nothing", false}},
		"1 doubt":                    {Input{Findings: []Finding{doubt}}, want{inspect.Measure, 1, "look", true}},
		"1 before 3":                 {Input{Findings: []Finding{found(graded(3, "replace"), inspect.Graded, 4, nil), found(with(fine("replace"), dnr), inspect.NotFine, 0, nil)}}, want{inspect.Replace, 1, "replace", true}},
		"1 measured":                 {Input{Findings: []Finding{measured(with(numeric("replace"), dnr), Wear{Used: 2, U: 0.1, POver: 1})}}, want{inspect.Replace, 1, "replace", true}},
		"2 bleed is no replacement":  {Input{Findings: []Finding{found(fine("bleed"), inspect.NotFine, 0, nil)}}, want{inspect.Reuse, 2, "bleed", false}},
		"2 kit":                      {Input{Findings: []Finding{found(fine("renew_kit"), inspect.NotFine, 0, nil)}}, want{inspect.Replace, 2, "renew_kit", false}},
		"2 look":                     {Input{Findings: []Finding{found(fine("look"), inspect.NotFine, 0, nil)}}, want{inspect.Measure, 2, "look", false}},
		"2 sudden grade":             {Input{Findings: []Finding{found(with(graded(3, "renew_kit"), sudden), inspect.Graded, 3, nil)}}, want{inspect.Replace, 2, "renew_kit", false}},
		"3 grade at its limit":       {Input{Findings: []Finding{found(graded(3, "replace"), inspect.Graded, 3, nil)}}, want{inspect.Replace, 3, "replace", false}},
		"3 grade below":              {Input{Findings: []Finding{found(graded(3, "replace"), inspect.Graded, 2.5, nil)}}, want{inspect.Reuse, 8, "nothing", false}},
		"3 number over":              {Input{Findings: []Finding{measured(numeric("replace"), Wear{Used: 1.2, U: 0.1, POver: 0.977})}}, want{inspect.Replace, 3, "replace", false}},
		"3 clean":                    {Input{Findings: []Finding{measured(numeric("clean"), Wear{Used: 1.2, U: 0.1, POver: 0.977})}}, want{inspect.Reuse, 3, "clean", false}},
		"3 before 4":                 {Input{Renewed: true, Findings: []Finding{found(graded(3, "replace"), inspect.Graded, 3, nil)}}, want{inspect.Replace, 3, "replace", false}},
		"4 renewed at this level":    {Input{Renewed: true}, want{inspect.Replace, 4, "renew_kit", false}},
		"4 by years":                 {Input{DueYears: "older than five years"}, want{inspect.Replace, 4, "renew_kit", false}},
		"5 above 0.20":               {Input{Findings: []Finding{found(graded(3, "replace"), inspect.Graded, 2, &Wear{PThen: 0.21})}}, want{inspect.Replace, 5, "replace", false}},
		"5 below 0.20":               {Input{Findings: []Finding{found(graded(3, "replace"), inspect.Graded, 2, &Wear{PThen: 0.19})}}, want{inspect.Reuse, 8, "nothing", false}},
		"5 safety above 0.05":        {Input{Findings: []Finding{found(with(graded(3, "replace"), safety), inspect.Graded, 2, &Wear{PThen: 0.06})}}, want{inspect.Replace, 5, "replace", false}},
		"5 safety part":              {Input{Part: catalog.Part{Safety: true}, Findings: []Finding{found(graded(3, "replace"), inspect.Graded, 2, &Wear{PThen: 0.06})}}, want{inspect.Replace, 5, "replace", false}},
		"5 not for sudden damage":    {Input{Findings: []Finding{measured(with(numeric("replace"), sudden), Wear{Used: 0.9, U: 0.1, POver: 0.3, PThen: 0.3})}}, want{inspect.Reuse, 6, "nothing", false}},
		"5 a forecast alone is none": {Input{Findings: []Finding{{Check: graded(3, "replace"), Wear: &Wear{PThen: 0.9}}}}, want{inspect.Reuse, 8, "nothing", false}},
		"5 zone seen":                {Input{Findings: []Finding{found(graded(3, "replace"), inspect.ZoneSeen, 0, &Wear{PThen: 0.9})}}, want{inspect.Reuse, 8, "nothing", false}},
		// p* = 10000 (100/200) / 10000 = 0.5
		"5 dear":              {Input{Price: 10000, LifeNew: 200, Horizon: 100, Findings: []Finding{found(graded(3, "replace"), inspect.Graded, 2, &Wear{PThen: 0.4, SafeFor: 60})}}, want{inspect.Reuse, 5, "nothing", false}},
		"5 dear but above p*": {Input{Price: 10000, LifeNew: 200, Horizon: 100, Findings: []Finding{found(graded(3, "replace"), inspect.Graded, 2, &Wear{PThen: 0.6})}}, want{inspect.Replace, 5, "replace", false}},
		"5 dear but safety":   {Input{Price: 10000, LifeNew: 200, Horizon: 100, Part: catalog.Part{Safety: true}, Findings: []Finding{found(graded(3, "replace"), inspect.Graded, 2, &Wear{PThen: 0.4})}}, want{inspect.Replace, 5, "replace", false}},
		// p* = 20000 (100/200) / 10000 = 1: dear, but more likely over than not
		// one check: rule 5 comes before rule 6, which would measure again
		"5 dear before 6":        {Input{Gauges: gauge, Price: 20000, LifeNew: 200, Horizon: 100, Findings: []Finding{measured(numeric("replace"), Wear{Used: 0.95, U: 0.2, POver: 0.40, PThen: 0.5})}}, want{inspect.Reuse, 5, "nothing", false}},
		"5 dear but over":        {Input{Price: 20000, LifeNew: 200, Horizon: 100, Findings: []Finding{measured(numeric("replace"), Wear{Used: 1.05, U: 0.2, POver: 0.6, PThen: 0.9})}}, want{inspect.Replace, 5, "replace", false}},
		"6 a better gauge":       {Input{Gauges: gauge, Findings: []Finding{measured(numeric("replace"), Wear{Used: 0.95, U: 0.2, POver: 0.40, PThen: 0.1})}}, want{inspect.Measure, 6, "look", false}},
		"6 no gauge, below half": {Input{Findings: []Finding{measured(numeric("replace"), Wear{Used: 0.95, U: 0.2, POver: 0.40, PThen: 0.1})}}, want{inspect.Reuse, 6, "nothing", false}},
		"6 no gauge, half":       {Input{Findings: []Finding{measured(numeric("replace"), Wear{Used: 1, U: 0.2, POver: 0.50, PThen: 0.1})}}, want{inspect.Replace, 6, "replace", false}},
		"6 safety goes":          {Input{Findings: []Finding{measured(with(numeric("replace"), safety), Wear{Used: 0.8, U: 0.15, POver: 0.09, PThen: 0.01})}}, want{inspect.Replace, 6, "replace", false}},
		"6 certain enough":       {Input{Gauges: gauge, Findings: []Finding{measured(numeric("replace"), Wear{Used: 0.5, U: 0.2, POver: 0.006})}}, want{inspect.Reuse, 8, "nothing", false}},
		"6 cheap":                {Input{Gauges: gauge, Price: 300, Findings: []Finding{measured(numeric("replace"), Wear{Used: 0.95, U: 0.2, POver: 0.40, PThen: 0.1})}}, want{inspect.Reuse, 6, "nothing", false}},
		"7 missing":              {Input{Findings: []Finding{{Check: fine("replace"), Required: true}}}, want{inspect.Measure, 7, "look", false}},
		"7 not looked at":        {Input{Findings: []Finding{found(fine("replace"), inspect.NotLooked, 0, nil)}}, want{inspect.Measure, 7, "look", false}},
		"7 not required":         {Input{Findings: []Finding{optional}}, want{inspect.Reuse, 8, "nothing", false}},
		"7 cannot see":           {Input{Findings: []Finding{found(fine("replace"), inspect.CannotSee, 0, nil)}}, want{inspect.Reuse, 8, "nothing", false}},
		"7 cannot gauge":         {Input{Findings: []Finding{found(numeric("replace"), inspect.CannotGauge, 0, nil)}}, want{inspect.Reuse, 8, "nothing", false}},
		"7 zone seen":            {Input{Findings: []Finding{found(fine("replace"), inspect.ZoneSeen, 0, nil)}}, want{inspect.Reuse, 8, "nothing", false}},
		"worst of checks":        {Input{Findings: []Finding{found(fine("bleed"), inspect.NotFine, 0, nil), {Check: fine("replace"), Required: true}}}, want{inspect.Measure, 7, "look", false}},
		"8 nothing":              {Input{}, want{inspect.Reuse, 8, "nothing", false}},
	} {
		t.Run(name, func(t *testing.T) {
			tc.in.Opened = true
			a := Decide(tc.in, Rules{ReopenCost: 10000, NotWorth: 500})
			d := decided(a)
			if a.Verdict != tc.want.v || d.Rule != tc.want.rule || a.Remedy != tc.want.remedy || a.DoNotRide != tc.want.ride {
				t.Errorf("%s by rule %d, remedy %s, do not ride %v (%s); want %+v", a.Verdict, d.Rule, a.Remedy, a.DoNotRide, d.Why, tc.want)
			}
		})
	}
}

// Not opened: no verdict, whatever is missing (domain 4).
func TestNotOpened(t *testing.T) {
	a := Decide(Input{NextDoor: "Full service", Findings: []Finding{{Check: graded(3, "replace"), Required: true, Wear: &Wear{PThen: 0.7, Left: &inspect.HoursLeft{P50: 40}}}}}, Rules{})
	if !a.NotOpened || a.Verdict != inspect.Reuse || a.PThen != 0.7 || a.HoursLeft == nil || !strings.Contains(decided(a).Plain, "Full service") {
		t.Errorf("%+v", a)
	}
}

// A missing photo is a mark and no verdict; a part without life shows no hours
// left; months are never told as hours (domain 4).
func TestMarks(t *testing.T) {
	k := with(graded(3, "replace"), func(k *catalog.Check) { k.Photo = true })
	left := &inspect.HoursLeft{P50: 90}
	a := Decide(Input{Opened: true, Findings: []Finding{found(k, inspect.Graded, 1, &Wear{Left: left})}}, Rules{})
	if !a.NoPhoto || a.Verdict != inspect.Reuse || a.HoursLeft != left {
		t.Errorf("%+v", a)
	}
	a = Decide(Input{Opened: true, Part: catalog.Part{NoLife: true}, Findings: []Finding{found(k, inspect.Graded, 1, &Wear{Left: left})}}, Rules{})
	if a.HoursLeft != nil {
		t.Error("a part without life has hours left")
	}
	a = Decide(Input{Opened: true, Findings: []Finding{found(k, inspect.Graded, 1, &Wear{Left: left, Months: true})}}, Rules{})
	if a.HoursLeft != nil {
		t.Error("months are told as hours")
	}
}

// changeChance: the mean moves by N(0, v^2/(v + u'^2)) (domain rule 6). With
// w = 0.9, u = 0.1 and u' -> 0 the move is N(0, 0.1): the chance to cross 1 is
// 1 - Phi(1) = 0.1587 (standard normal table); at w = 1 it is one half.
func TestChangeChance(t *testing.T) {
	r := Rules{}.filled()
	for _, c := range []struct{ m, u, u2, want float64 }{{0.9, 0.1, 1e-9, 0.1587}, {1.1, 0.1, 1e-9, 0.1587}, {1, 0.1, 0.05, 0.5},
		// u' = u: move 0.1/sqrt 2, z = 1.4142: 1 - Phi = 0.0786
		{0.9, 0.1, 0.1, 0.0786}} {
		if got := changeChance(c.m, c.u, c.u2, false, r); math.Abs(got-c.want) > 5e-5 {
			t.Errorf("w %g, u %g, u' %g: %.4f, want %.4f", c.m, c.u, c.u2, got, c.want)
		}
	}
}

// JCGM 100: repeats shrink the method's part only: sqrt((0.03^2 + 0.04^2)/3 +
// 0.09^2/n) of an allowed wear of 2, by hand: n = 3: 0.0297, n huge: 0.01443.
func TestBestGauge(t *testing.T) {
	f := Finding{Check: numeric("replace"), New: num(1), Limit: num(-1)}
	g := []catalog.Instrument{{ID: "gauge", Resolution: 0.03, Calibration: 0.04, Method: 0.09}, {ID: "other"}}
	for n, want := range map[int]float64{3: 0.029721, 1e8: 0.014434} {
		if _, u, ok := bestGauge(f, g, n); !ok || math.Abs(u-want) > 1e-6 {
			t.Errorf("%d repeats: %g, want %g", n, u, want)
		}
	}
}

// Words for chances; 'one in n' by 1/p. Common practice, no source.
func TestChance(t *testing.T) {
	for p, want := range map[float64]string{-1: "Hardly any chance", 0: "Hardly any chance", 0.03: "About one chance in 35", 0.05: "About one chance in 20",
		0.1: "About one chance in ten", 0.2: "About one chance in five", 0.25: "About one chance in four", 0.34: "About one chance in three",
		0.4: "About four chances in ten", 0.5: "About one chance in two", 0.6: "About six chances in ten", 0.9: "About nine chances in ten",
		0.95: "More than nine chances in ten", 0.99: "It is all but certain", 2: "It is all but certain"} {
		if got := Chance(p); got != want {
			t.Errorf("%g: %q, want %q", p, got, want)
		}
	}
	if Chance(math.NaN()) != "An unknown chance" {
		t.Error("NaN")
	}
	rapid.Check(t, func(t *rapid.T) { // what is said is within a quarter of what is meant
		p := rapid.Float64Range(0.02, 0.9).Draw(t, "p")
		said, words := 0.0, strings.Fields(Chance(p))
		ns := map[string]float64{"one": 1, "two": 2, "three": 3, "four": 4, "five": 5, "six": 6, "seven": 7, "eight": 8, "nine": 9, "ten": 10,
			"15": 15, "20": 20, "25": 25, "30": 30, "35": 35, "40": 40, "45": 45, "50": 50}
		if said = ns[words[1]] / ns[words[len(words)-1]]; math.Abs(said-p) > p/4 {
			t.Fatalf("%g is told as %q", p, Chance(p))
		}
	})
}

var order = map[inspect.Verdict]int{inspect.Reuse: 0, inspect.Measure: 1, inspect.Replace: 2}

func phi(x float64) float64 { return 0.5 * math.Erfc(-x/math.Sqrt2) }

// drawn is one measured part; wear w with uncertainty u, the chance not to last
// rising with w as the estimator's does (wear's own property test).
func drawn(t *rapid.T) (build func(w, u float64) Input, rules Rules) {
	safety := rapid.Bool().Draw(t, "safety")
	drift := rapid.Float64Range(0, 1).Draw(t, "drift")
	spread := rapid.Float64Range(0.01, 0.5).Draw(t, "spread")
	price := rapid.Int64Range(0, 50000).Draw(t, "price")
	gauge := rapid.Float64Range(0.001, 0.5).Draw(t, "gauge")
	measured := rapid.Bool().Draw(t, "measured")
	rules = Rules{ReopenCost: rapid.Int64Range(0, 20000).Draw(t, "reopen"), NotWorth: rapid.Int64Range(0, 5000).Draw(t, "not worth")}
	k := numeric("replace")
	k.Safety = safety
	return func(w, u float64) Input {
		f := found(k, inspect.Measured, w, &Wear{Used: w, U: u, POver: phi((w - 1) / u), PThen: phi((w + drift - 1) / spread)})
		f.New, f.Limit = num(0), num(1)
		if measured {
			f.Reading.Instrument, f.Reading.Raw = "gauge", []float64{w, w, w}
		}
		return Input{Opened: true, Price: price, Horizon: 100, LifeNew: 400, Findings: []Finding{f}, Gauges: []catalog.Instrument{{ID: "gauge", Method: gauge}}}
	}, rules
}

// Domain 4: more wear in the newest reading never turns replace into reuse.
func TestMonotoneInWear(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		build, rules := drawn(t)
		u := rapid.Float64Range(0.01, 0.5).Draw(t, "u")
		w := rapid.Float64Range(-0.5, 2).Draw(t, "w")
		more := w + rapid.Float64Range(0, 1).Draw(t, "more")
		a, b := Decide(build(w, u), rules), Decide(build(more, u), rules)
		if a.Verdict == inspect.Replace && b.Verdict == inspect.Reuse {
			t.Fatalf("wear %g: %s by %d; wear %g: %s by %d", w, a.Verdict, decided(a).Rule, more, b.Verdict, decided(b).Rule)
		}
	})
}

// Domain 4: for rule 3, more uncertainty never makes it more certain (JCGM 106:
// P(W >= 1) of a normal W above 1 falls with u).
func TestUncertaintyNeverMakesOverSurer(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		build, rules := drawn(t)
		w := rapid.Float64Range(-0.5, 2).Draw(t, "w")
		u := rapid.Float64Range(0.01, 0.5).Draw(t, "u")
		more := u + rapid.Float64Range(0, 1).Draw(t, "more")
		rule3 := func(u float64) bool {
			for _, r := range Decide(build(w, u), rules).Reasons {
				if r.Rule == 3 {
					return true
				}
			}
			return false
		}
		if rule3(more) && !rule3(u) {
			t.Fatalf("wear %g is over with u %g and not with %g", w, more, u)
		}
	})
}

// Worse grades never make a part better, and a further finding neither.
func TestWorstOfChecks(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		remedies := []string{"replace", "renew_kit", "clean", "bleed", "look"}
		in := Input{Opened: true, Renewed: rapid.Bool().Draw(t, "renewed")}
		worst := order[Decide(in, Rules{}).Verdict]
		for i := rapid.IntRange(1, 5).Draw(t, "n"); i > 0; i-- {
			k := fine(rapid.SampledFrom(remedies).Draw(t, "remedy"))
			k.DoNotRide = rapid.Bool().Draw(t, "dnr")
			answer := rapid.SampledFrom([]inspect.Answer{inspect.Fine, inspect.NotFine, inspect.CannotSee, inspect.ZoneSeen, inspect.NotLooked}).Draw(t, "answer")
			in.Findings = append(in.Findings, found(k, answer, 0, nil))
			a := Decide(in, Rules{})
			if order[a.Verdict] < worst {
				t.Fatalf("a further finding made it %s", a.Verdict)
			}
			if a.DoNotRide && a.Verdict == inspect.Reuse {
				t.Fatal("reuse and do not ride at once")
			}
			if decided(a).Rule < 1 {
				t.Fatalf("%d reasons decide, want one", -decided(a).Rule)
			}
			worst = order[a.Verdict]
		}
	})
}
