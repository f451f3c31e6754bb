package shop

import (
	"context"
	"math"
	"reflect"

	"gonum.org/v1/gonum/stat"

	"forkwear/inspect"
	"forkwear/inspect/catalog"
)

// Answer is what a person says to one check.
type Answer struct {
	Check      string
	Leg        inspect.Leg
	Point      string
	Stage      inspect.Stage
	Answer     inspect.Answer
	Value      float64 // grade, or number in the check's unit; the mean where Raw has repeats
	U          float64 // standard uncertainty of Value; 0: the instrument's
	Raw        []float64
	Typed      string
	Instrument string
	Fields     string
	Note       string
}

// Answer keeps one reading in a transaction of its own, superseding what stood
// in its slot, and refreshes the case.
func (d *Desk) Answer(ctx context.Context, c *Case, a Answer) (inspect.Reading, error) {
	rs, err := d.AnswerAll(ctx, c, a)
	if err != nil {
		return inspect.Reading{}, err
	}
	return rs[0], nil
}

// AnswerAll keeps several readings in one transaction, all or none. Where two
// stood against each other in a slot the new one ends both. It returns the
// readings in the order of as, then those by which it ended others: taken back
// together, the last first, all stands as before.
func (d *Desk) AnswerAll(ctx context.Context, c *Case, as ...Answer) ([]inspect.Reading, error) {
	rs := make([]inspect.Reading, 0, len(as))
	var others []inspect.Reading
	for _, a := range as {
		r, err := d.reading(c, a)
		if err != nil {
			return nil, err
		}
		rs, others = append(rs, r), append(others, d.endOthers(c, r)...)
	}
	rs = append(rs, others...)
	if err := d.Lib.AddReadings(ctx, rs...); err != nil {
		return nil, err
	}
	return rs, d.reloadReadings(ctx, c)
}

func (d *Desk) reading(c *Case, a Answer) (inspect.Reading, error) {
	k, ok := d.Catalog.Check(a.Check)
	if !ok {
		return inspect.Reading{}, inspect.Refuse(inspect.NotFound, "the check %q is not in the catalog", a.Check)
	}
	if len(a.Raw) > 0 {
		a.Value = stat.Mean(a.Raw, nil)
	}
	r := inspect.Reading{ID: d.NewID(), VisitID: c.Visit.ID, Check: a.Check, Leg: a.Leg, Point: a.Point, Stage: a.Stage,
		Answer: a.Answer, Value: a.Value, Unit: k.Unit, Typed: a.Typed, Raw: a.Raw, Instrument: a.Instrument,
		Fields: a.Fields, Note: a.Note, By: d.Who(), At: d.Clock()}
	if f, ok := c.fittingAt(k.Part, a.Leg, a.Stage); ok {
		r.FittingID = f.ID
	}
	if a.Answer == inspect.Measured {
		if r.Instrument == "" && len(k.Instruments) > 0 {
			r.Instrument = k.Instruments[0]
		}
		if r.U = a.U; !(r.U > 0) {
			r.U = d.uncertainty(k, r)
		}
		r.New, r.Limit = k.Bounds(c.Sheet)
	}
	if old, ok := c.head(r.Slot()); ok {
		r.Supersedes = old.ID
	}
	return r, r.Validate()
}

// head is the newest entry of a slot, where all are taken back one of these:
// what comes next supersedes it, or the slot would have two heads.
func (c *Case) head(slot inspect.Slot) (inspect.Reading, bool) {
	replaced := map[inspect.ID]bool{}
	for _, r := range c.Readings {
		replaced[r.Supersedes] = true
	}
	var last inspect.Reading
	found := false
	for _, r := range c.Readings {
		if r.Slot() == slot && !replaced[r.ID] && (!found || last.Retracted && !r.Retracted || last.Retracted == r.Retracted && r.ID > last.ID) {
			last, found = r, true
		}
	}
	return last, found
}

// uncertainty of a number: resolution and calibration of the instrument as
// half-widths / sqrt 3, the method and the repeats' standard error, in
// quadrature (JCGM 100). Without a known instrument 1 % of the value.
func (d *Desk) uncertainty(k catalog.Check, r inspect.Reading) float64 {
	g, ok := d.Catalog.Instrument(r.Instrument)
	if !ok {
		return math.Abs(r.Value) * 0.01
	}
	if n := float64(len(r.Raw)); n > 1 {
		return math.Hypot(g.CommonU(), math.Max(stat.StdDev(r.Raw, nil), g.Method)/math.Sqrt(n))
	}
	return math.Hypot(g.CommonU(), g.Method)
}

