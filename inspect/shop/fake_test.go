package shop

import (
	"context"
	"fmt"
	"math"
	"sort"
	"sync"
	"testing"
	"time"

	"forkwear/inspect"
	"forkwear/inspect/catalog"
	"forkwear/inspect/verdict"
)

// fake is an inspect.Library in memory, as much of it as the use cases need; a
// method that it does not have panics through the nil interface.
type fake struct {
	inspect.Library
	mu            sync.Mutex
	customers     map[inspect.ID]inspect.Customer
	forks         map[inspect.ID]inspect.Fork
	visits        []inspect.Visit
	claims        []inspect.Claim
	complaints    []inspect.Complaint
	readings      []inspect.Reading
	fittings      []inspect.Fitting
	assessments   []inspect.Assessment
	overrides     []inspect.Override
	consents      []inspect.Consent
	consentWrites int // transactions of consents
	evidence
	fetched int // calls of TrendRows
}

func newFake() *fake {
	return &fake{customers: map[inspect.ID]inspect.Customer{}, forks: map[inspect.ID]inspect.Fork{}}
}

func (l *fake) lock() func() { l.mu.Lock(); return l.mu.Unlock }

func (l *fake) StartVisit(_ context.Context, d inspect.DropOff) (int, error) {
	defer l.lock()()
	l.customers[d.Customer.ID], l.forks[d.Fork.ID] = d.Customer, d.Fork
	d.Visit.Ticket = len(l.visits) + 1
	l.visits = append(l.visits, d.Visit)
	if d.Claim.Source != "none" {
		l.claims = append(l.claims, d.Claim)
	}
	l.complaints = append(l.complaints, d.Complaints...)
	l.fittings = append(l.fittings, d.Fittings...)
	return d.Visit.Ticket, nil
}

func (l *fake) Visit(_ context.Context, id inspect.ID) (inspect.Visit, error) {
	defer l.lock()()
	for _, v := range l.visits {
		if v.ID == id {
			return v, nil
		}
	}
	return inspect.Visit{}, inspect.Refuse(inspect.NotFound, "no such visit")
}

func (l *fake) SaveVisit(_ context.Context, v inspect.Visit) error {
	defer l.lock()()
	for i := range l.visits {
		if l.visits[i].ID == v.ID {
			l.visits[i] = v
		}
	}
	return nil
}

func (l *fake) Fork(_ context.Context, id inspect.ID) (inspect.Fork, error) {
	defer l.lock()()
	return l.forks[id], nil
}

func (l *fake) Customer(_ context.Context, id inspect.ID) (inspect.Customer, error) {
	defer l.lock()()
	return l.customers[id], nil
}

func (l *fake) claimOf(visit inspect.ID) (out inspect.Claim) {
	for _, c := range l.claims {
		if c.VisitID == visit {
			out = c
		}
	}
	return out
}

func (l *fake) Visits(_ context.Context, f inspect.VisitFilter) ([]inspect.VisitRow, error) {
	defer l.lock()()
	var out []inspect.VisitRow
	for i := len(l.visits) - 1; i >= 0; i-- {
		if v := l.visits[i]; f.ForkID == "" || v.ForkID == f.ForkID {
			c := l.claimOf(v.ID)
			out = append(out, inspect.VisitRow{Visit: v, Fork: l.forks[v.ForkID], Hours: c.Hours, HoursU: c.U})
		}
	}
	return out, nil
}

func (l *fake) Claims(_ context.Context, fork inspect.ID) ([]inspect.Claim, error) {
	defer l.lock()()
	var out []inspect.Claim
	for _, c := range l.claims {
		if c.ForkID == fork {
			out = append(out, c)
		}
	}
	return out, nil
}

func (l *fake) Complaints(_ context.Context, v inspect.ID) (out []inspect.Complaint, _ error) {
	defer l.lock()()
	for _, c := range l.complaints {
		if c.VisitID == v {
			out = append(out, c)
		}
	}
	return out, nil
}

