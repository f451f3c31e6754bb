package screentest

import (
	"context"
	"sort"
	"strconv"
	"strings"
	"sync"
	"time"

	"forkwear/inspect"
)

// Library is an inspect.Library in memory.
type Library struct {
	mu   sync.Mutex
	gate sync.RWMutex

	customers   []inspect.Customer
	forks       []inspect.Fork
	visits      []inspect.Visit
	claims      []inspect.Claim
	complaints  []inspect.Complaint
	settings    []inspect.Setting
	tasks       []inspect.Task
	readings    []inspect.Reading
	fittings    []inspect.Fitting
	photos      []inspect.Photo
	assessments []inspect.Assessment
	overrides   []inspect.Override
	consents    []inspect.Consent
	amendments  []inspect.Amendment
	focuses     []inspect.Focus
	clocks      []inspect.CameraClock
	marks       []inspect.Mark
	measures    []inspect.PhotoMeasure
	preferences map[string]string

	// Refuse, where it is set, is what every write answers.
	Refuse error
}

var _ inspect.Library = (*Library)(nil)

// NewLibrary returns an empty library.
func NewLibrary() *Library { return &Library{preferences: map[string]string{}} }

// Hold lets every call wait until Release.
func (l *Library) Hold() { l.gate.Lock() }

// Release ends a Hold.
func (l *Library) Release() { l.gate.Unlock() }

// lock waits for the gate, then takes the library.
func (l *Library) lock() func() {
	l.gate.RLock()
	//lint:ignore SA2001 it only waits for Release
	l.gate.RUnlock()
	l.mu.Lock()
	return l.mu.Unlock
}

func put[T any](all []T, x T, same func(T) bool) []T {
	for i := range all {
		if same(all[i]) {
			all[i] = x
			return all
		}
	}
	return append(all, x)
}

func one[T any](all []T, what string, ok func(T) bool) (T, error) {
	for _, x := range all {
		if ok(x) {
			return x, nil
		}
	}
	var none T
	return none, inspect.Refuse(inspect.NotFound, "there is no such %s in the library", what)
}

func those[T any](all []T, ok func(T) bool) []T {
	var out []T
	for _, x := range all {
		if ok(x) {
			out = append(out, x)
		}
	}
	return out
}

func limited[T any](xs []T, limit int) []T {
	if limit > 0 && len(xs) > limit {
		return xs[:limit]
	}
	return xs
}

func has(text string, fields ...string) bool {
	all := strings.ToLower(strings.Join(fields, " "))
	for _, w := range strings.Fields(strings.ToLower(text)) {
		if !strings.Contains(all, w) {
			return false
		}
	}
	return true
}

// SaveCustomer implements inspect.Library.
func (l *Library) SaveCustomer(_ context.Context, c inspect.Customer) error {
	defer l.lock()()
	return l.saveCustomer(c)
}

func (l *Library) saveCustomer(c inspect.Customer) error {
	if l.Refuse != nil {
		return l.Refuse
	}
	if c.ID == "" {
		return inspect.Refuse(inspect.Invalid, "a customer needs an id")
	}
	l.customers = put(l.customers, c, func(o inspect.Customer) bool { return o.ID == c.ID })
	return nil
}

// Customer implements inspect.Library.
func (l *Library) Customer(_ context.Context, id inspect.ID) (inspect.Customer, error) {
	defer l.lock()()
	return l.customer(id)
}

func (l *Library) customer(id inspect.ID) (inspect.Customer, error) {
	return one(l.customers, "customer", func(o inspect.Customer) bool { return o.ID == id })
}

// FindCustomers implements inspect.Library.
func (l *Library) FindCustomers(_ context.Context, text string, limit int) ([]inspect.Customer, error) {
	defer l.lock()()
	out := those(l.customers, func(c inspect.Customer) bool { return has(text, c.Name, c.Phone, c.Email) })
	sort.SliceStable(out, func(i, j int) bool { return out[i].Name < out[j].Name })
	return limited(out, limit), nil
}

// SaveFork implements inspect.Library.
func (l *Library) SaveFork(_ context.Context, f inspect.Fork) error {
	defer l.lock()()
	return l.saveFork(f)
}

func (l *Library) saveFork(f inspect.Fork) error {
	if l.Refuse != nil {
		return l.Refuse
	}
	if f.ID == "" {
		return inspect.Refuse(inspect.Invalid, "a fork needs an id")
	}
	if _, err := l.customer(f.CustomerID); err != nil {
		return err
	}
	l.forks = put(l.forks, f, func(o inspect.Fork) bool { return o.ID == f.ID })
	return nil
}

// Fork implements inspect.Library.
func (l *Library) Fork(_ context.Context, id inspect.ID) (inspect.Fork, error) {
	defer l.lock()()
	return l.fork(id)
}

func (l *Library) fork(id inspect.ID) (inspect.Fork, error) {
	return one(l.forks, "fork", func(o inspect.Fork) bool { return o.ID == id })
}