// ZoneSeen marks every check of a zone and side at a stage that has no answer
// yet as 'zone looked over, nothing found', and keeps it as exactly that.
func (d *Desk) ZoneSeen(ctx context.Context, c *Case, zone string, leg inspect.Leg, stage inspect.Stage) (int, error) {
	var rs []inspect.Reading
	for _, p := range d.Positions(c, stage) {
		if p.Check.Zone != zone || (p.Leg != leg && leg != inspect.Whole && p.Leg != inspect.Whole) || p.Check.Kind == catalog.Number || !p.Base {
			continue
		}
		a := Answer{Check: p.Check.ID, Leg: p.Leg, Stage: stage, Answer: inspect.ZoneSeen}
		if _, done := c.Current[inspect.Slot{VisitID: c.Visit.ID, Stage: stage, Check: a.Check, Leg: a.Leg}]; done {
			continue
		}
		r, err := d.reading(c, a)
		if err != nil {
			return 0, err
		}
		rs = append(rs, r)
	}
	if len(rs) == 0 {
		return 0, nil
	}
	if err := d.Lib.AddReadings(ctx, rs...); err != nil {
		return 0, err
	}
	return len(rs), d.reloadReadings(ctx, c)
}

// Undo takes back an entry: what it superseded stands again, or nothing where
// it was the first. Nothing is erased; the chain keeps both, so undoing the
// undo brings the entry back. Only what stands can be taken back: the newest
// entry of a slot, or one that stands again because those after it were taken
// back. One that has been changed since is refused.
func (d *Desk) Undo(ctx context.Context, c *Case, id inspect.ID) error {
	byID := map[inspect.ID]inspect.Reading{}
	for _, r := range c.Readings {
		byID[r.ID] = r
	}
	r, ok := byID[id]
	if !ok {
		return inspect.Refuse(inspect.NotFound, "there is no such entry in visit %d to take back", c.Visit.Ticket)
	}
	head, ok := c.after(r)
	if !ok || head.ID != id && !saysTheSame(head, r) {
		return inspect.Refuse(inspect.Conflict, "this entry of check %s has been changed since: take back the newer one first", r.Check)
	}
	back := r
	if before, had := byID[r.Supersedes]; had {
		back = before // a retracted one stays retracted: the slot is empty again
	} else {
		back.Retracted = true
	}
	back.ID, back.Supersedes, back.By, back.At = d.NewID(), head.ID, d.Who(), d.Clock()
	if k, ok := d.Catalog.Check(r.Check); ok && r.Stage == inspect.AfterWork { // which part is in may have changed since
		f, _ := c.fittingAt(k.Part, r.Leg, r.Stage)
		back.FittingID = f.ID
	}
	if err := d.Lib.AddReadings(ctx, back); err != nil {
		return err
	}
	return d.reloadReadings(ctx, c)
}

// after is the last of the entries that came out of one another from r on; false
// where they part.
func (c *Case) after(r inspect.Reading) (inspect.Reading, bool) {
	for range c.Readings {
		var next []inspect.Reading
		for _, n := range c.Readings {
			if n.Supersedes == r.ID {
				next = append(next, n)
			}
		}
		switch len(next) {
		case 0:
			return r, true
		case 1:
			r = next[0]
		default:
			return r, false
		}
	}
	return r, false // a ring, in a damaged library
}

// saysTheSame tells whether two entries of a slot say the same, whoever wrote
// them when and on which part.
func saysTheSame(a, b inspect.Reading) bool {
	a.ID, a.Supersedes, a.By, a.At, a.FittingID = b.ID, b.Supersedes, b.By, b.At, b.FittingID
	return reflect.DeepEqual(a, b)
}

// Progress counts the checks of a stage that have an answer.
func (d *Desk) Progress(c *Case, stage inspect.Stage, zone string, leg inspect.Leg) (done, of int) {
	for _, p := range d.Positions(c, stage) {
		if zone != "" && (p.Check.Zone != zone || leg != inspect.Whole && p.Leg != leg) {
			continue
		}
		of++
		if c.Answered(p) {
			done++
		}
	}
	return done, of
}

// Answered tells whether a line of the checklist has a reading in force, at any
// of its points.
func (c *Case) Answered(p catalog.Position) bool {
	_, ok := c.At(p)
	return ok
}

// At returns the reading in force of a line of the checklist: of its first
// answered point.
func (c *Case) At(p catalog.Position) (inspect.Reading, bool) {
	points := p.Check.Points
	if len(points) == 0 {
		points = []string{""}
	}
	for _, pt := range points {
		if r, ok := c.Current[inspect.Slot{VisitID: c.Visit.ID, Stage: p.Stage, Check: p.Check.ID, Leg: p.Leg, Point: pt}]; ok {
			return r, true
		}
	}
	r, ok := c.Current[inspect.Slot{VisitID: c.Visit.ID, Stage: p.Stage, Check: p.Check.ID, Leg: p.Leg}]
	return r, ok
}
