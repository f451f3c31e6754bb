package shop

import (
	"context"
	"crypto/sha256"
	"encoding/binary"
	"fmt"
	"math"
	"sync"

	"forkwear/inspect"
	"forkwear/inspect/catalog"
	"forkwear/inspect/wear"
)

// mostFits bounds what a desk remembers: the trend checks of a handful of
// visits open side by side.
const mostFits = 256

// fitKey names one fit by all that it depends on, so that a remembered fit is
// never stale: a reading, a claim or a fitting that changes changes the key.
type fitKey [sha256.Size]byte

func keyOf(check string, data wear.Data, ids []seriesKey, prior wear.Prior) fitKey {
	h := sha256.New()
	fmt.Fprintf(h, "%s|%v|", check, prior)
	var buf [8]byte
	number := func(x float64) {
		binary.LittleEndian.PutUint64(buf[:], math.Float64bits(x))
		h.Write(buf[:])
	}
	flag := func(b bool) {
		buf[0] = 0
		if b {
			buf[0] = 1
		}
		h.Write(buf[:1])
	}
	for _, id := range ids {
		h.Write([]byte(id.unit()))
		flag(data.Units[id.unit()].AgeUnknown)
		fmt.Fprintf(h, "%q", data.Units[id.unit()].Fork)
	}
	for _, o := range data.Observations {
		h.Write([]byte(o.Unit))
		number(o.Hours)
		number(o.HoursU)
		number(o.Value)
		number(o.U)
		flag(o.Left)
		flag(o.Right)
	}
	var k fitKey
	h.Sum(k[:0])
	return k
}

// fit fits a group, or remembers the fit of the same readings. The oldest fits
// are forgotten first.
func (d *Desk) fit(check string, data wear.Data, ids []seriesKey, prior wear.Prior) (wear.Fit, error) {
	key := keyOf(check, data, ids, prior)
	d.mu.Lock()
	f, ok := d.fits[key]
	d.mu.Unlock()
	if ok {
		return f, nil
	}
	f, err := wear.FitPenalised(data, prior) // outside the lock: two may fit the same, which costs time only
	if err != nil {
		return f, err
	}
	d.mu.Lock()
	defer d.mu.Unlock()
	if d.fits == nil {
		d.fits = map[fitKey]wear.Fit{}
	}
	if _, ok := d.fits[key]; !ok {
		d.fits[key] = f
		d.order = append(d.order, key)
	}
	for len(d.order) > mostFits {
		delete(d.fits, d.order[0])
		delete(d.power, d.order[0])
		d.order = d.order[1:]
	}
	return f, nil
}

// history is what the library held of each check when a case was opened,
// without the readings of that visit. Verdicts borrow from it: as the visit's
// own readings do not move the group's variances, more wear in the newest
// reading never makes a part look better, and an answer costs no new fit. What
// is entered at other visits meanwhile counts when the case is opened again.
type history struct {
	mu     sync.Mutex
	groups map[string]*Group
}

// kin is the history of one check as a case sees it; nil for a check without a
// trend.
func (d *Desk) kin(ctx context.Context, c *Case, k catalog.Check) (*Group, error) {
	if !hasTrend(k, c.Sheet) {
		return nil, nil
	}
	if c.history == nil { // a case made by hand
		return d.group(ctx, k, c.Sheet, c.Visit.ID)
	}
	c.history.mu.Lock()
	defer c.history.mu.Unlock()
	if g, ok := c.history.groups[k.ID]; ok {
		return g, nil
	}
	g, err := d.group(ctx, k, c.Sheet, c.Visit.ID)
	if err != nil {
		return nil, fmt.Errorf("trend of %s: %w", k.Name, err)
	}
	if c.history.groups == nil {
		c.history.groups = map[string]*Group{}
	}
	c.history.groups[k.ID] = g
	return g, nil
}

func hasTrend(k catalog.Check, sheet catalog.Sheet) bool {
	return (k.Grows == catalog.ByHours || k.Grows == catalog.ByMonths) && k.LifeFor(sheet) > 0
}

// Group loads and fits one check over the whole library. It is nil for checks
// without a trend.
func (d *Desk) Group(ctx context.Context, k catalog.Check, sheet catalog.Sheet) (*Group, error) {
	if !hasTrend(k, sheet) {
		return nil, nil
	}
	return d.group(ctx, k, sheet, "")
}

// group fits one check over all visits but one.
func (d *Desk) group(ctx context.Context, k catalog.Check, sheet catalog.Sheet, without inspect.ID) (*Group, error) {
	all, err := d.Lib.TrendRows(ctx, k.ID)
	if err != nil {
		return nil, err
	}
	rows := all[:0:0]
	for _, r := range all {
		if r.Reading.VisitID != without {
			rows = append(rows, r)
		}
	}
	if rows, err = d.byMonths(ctx, k, rows); err != nil {
		return nil, err
	}
	g := &Group{Check: k, series: d.seriesOf(k, rows)}
	data := wear.Data{Units: map[string]wear.Unit{}}
	ids := g.ids()
	for _, id := range ids {
		s := g.series[id]
		data.Units[s.unit.ID] = s.unit
		data.Observations = append(data.Observations, s.observations()...)
	}
	prior := wear.DefaultPrior(k.LifeFor(sheet))
	if k.LifeCv > 0 {
		prior.CvL = k.LifeCv
	}
	if k.Exponent > 0 {
		prior.TimePower = k.Exponent
	}
	g.data, g.prior, g.key, g.atNew = data, prior, keyOf(k.ID, data, ids, prior), d.newValues(k, rows)
	if g.Fit, err = d.fit(k.ID, data, ids, prior); err != nil {
		return nil, err
	}
	g.aside = map[string]string{}
	for _, a := range g.Fit.SetAside {
		g.aside[a.Unit] = a.Reason
	}
	return g, nil
}

// byMonths marks, for a check that grows by months, the parts that came with
// their fork as of unknown age: their hours may be known, their months are not.
func (d *Desk) byMonths(ctx context.Context, k catalog.Check, rows []inspect.TrendRow) ([]inspect.TrendRow, error) {
	if k.Grows != catalog.ByMonths || len(rows) == 0 {
		return rows, nil
	}
	fits, err := d.Lib.Fittings(ctx, inspect.FittingFilter{Part: k.Part})
	if err != nil {
		return nil, err
	}
	came := map[inspect.ID]bool{}
	for _, f := range fits {
		came[f.ID] = cameWithFork(f)
	}
	for i := range rows {
		rows[i].AgeKnown = rows[i].AgeKnown && !came[rows[i].Reading.FittingID]
	}
	return rows, nil
}

// cameWithFork tells a part that was in when the fork first came: Renew always
// gives a batch.
func cameWithFork(f inspect.Fitting) bool { return f.Batch == "" }