func (l *fake) SettingsOf(context.Context, inspect.ID) ([]inspect.Setting, error)   { return nil, nil }
func (l *fake) Tasks(context.Context, inspect.ID) ([]inspect.Task, error)           { return nil, nil }
func (l *fake) Amendments(context.Context, inspect.ID) ([]inspect.Amendment, error) { return nil, nil }

func (l *fake) AddReadings(_ context.Context, rs ...inspect.Reading) error {
	defer l.lock()()
	l.readings = append(l.readings, rs...)
	return nil
}

func (l *fake) Readings(_ context.Context, f inspect.ReadingFilter) (out []inspect.Reading, _ error) {
	defer l.lock()()
	of := map[inspect.ID]inspect.ID{}
	for _, v := range l.visits {
		of[v.ID] = v.ForkID
	}
	for _, r := range l.readings {
		if (f.VisitID == "" || r.VisitID == f.VisitID) && (f.ForkID == "" || of[r.VisitID] == f.ForkID) {
			out = append(out, r)
		}
	}
	return out, nil
}

func (l *fake) TrendRows(_ context.Context, check string) ([]inspect.TrendRow, error) {
	defer l.lock()()
	l.fetched++
	var mine []inspect.Reading
	for _, r := range l.readings {
		if r.Check == check {
			mine = append(mine, r)
		}
	}
	fits, visits := map[inspect.ID]inspect.Fitting{}, map[inspect.ID]inspect.Visit{}
	for _, f := range l.fittings {
		fits[f.ID] = f
	}
	for _, v := range l.visits {
		visits[v.ID] = v
	}
	claims := map[inspect.ID]inspect.Claim{}
	for _, c := range l.claims {
		claims[c.VisitID] = c
	}
	current, _ := inspect.Current(mine)
	var out []inspect.TrendRow
	for _, r := range current {
		f, v, c := fits[r.FittingID], visits[r.VisitID], claims[r.VisitID]
		if r.FittingID == "" || c.ID == "" {
			continue
		}
		out = append(out, inspect.TrendRow{Reading: r, ForkID: v.ForkID, Sheet: l.forks[v.ForkID].Sheet, Part: f.Part, AgeKnown: f.AgeKnown,
			Hours: c.Hours - f.FittedAt, HoursU: math.Hypot(c.U, f.FittedU), On: v.DroppedOff, FittedOn: f.FittedOn})
	}
	sort.Slice(out, func(i, j int) bool {
		return out[i].On.Before(out[j].On) || out[i].On.Equal(out[j].On) && out[i].Reading.ID < out[j].Reading.ID
	})
	return out, nil
}

func (l *fake) Fittings(_ context.Context, f inspect.FittingFilter) (out []inspect.Fitting, _ error) {
	defer l.lock()()
	for _, x := range l.fittings {
		if x.End != inspect.EndTakenBack && (f.ForkID == "" || x.ForkID == f.ForkID) && (f.Part == "" || x.Part == f.Part) {
			out = append(out, x)
		}
	}
	return out, nil
}

func (l *fake) Refit(_ context.Context, ended, started []inspect.Fitting) error {
	defer l.lock()()
	for _, e := range ended {
		for i := range l.fittings {
			if l.fittings[i].ID == e.ID {
				l.fittings[i] = e
			}
		}
	}
	l.fittings = append(l.fittings, started...)
	return nil
}

func (l *fake) AddAssessments(_ context.Context, as ...inspect.Assessment) error {
	defer l.lock()()
	l.assessments = append(l.assessments, as...)
	return nil
}

func (l *fake) LatestAssessments(_ context.Context, v inspect.ID) ([]inspect.Assessment, error) {
	defer l.lock()()
	at := map[position]inspect.Assessment{}
	for _, a := range l.assessments {
		if a.VisitID == v {
			at[position{a.Part, a.Leg}] = a
		}
	}
	var out []inspect.Assessment
	for _, a := range at {
		var os []inspect.Override
		for _, o := range l.overrides {
			if o.AssessmentID == a.ID {
				os = append(os, o)
			}
		}
		a.Override = inspect.OverrideInForce(os)
		out = append(out, a)
	}
	sort.Slice(out, func(i, j int) bool { return out[i].Part+string(out[i].Leg) < out[j].Part+string(out[j].Leg) })
	return out, nil
}

