package inspection

import (
	"slices"
	"sort"

	"forkwear/inspect"
	"forkwear/inspect/catalog"
)

// spot is where the technician stands: a check, a leg and a point of it.
type spot struct {
	check string
	leg   inspect.Leg
	point string
}

// region is a zone at a leg, Whole for what belongs to both.
type region struct {
	zone string
	leg  inspect.Leg
}

func regionOf(p catalog.Position) region { return region{p.Check.Zone, p.Leg} }

// routeOf is the checklist of a stage in the order of work: zone by zone, in
// it left, right, then what belongs to both. Checks that were opened by hand or
// have an answer are in it even where nothing else asks for them.
func (s *Screen) routeOf(stage inspect.Stage) []catalog.Position {
	lines := s.env.Desk.Positions(s.kase, stage)
	in := map[spot]bool{}
	for _, p := range lines {
		in[spot{check: p.Check.ID, leg: p.Leg}] = true
	}
	for _, p := range catalog.AllPositions(s.env.Desk.Catalog, s.kase.Sheet, stage) {
		id := spot{check: p.Check.ID, leg: p.Leg}
		if _, done := s.answerOf(p); !in[id] && (done || s.byHand[stage][id]) {
			lines = append(lines, p)
		}
	}
	order := map[string]int{}
	for _, z := range s.env.Desk.Catalog.Zones {
		order[z.ID] = z.Order
	}
	sort.SliceStable(lines, func(i, j int) bool {
		a, b := lines[i], lines[j]
		if a.Check.Zone != b.Check.Zone {
			return order[a.Check.Zone] < order[b.Check.Zone]
		}
		return legRank(a.Leg) < legRank(b.Leg)
	})
	return lines
}

func legRank(l inspect.Leg) int {
	return slices.Index([]inspect.Leg{inspect.Left, inspect.Right, inspect.Whole}, l)
}

// points of a check, "" where it has none.
func points(k catalog.Check) []string {
	if len(k.Points) == 0 {
		return []string{""}
	}
	return k.Points
}

// slot is where an answer is kept.
func (s *Screen) slot(stage inspect.Stage, at spot) inspect.Slot {
	return inspect.Slot{VisitID: s.where.Visit, Stage: stage, Check: at.check, Leg: at.leg, Point: at.point}
}

// reading is the answer in force in a slot: what still waits to be saved comes
// before what is saved.
func (s *Screen) reading(slot inspect.Slot) (inspect.Reading, bool) {
	for i := len(s.way) - 1; i >= 0; i-- {
		if r, ok := s.way[i].shows[slot]; ok {
			return r, !r.Retracted
		}
	}
	r, ok := s.kase.Current[slot]
	return r, ok
}

// answerOf is the answer of a line: of the point that is farthest gone, else of
// its first answered point.
func (s *Screen) answerOf(p catalog.Position) (inspect.Reading, bool) {
	var first inspect.Reading
	found := false
	for _, pt := range append(points(p.Check), "") {
		r, ok := s.reading(s.slot(p.Stage, spot{p.Check.ID, p.Leg, pt}))
		if ok && (!found || fails(p.Check, s.kase.Sheet, r)) {
			first, found = r, true
		}
	}
	return first, found
}

// fails tells whether an answer by itself says that the part goes out.
func fails(k catalog.Check, sheet catalog.Sheet, r inspect.Reading) bool {
	switch r.Answer {
	case inspect.NotFine:
		return true
	case inspect.Graded:
		return k.LimitGrade > 0 && r.Value >= k.LimitGrade
	case inspect.Measured:
		limit := r.Limit
		if limit == nil {
			_, limit = k.Bounds(sheet)
		}
		return limit != nil && (k.Sense == "rises" && r.Value > *limit || k.Sense == "falls" && r.Value < *limit)
	}
	return false
}

// unsettled is an answer that leaves the question open.
func unsettled(a inspect.Answer) bool {
	return a == inspect.NotLooked || a == inspect.CannotSee || a == inspect.CannotGauge
}

// progress counts the answered lines of a route.
func (s *Screen) progress(lines []catalog.Position) (done int) {
	for _, p := range lines {
		if _, ok := s.answerOf(p); ok {
			done++
		}
	}
	return done
}

// find is the place of a spot's line on the route, -1 for none.
func find(lines []catalog.Position, at spot) int {
	return slices.IndexFunc(lines, func(p catalog.Position) bool { return p.Check.ID == at.check && p.Leg == at.leg })
}

// inRegion is the lines of a zone at a leg.
func inRegion(lines []catalog.Position, r region) []catalog.Position {
	var out []catalog.Position
	for _, p := range lines {
		if regionOf(p) == r {
			out = append(out, p)
		}
	}
	return out
}

// start is the first open spot of a line.
func (s *Screen) start(p catalog.Position) spot {
	for _, pt := range points(p.Check) {
		at := spot{p.Check.ID, p.Leg, pt}
		if _, ok := s.reading(s.slot(p.Stage, at)); !ok {
			return at
		}
	}
	return spot{p.Check.ID, p.Leg, points(p.Check)[0]}
}

// after is the spot that follows: the next point, else the next line, at the
// end of the route the first open line; false when nothing is open any more.
func (s *Screen) after(at spot) (spot, bool) {
	i := find(s.route, at)
	if i < 0 {
		return s.firstOpen(0)
	}
	pts := points(s.route[i].Check)
	if j := slices.Index(pts, at.point); j >= 0 && j+1 < len(pts) {
		return spot{at.check, at.leg, pts[j+1]}, true
	}
	if i+1 < len(s.route) {
		p := s.route[i+1]
		return spot{p.Check.ID, p.Leg, points(p.Check)[0]}, true
	}
	return s.firstOpen(0)
}

// before is the spot that came before.
func (s *Screen) before(at spot) (spot, bool) {
	i := find(s.route, at)
	if i < 0 {
		return spot{}, false
	}
	pts := points(s.route[i].Check)
	if j := slices.Index(pts, at.point); j > 0 {
		return spot{at.check, at.leg, pts[j-1]}, true
	}
	if i == 0 {
		return spot{}, false
	}
	p := s.route[i-1]
	pts = points(p.Check)
	return spot{p.Check.ID, p.Leg, pts[len(pts)-1]}, true
}

// firstOpen is the first line without an answer from a place of the route on,
// looking once round.
func (s *Screen) firstOpen(from int) (spot, bool) {
	for n := range s.route {
		p := s.route[(from+n)%len(s.route)]
		if _, ok := s.answerOf(p); !ok {
			return s.start(p), true
		}
	}
	return spot{}, false
}

// seen is the lines that 'zone seen, nothing found' answers, by the rule of
// shop.Desk.ZoneSeen: base lines without a number of this leg and of both.
func (s *Screen) seen(r region) []catalog.Position {
	var out []catalog.Position
	for _, p := range s.env.Desk.Positions(s.kase, s.stage) {
		if p.Check.Zone != r.zone || p.Leg != r.leg && r.leg != inspect.Whole && p.Leg != inspect.Whole ||
			p.Check.Kind == catalog.Number || !p.Base {
			continue
		}
		if _, done := s.reading(s.slot(s.stage, spot{check: p.Check.ID, leg: p.Leg})); !done {
			out = append(out, p)
		}
	}
	return out
}

// stages that this visit goes through.
func (s *Screen) stages() []inspect.Stage {
	if len(s.kase.Level.Stages) > 0 {
		return s.kase.Level.Stages
	}
	return inspect.Stages()
}
