package catalog

import "math"

// Check returns the check of an id.
func (c *Catalog) Check(id string) (Check, bool) {
	return find(c.Checks, id, func(x Check) string { return x.ID })
}

// Part returns the part of an id.
func (c *Catalog) Part(id string) (Part, bool) {
	return find(c.Parts, id, func(x Part) string { return x.ID })
}

// Kit returns the kit or assembly of an id.
func (c *Catalog) Kit(id string) (Kit, bool) {
	return find(c.Kits, id, func(x Kit) string { return x.ID })
}

// Job returns the job of an id.
func (c *Catalog) Job(id string) (Job, bool) {
	return find(c.Jobs, id, func(x Job) string { return x.ID })
}

// Level returns the service level of an id.
func (c *Catalog) Level(id string) (Level, bool) {
	return find(c.Levels, id, func(x Level) string { return x.ID })
}

// Sheet returns the data sheet of an id.
func (c *Catalog) Sheet(id string) (Sheet, bool) {
	return find(c.Sheets, id, func(x Sheet) string { return x.ID })
}

// Zone returns the zone of an id.
func (c *Catalog) Zone(id string) (Zone, bool) {
	return find(c.Zones, id, func(x Zone) string { return x.ID })
}

// Symptom returns the symptom of an id.
func (c *Catalog) Symptom(id string) (Symptom, bool) {
	return find(c.Symptoms, id, func(x Symptom) string { return x.ID })
}

// Instrument returns the instrument of an id.
func (c *Catalog) Instrument(id string) (Instrument, bool) {
	return find(c.Instruments, id, func(x Instrument) string { return x.ID })
}

// Task returns the work-sheet line of an id.
func (c *Catalog) Task(id string) (Task, bool) {
	return find(c.Tasks, id, func(x Task) string { return x.ID })
}

// ChecksOf returns the checks of one part in catalog order.
func (c *Catalog) ChecksOf(part string) []Check {
	var out []Check
	for _, k := range c.Checks {
		if k.Part == part {
			out = append(out, k)
		}
	}
	return out
}

func find[T any](all []T, id string, idOf func(T) string) (T, bool) {
	for _, x := range all {
		if id != "" && idOf(x) == id {
			return x, true
		}
	}
	var none T
	return none, false
}

// CommonU is the standard uncertainty that all readings of the instrument
// share, in its unit: resolution and calibration as half-widths / sqrt 3, in
// quadrature (JCGM 100:2008, 4.3.7). Repeats never shrink it.
func (i Instrument) CommonU() float64 {
	return math.Sqrt((i.Resolution*i.Resolution + i.Calibration*i.Calibration) / 3)
}