// FindForks implements inspect.Library.
func (l *Library) FindForks(_ context.Context, text string, limit int) ([]inspect.ForkRow, error) {
	defer l.lock()()
	var out []inspect.ForkRow
	for _, f := range l.forks {
		c, _ := l.customer(f.CustomerID)
		if !has(text, f.Maker, f.Model, strconv.Itoa(f.Year), f.Serial, f.Tag, c.Name, c.Phone, c.Email) {
			continue
		}
		row := inspect.ForkRow{Fork: f, Customer: c}
		for _, v := range l.visits {
			if v.ForkID == f.ID {
				row.Visits++
				if v.DroppedOff.After(row.LastVisit) {
					row.LastVisit = v.DroppedOff
				}
			}
		}
		out = append(out, row)
	}
	sort.SliceStable(out, func(i, j int) bool { return out[i].LastVisit.After(out[j].LastVisit) })
	return limited(out, limit), nil
}

// StartVisit implements inspect.Library.
func (l *Library) StartVisit(_ context.Context, d inspect.DropOff) (int, error) {
	defer l.lock()()
	if err := l.saveCustomer(d.Customer); err != nil {
		return 0, err
	}
	if err := l.saveFork(d.Fork); err != nil {
		return 0, err
	}
	d.Visit.Ticket = 1
	for _, v := range l.visits {
		d.Visit.Ticket = max(d.Visit.Ticket, v.Ticket+1)
	}
	l.visits = append(l.visits, d.Visit)
	if d.Claim != (inspect.Claim{}) {
		l.claims = append(l.claims, d.Claim)
	}
	l.complaints = append(l.complaints, d.Complaints...)
	l.settings = append(l.settings, d.Settings...)
	l.fittings = append(l.fittings, d.Fittings...)
	return d.Visit.Ticket, nil
}

// open returns a visit that may be written to.
func (l *Library) open(id inspect.ID) (inspect.Visit, error) {
	if l.Refuse != nil {
		return inspect.Visit{}, l.Refuse
	}
	v, err := l.visit(id)
	if err == nil && v.Closed() {
		err = inspect.Refuse(inspect.Locked, "ticket %d was collected on %s and its record is locked: add an amendment instead", v.Ticket, v.Collected.Format("2006-01-02"))
	}
	return v, err
}

// SaveVisit implements inspect.Library.
func (l *Library) SaveVisit(_ context.Context, v inspect.Visit) error {
	defer l.lock()()
	old, err := l.open(v.ID)
	if err != nil {
		return err
	}
	v.Ticket = old.Ticket
	if v.Closed() || v.Step == inspect.StepDone {
		return inspect.Refuse(inspect.Invalid, "a visit is closed by collecting it, not by saving it as collected")
	}
	l.visits = put(l.visits, v, func(o inspect.Visit) bool { return o.ID == v.ID })
	return nil
}

// Visit implements inspect.Library.
func (l *Library) Visit(_ context.Context, id inspect.ID) (inspect.Visit, error) {
	defer l.lock()()
	return l.visit(id)
}

func (l *Library) visit(id inspect.ID) (inspect.Visit, error) {
	return one(l.visits, "visit", func(o inspect.Visit) bool { return o.ID == id })
}

// VisitByTicket implements inspect.Library.
func (l *Library) VisitByTicket(_ context.Context, ticket int) (inspect.Visit, error) {
	defer l.lock()()
	return one(l.visits, "ticket", func(o inspect.Visit) bool { return o.Ticket == ticket })
}

// Visits implements inspect.Library.
func (l *Library) Visits(_ context.Context, f inspect.VisitFilter) ([]inspect.VisitRow, error) {
	defer l.lock()()
	var out []inspect.VisitRow
	for _, v := range l.visits {
		if f.ForkID != "" && v.ForkID != f.ForkID || f.OpenOnly && v.Closed() {
			continue
		}
		row := inspect.VisitRow{Visit: v}
		row.Fork, _ = l.fork(v.ForkID)
		row.Customer, _ = l.customer(v.CustomerID)
		if c, ok := l.claimOf(v.ID); ok {
			row.Hours, row.HoursU = c.Hours, c.U
		}
		out = append(out, row)
	}
	sort.SliceStable(out, func(i, j int) bool { return out[i].Visit.DroppedOff.After(out[j].Visit.DroppedOff) })
	return limited(out, f.Limit), nil
}

func (l *Library) claimOf(visit inspect.ID) (newest inspect.Claim, ok bool) {
	for _, c := range l.claims {
		if c.VisitID == visit && (!ok || !c.At.Before(newest.At)) {
			newest, ok = c, true
		}
	}
	return newest, ok
}

// Collect implements inspect.Library.
func (l *Library) Collect(_ context.Context, id inspect.ID, at time.Time, _ string) error {
	defer l.lock()()
	v, err := l.open(id)
	if err != nil {
		return err
	}
	v.Collected, v.Step = at, inspect.StepDone
	l.visits = put(l.visits, v, func(o inspect.Visit) bool { return o.ID == id })
	return nil
}

// Amend implements inspect.Library.
func (l *Library) Amend(_ context.Context, a inspect.Amendment) error {
	defer l.lock()()
	if _, err := l.visit(a.VisitID); err != nil {
		return err
	}
	l.amendments = append(l.amendments, a)
	return nil
}

// Amendments implements inspect.Library.
func (l *Library) Amendments(_ context.Context, visit inspect.ID) ([]inspect.Amendment, error) {
	defer l.lock()()
	return those(l.amendments, func(a inspect.Amendment) bool { return a.VisitID == visit }), nil
}
