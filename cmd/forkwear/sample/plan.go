package sample

import (
	"fmt"
	"math"
	"sort"
	"time"

	"forkwear/inspect"
)

// rider is one customer with one fork and a way of riding.
type rider struct {
	customer  inspect.Customer
	fork      inspect.Fork
	sheet     string
	perWeek   float64
	rough     float64 // 1 ordinary; wears seals and bushings faster above
	wet       bool
	atLeast   bool
	startH    float64
	first     time.Time
	number    int
	scratched bool // the left tube came with a scratch, which grows
	ids       struct{ customer, fork, first inspect.ID }
}

// stayPlan is one visit to come.
type stayPlan struct {
	rider *rider
	nth   int
	on    time.Time
	hours float64
	level string
	open  inspect.Step // how far it got; StepDone is collected
}

var (
	firstNames = []string{"Mira", "Jonas", "Ada", "Tobin", "Lene", "Marek", "Ilse", "Pavel", "Runa", "Cato", "Edda", "Noel", "Vera", "Aron"}
	lastNames  = []string{"Holmfeld", "Brackenau", "Steinriver", "Oakmoor", "Lindqvell", "Farrowby", "Tannhold", "Greyfell"}
	models     = []struct{ maker, model, sheet string }{
		{"Aldermoor", "Slate 32", "generic_32_air_open_bath"},
		{"Aldermoor", "Slate 34", "generic_34_air_bladder"},
		{"Brackwater", "Tarn 35", "generic_35_air_closed_unit"},
		{"Brackwater", "Tarn 36", "generic_36_air_bladder"},
		{"Corvane", "Ridge 36 coil", "generic_36_coil_bladder"},
		{"Corvane", "Ridge 38", "generic_38_air_floating_piston"},
		{"Dunmere", "Descent 40", "generic_40_air_bladder_dual"},
	}
)

// early is the invented fork whose seals go sooner than on the others.
const early = "generic_36_air_bladder"

func (f *Filler) plan() []stayPlan {
	var all []stayPlan
	n := f.Forks
	if n <= 0 {
		n = forkCount
	}
	for i := 0; i < n; i++ {
		all = append(all, f.visitsOf(f.rider(i), i)...)
	}
	sort.SliceStable(all, func(i, j int) bool { return all[i].on.Before(all[j].on) })
	open := []inspect.Step{inspect.StepInspect, inspect.StepInspect, inspect.StepDecide, inspect.StepService, inspect.StepHandBack, inspect.StepInspect}
	for k := range open {
		if n := len(all) - 1 - k; n >= 0 {
			all[n].open = open[k]
			all[n].on = f.Until.AddDate(0, 0, -k).Add(-time.Duration(k) * time.Hour)
		}
	}
	sort.SliceStable(all, func(i, j int) bool { return all[i].on.Before(all[j].on) })
	return all
}

func (f *Filler) rider(i int) *rider {
	m := models[i%len(models)]
	name := firstNames[i%len(firstNames)] + " " + lastNames[(i*3+i/len(firstNames))%len(lastNames)]
	r := &rider{number: i, scratched: i%3 == 0, sheet: m.sheet, perWeek: 1.5 + 4.5*f.rng.Float64(), rough: 0.8 + 0.5*f.rng.Float64(), wet: f.rng.IntN(3) == 0,
		atLeast: f.rng.IntN(6) == 0}
	if r.wet {
		r.rough *= 1.2
	}
	r.customer = inspect.Customer{Name: name, Phone: fmt.Sprintf("0170 555 %04d", 1000+i*37), ReachBy: []string{"phone", "message", "email"}[i%3]}
	r.fork = inspect.Fork{Maker: m.maker, Model: m.model, Year: 2021 + i%4, Serial: fmt.Sprintf("S%06d", 204713+i*913), Tag: fmt.Sprintf("F%03d", i+1), Sheet: m.sheet}
	if r.atLeast {
		r.startH = math.Round(80 + 250*f.rng.Float64())
	} else {
		r.startH = math.Round(30 + 60*f.rng.Float64())
	}
	r.first = f.Until.AddDate(-3, 0, f.rng.IntN(420))
	return r
}

// visitsOf spreads a rider's visits over the years: three to five for most.
func (f *Filler) visitsOf(r *rider, i int) []stayPlan {
	n := 3 + f.rng.IntN(3)
	if i%9 == 8 {
		n = 1
	}
	weeks := f.Until.Sub(r.first).Hours() / (24 * 7)
	gap := weeks / (float64(n) - 0.3)
	levels := []string{"lowers", "full", "lowers", "look_over", "full"}
	var out []stayPlan
	at := 0.0
	for k := 0; k < n; k++ {
		on := r.first.Add(time.Duration(at * 7 * 24 * float64(time.Hour)))
		on = time.Date(on.Year(), on.Month(), on.Day(), 9+f.rng.IntN(8), f.rng.IntN(60), 0, 0, f.Until.Location())
		out = append(out, stayPlan{rider: r, nth: k, on: on, hours: math.Round(r.startH + at*r.perWeek), level: levels[(k+i)%len(levels)], open: inspect.StepDone})
		at += gap * (0.8 + 0.4*f.rng.Float64())
		if at > weeks-2 {
			break
		}
	}
	return out
}
