package shop

import (
	"slices"
	"sort"

	"forkwear/inspect"
)

func (g *grouping) jobs(as []inspect.Assessment) []Job {
	var jobs []Job
	level := -1
	for _, b := range g.bundles(as) {
		if slices.ContainsFunc(b.parts, func(p JobPart) bool { return goesOut(p.Assessment) && opened(p.Assessment) }) {
			j := g.exchange(b)
			switch {
			case !j.Level:
				jobs = append(jobs, j)
			case level < 0:
				level = len(jobs)
				jobs = append(jobs, j)
			default:
				jobs[level] = joined(jobs[level], j)
			}
			continue
		}
		jobs = append(jobs, g.stays(b)...)
	}
	for i := range jobs {
		g.finish(&jobs[i])
	}
	sort.SliceStable(jobs, func(i, j int) bool { return less(jobs[i], jobs[j]) })
	return jobs
}

func less(a, b Job) bool {
	switch {
	case order(a.Verdict) != order(b.Verdict):
		return order(a.Verdict) < order(b.Verdict)
	case a.DoNotRide != b.DoNotRide:
		return a.DoNotRide
	}
	return !a.Level && b.Level
}

// exchange is the line of a kit that goes out: all its parts go with it.
func (g *grouping) exchange(b *bundle) Job {
	j := Job{Key: b.key, Name: b.name(), Kits: []SoldKit{b.kit}, Verdict: inspect.Replace, Level: true}
	if w, ok := g.workOf(b.kit); ok {
		j.Work = []Work{w}
	}
	for _, p := range b.parts {
		p.WithKit = !p.Asked && p.Assessment.Override == nil
		if p.Asked && !g.always(p.Assessment) {
			j.Level = false
		}
		j.Parts = append(j.Parts, p)
	}
	if b.kit.ID == "" {
		j.Kits = nil
	}
	if j.Level {
		j.Key, j.Name = "level", g.c.Level.Name
	}
	return j
}

// always tells a part that goes out because its service level renews it.
func (g *grouping) always(a inspect.Assessment) bool {
	r, _ := deciding(a)
	return a.Override == nil && r.Rule == 4 && slices.Contains(g.renewed, a.Part)
}

// stays are the lines of a kit that is not bought: one for each part that is
// reworked, one for all the others that were opened.
func (g *grouping) stays(b *bundle) []Job {
	var out []Job
	rest := Job{Key: b.key, Name: b.name(), Kits: []SoldKit{b.kit}, Verdict: inspect.Reuse}
	if b.kit.ID == "" {
		rest.Kits = nil
	}
	if w, ok := g.workOf(b.kit); ok {
		rest.Work = []Work{w}
	}
	for _, p := range b.parts {
		switch {
		case p.Asked:
			out = append(out, Job{Key: "part:" + p.Part.ID + "|" + string(p.Assessment.Leg), Name: atLeg(p.Part.Name, p.Assessment.Leg),
				Verdict: inspect.Replace, Parts: []JobPart{p}})
		case opened(p.Assessment):
			rest.Parts = append(rest.Parts, p)
			if p.Assessment.InForce() == inspect.Measure {
				rest.Verdict = inspect.Measure
			}
		}
	}
	if len(rest.Parts) > 0 {
		out = append(out, rest)
	}
	return out
}

func joined(a, b Job) Job {
	a.Kits, a.Parts = append(a.Kits, b.Kits...), append(a.Parts, b.Parts...)
	for _, w := range b.Work {
		if !slices.ContainsFunc(a.Work, func(x Work) bool { return x.ID == w.ID && x.Leg == w.Leg }) {
			a.Work = append(a.Work, w)
		}
	}
	return a
}

// finish sorts the parts of a line, the deciding one first, and takes over what
// it says.
func (g *grouping) finish(j *Job) {
	sort.SliceStable(j.Parts, func(a, b int) bool { return ahead(j.Parts[a], j.Parts[b]) })
	j.Why = j.Parts[0].Says
	if j.Level {
		j.Why = g.desk.Catalog.Tongue.Say("Always renewed at this service.")
	}
	for _, p := range j.Parts {
		j.DoNotRide = j.DoNotRide || p.Assessment.DoNotRide && opened(p.Assessment)
	}
	j.Answer = g.answer(*j)
}

func ahead(a, b JobPart) bool {
	x, y := a.Assessment, b.Assessment
	rx, _ := deciding(x)
	ry, _ := deciding(y)
	switch {
	case a.Asked != b.Asked:
		return a.Asked
	case x.DoNotRide != y.DoNotRide:
		return x.DoNotRide
	case order(x.InForce()) != order(y.InForce()):
		return order(x.InForce()) < order(y.InForce())
	}
	return rx.Rule < ry.Rule
}

// answer is the customer's answer to a line: yes where every part that is asked
// for has one, no where any was declined, else none.
func (g *grouping) answer(j Job) *inspect.Consent {
	var out *inspect.Consent
	for _, p := range j.Parts {
		if !p.Asked {
			continue
		}
		k, ok := g.c.answerOn(p.Assessment.ID)
		if ok && !k.Accepted {
			return &k
		}
		if !ok {
			return nil
		}
		if out == nil || out.At.Before(k.At) {
			out = &k
		}
	}
	return out
}

func deciding(a inspect.Assessment) (inspect.Reason, bool) {
	for _, r := range a.Reasons {
		if r.Decide {
			return r, true
		}
	}
	return inspect.Reason{}, false
}

func sentence(tongue inspect.Tongue, a inspect.Assessment) string {
	if a.Override != nil {
		return tongue.Sayf("Changed by hand: %s", a.Override.Reason)
	}
	r, _ := deciding(a)
	return r.Plain
}
