package shop

import (
	"slices"

	"forkwear/inspect"
	"forkwear/inspect/catalog"
)

// Job is one line of the decision and of the estimate: what is sold and done in
// one go, with the parts that it renews.
type Job struct {
	Key       string // stays the same through a visit: "kit:seal_kit", "kit:top_cap_part|left", "level", "part:axle"
	Name      string // of the kit, of the service level, or of the part
	Level     bool   // what the service level always renews
	Kits      []SoldKit
	Work      []Work
	Parts     []JobPart // those asked for first
	Verdict   inspect.Verdict
	DoNotRide bool
	Price     Amount   // what the line adds to the bill
	Shared    string   // name of the line that already carries work of this one; "" none
	Included  bool     // in the agreed package price
	Needs     []string // keys of the lines without which this one makes no sense
	Why       string   // the reason that decides, one sentence
	Answer    *inspect.Consent
}

// SoldKit is a kit, an assembly or a part to buy; Leg is Whole where one covers
// the fork.
type SoldKit struct {
	catalog.Kit
	Leg      inspect.Leg
	included bool
}

// Work is a job to do; Leg is Whole where it is done once for the fork.
type Work struct {
	catalog.Job
	Leg      inspect.Leg
	included bool
}

// JobPart is one part of a line.
type JobPart struct {
	Assessment inspect.Assessment
	Part       catalog.Part
	Asked      bool   // its own verdict in force is replace
	WithKit    bool   // nothing speaks against it, but it goes out with its kit
	Renewed    bool   // fitted new at this visit
	Says       string // the reason that decides
}

// Answered reports whether the customer answered the line, and how.
func (j Job) Answered() (yes, answered bool) {
	if j.Answer == nil {
		return false, false
	}
	return j.Answer.Accepted, true
}

// Jobs groups the decisions of a visit into what is sold and done in one go: to
// replace first, then to measure again, then to reuse. A kit and a pressed
// assembly cover the fork and count once, however many parts ask for them; a
// loose tube and what is sold as a single part count for each leg. Work counts
// once a visit, or for each leg where all that it fits is sold so. The first
// line that is not declined carries the work that several share. Parts that
// nobody opened appear only where their kit goes out.
func (d *Desk) Jobs(c *Case, as []inspect.Assessment, p Prices) []Job {
	g := grouping{desk: d, c: c, renewed: d.Catalog.Renewed(c.Visit.Level)}
	jobs := g.jobs(as)
	g.needs(jobs)
	price(c, jobs, p)
	return jobs
}

// goesOut tells a part that is exchanged, not one that is reworked or adjusted.
func goesOut(a inspect.Assessment) bool {
	return a.InForce() == inspect.Replace && (a.Override != nil || exchanges(a.Remedy))
}

func opened(a inspect.Assessment) bool { return !a.NotOpened || a.Override != nil }

type grouping struct {
	desk    *Desk
	c       *Case
	renewed []string
}

// bundle is the parts of one kit, in the order of the decisions.
type bundle struct {
	key   string
	kit   SoldKit
	parts []JobPart
}

// name is what the kit is called, with its leg where it is for one; a part that
// is sold as nothing has its own name.
func (b *bundle) name() string {
	if b.kit.ID == "" || b.kit.ID == soldNothing {
		return atLeg(b.parts[0].Part.Name, b.parts[0].Assessment.Leg)
	}
	return atLeg(b.kit.Name, b.kit.Leg)
}

func atLeg(name string, leg inspect.Leg) string {
	if leg == inspect.Whole {
		return name
	}
	return name + ", " + string(leg)
}

func (g *grouping) bundles(as []inspect.Assessment) []*bundle {
	var order []*bundle
	at := map[string]*bundle{}
	for _, a := range as {
		part, _ := g.desk.Catalog.Part(a.Part)
		if part.ID == "" {
			part.ID, part.Name = a.Part, a.Part
		}
		kit := g.soldAs(part, a.Leg)
		key := "kit:" + kit.ID
		if kit.ID == "" {
			key, kit.Leg = "part:"+part.ID, a.Leg
		}
		if kit.Leg != inspect.Whole {
			key += "|" + string(kit.Leg)
		}
		if at[key] == nil {
			at[key] = &bundle{key: key, kit: kit}
			order = append(order, at[key])
		}
		b := at[key]
		b.kit.included = b.kit.included || slices.Contains(g.renewed, a.Part)
		b.parts = append(b.parts, JobPart{Assessment: a, Part: part, Asked: a.InForce() == inspect.Replace && opened(a),
			Renewed: g.c.Renewed(a.Part, a.Leg), Says: sentence(g.desk.Catalog.Tongue, a)})
	}
	return order
}

// soldAs is what a part at a leg is bought as. A kit and a joint assembly cover
// both legs; a loose tube and a single part are bought for one.
func (g *grouping) soldAs(p catalog.Part, leg inspect.Leg) SoldKit {
	k, ok := g.desk.Catalog.Kit(p.SoldAsFor(g.c.Sheet))
	if !ok {
		return SoldKit{Leg: leg}
	}
	s := SoldKit{Kit: k, Leg: inspect.Whole}
	if k.Kind == "part" || k.ID == p.SoldAsLoose {
		s.Leg = leg
	}
	return s
}

// workOf is the work that fitting a kit takes: for each leg where everything
// that the job fits is sold so.
func (g *grouping) workOf(s SoldKit) (Work, bool) {
	j, ok := g.desk.Catalog.Job(s.Job)
	if !ok {
		return Work{}, false
	}
	w := Work{Job: j, Leg: s.Leg}
	for _, part := range g.desk.Catalog.Parts {
		if k := g.soldAs(part, inspect.Left); k.Job == s.Job && k.Leg == inspect.Whole {
			w.Leg = inspect.Whole
		}
	}
	for _, id := range g.renewed { // the level does it anyway
		part, _ := g.desk.Catalog.Part(id)
		w.included = w.included || g.desk.Catalog.Applies(catalog.Check{Part: id}, g.c.Sheet) && g.soldAs(part, s.Leg).Job == s.Job
	}
	return w, true
}
