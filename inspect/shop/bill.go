package shop

import "forkwear/inspect"

// Bill is what the lines to replace come to.
type Bill struct {
	Lines, Accepted, Declined int
	All                       Amount // everything that was not declined
	Yes                       Amount // what the customer said yes to
	GoAhead                   inspect.Money
}

// Over reports that what is proposed is beyond 'go ahead up to'; only where the
// customer named a limit.
func (b Bill) Over() bool { return b.GoAhead.Minor > 0 && b.All.Money.Minor > b.GoAhead.Minor }

// Bill sums the lines to replace. An agreed package price stands for what the
// service level always renews and for the work that it does anyway.
func (d *Desk) Bill(c *Case, jobs []Job, p Prices) Bill {
	b := Bill{GoAhead: c.Visit.GoAhead}
	for _, j := range jobs {
		if j.Verdict != inspect.Replace {
			continue
		}
		b.Lines++
		if yes, answered := j.Answered(); answered && yes {
			b.Accepted++
		} else if answered {
			b.Declined++
		}
	}
	b.All = Total(c, jobs, p, func(j Job) bool { yes, answered := j.Answered(); return yes || !answered })
	b.Yes = Total(c, jobs, p, func(j Job) bool { yes, _ := j.Answered(); return yes })
	return b
}

// Total is the sum of the distinct kits and of the distinct work of the lines
// to replace that 'in' picks, with the agreed package price.
func Total(c *Case, jobs []Job, p Prices, in func(Job) bool) Amount {
	t := newTally(c, p)
	t.sum.Money.Minor = c.Visit.Package.Minor
	for _, j := range jobs {
		if j.Verdict == inspect.Replace && in(j) {
			t.take(j, "")
		}
	}
	return t.sum
}

// price says what each line adds to the bill: those that stand, in their order,
// then the declined ones and those that are not asked, as if they came on top.
func price(c *Case, jobs []Job, p Prices) {
	standing := newTally(c, p)
	var later []int
	for i := range jobs {
		j := &jobs[i]
		if yes, answered := j.Answered(); j.Verdict != inspect.Replace || answered && !yes {
			later = append(later, i)
			continue
		}
		standing.sum = Amount{Money: inspect.Money{Currency: p.Currency}}
		j.Shared = standing.take(*j, j.Name)
		j.Price, j.Included = standing.sum, standing.included(*j)
	}
	for _, i := range later {
		j, on := &jobs[i], standing.copied()
		j.Shared = on.take(*j, j.Name)
		j.Price, j.Included = on.sum, on.included(*j)
	}
}

// tally sums kits and work, each once.
type tally struct {
	p        Prices
	packaged bool
	sum      Amount
	kits     map[string]bool
	work     map[string]string // who carries it
}

func newTally(c *Case, p Prices) *tally {
	return &tally{p: p, packaged: c.Visit.Package.Minor > 0, sum: Amount{Money: inspect.Money{Currency: p.Currency}},
		kits: map[string]bool{}, work: map[string]string{}}
}

func (t *tally) copied() *tally {
	n := &tally{p: t.p, packaged: t.packaged, sum: Amount{Money: inspect.Money{Currency: t.p.Currency}},
		kits: map[string]bool{}, work: map[string]string{}}
	for k := range t.kits {
		n.kits[k] = true
	}
	for k, v := range t.work {
		n.work[k] = v
	}
	return n
}

// take adds what is new of a line and names who carries its work already. A
// line that sells nothing and has no planned work has no price that is known.
func (t *tally) take(j Job, by string) (shared string) {
	if len(j.Kits) == 0 && len(j.Work) == 0 {
		t.sum.Unknown++
	}
	for _, k := range j.Kits {
		if id := k.ID + "|" + string(k.Leg); !t.kits[id] {
			t.kits[id] = true
			if !t.packaged || !k.included {
				t.sum.add(t.p.OfKit(k.ID))
			}
		}
	}
	for _, w := range j.Work {
		id := w.ID + "|" + string(w.Leg)
		if who, had := t.work[id]; had {
			shared = who
			continue
		}
		t.work[id] = by
		t.sum.Minutes += t.p.Minutes(w.ID)
		if !t.packaged || !w.included {
			t.sum.add(t.p.OfJob(w.ID))
		}
	}
	return shared
}

// included tells a line that the agreed package price covers in whole.
func (t *tally) included(j Job) bool {
	if !t.packaged || len(j.Kits) == 0 {
		return false
	}
	for _, k := range j.Kits {
		if !k.included {
			return false
		}
	}
	for _, w := range j.Work {
		if !w.included {
			return false
		}
	}
	return true
}