func (l *fake) AddOverride(_ context.Context, _ inspect.ID, o inspect.Override) error {
	defer l.lock()()
	l.overrides = append(l.overrides, o)
	return nil
}

func (l *fake) AddConsents(_ context.Context, cs ...inspect.Consent) error {
	defer l.lock()()
	l.consents = append(l.consents, cs...)
	l.consentWrites++
	return nil
}

func (l *fake) Consents(_ context.Context, v inspect.ID) (out []inspect.Consent, _ error) {
	defer l.lock()()
	for _, c := range l.consents {
		if c.VisitID == v {
			out = append(out, c)
		}
	}
	return out, nil
}

// bench is a desk on a fake library with a clock that a test winds on.
type bench struct {
	t    testing.TB
	lib  *fake
	desk *Desk
	now  time.Time
	fork inspect.ID
	ids  int
	mu   sync.Mutex
}

var cat = func() *catalog.Catalog {
	c, err := catalog.Embedded()
	if err != nil {
		panic(err)
	}
	return c
}()

func newBench(t testing.TB) *bench {
	b := &bench{t: t, lib: newFake(), now: time.Date(2024, 3, 1, 9, 0, 0, 0, time.UTC)}
	b.desk = &Desk{Lib: b.lib, Catalog: cat, By: "Ruth", Clock: func() time.Time { b.mu.Lock(); defer b.mu.Unlock(); return b.now },
		NewID: func() inspect.ID {
			b.mu.Lock()
			defer b.mu.Unlock()
			b.ids++
			return inspect.ID(fmt.Sprintf("id%07d", b.ids))
		}}
	return b
}

func (b *bench) must(err error) {
	b.t.Helper()
	if err != nil {
		b.t.Fatal(err)
	}
}

func (b *bench) days(n int) *bench {
	b.mu.Lock()
	defer b.mu.Unlock()
	b.now = b.now.AddDate(0, 0, n)
	return b
}

// visit takes the fork in again (a new one where there is none) and opens it.
func (b *bench) visit(level string, hours float64, more ...func(*Intake)) *Case {
	b.t.Helper()
	in := Intake{Customer: inspect.Customer{Name: "A. Rider"}, Fork: inspect.Fork{Maker: "Invented", Sheet: "generic_36_air_bladder"},
		Visit: inspect.Visit{Level: level}, Hours: hours, HoursU: 2, HoursFrom: "typed"}
	if b.fork != "" {
		in.Fork = b.lib.forks[b.fork]
		in.Customer = b.lib.customers[in.Fork.CustomerID]
	}
	for _, f := range more {
		f(&in)
	}
	v, err := b.desk.TakeIn(context.Background(), in)
	b.must(err)
	b.fork = v.ForkID
	return b.open(v.ID)
}

func (b *bench) open(id inspect.ID) *Case {
	b.t.Helper()
	c, err := b.desk.Open(context.Background(), id)
	b.must(err)
	return c
}

func (b *bench) say(c *Case, check string, leg inspect.Leg, stage inspect.Stage, a inspect.Answer, value float64) inspect.Reading {
	b.t.Helper()
	r, err := b.desk.Answer(context.Background(), c, Answer{Check: check, Leg: leg, Stage: stage, Answer: a, Value: value})
	b.must(err)
	return r
}

func (b *bench) assess(c *Case) map[position]inspect.Assessment {
	b.t.Helper()
	as, err := b.desk.Assess(context.Background(), c, verdict.Rules{})
	b.must(err)
	out := map[position]inspect.Assessment{}
	for _, a := range as {
		out[position{a.Part, a.Leg}] = a
	}
	return out
}

func decided(a inspect.Assessment) inspect.Reason {
	for _, r := range a.Reasons {
		if r.Decide {
			return r
		}
	}
	return inspect.Reason{}
}
