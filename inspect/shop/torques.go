package shop

import (
	"forkwear/inspect"
	"forkwear/inspect/catalog"
)

// Torque is a bolt of the work sheet with what was typed for it.
type Torque struct {
	Task catalog.Task
	Done inspect.Task
}

// Typed tells whether a torque was written down.
func (t Torque) Typed() bool { return t.Done.Value != 0 }

// torqueUnit is the unit of tasks that tighten something.
const torqueUnit = "N·m"

// Torques lists the bolts of the work sheet in its order, those of the hand-back
// list with what was typed there.
func Torques(cat *catalog.Catalog, c *Case) []Torque {
	kept := map[string]inspect.Task{}
	for _, t := range c.Tasks {
		kept[t.Key] = t
	}
	var out []Torque
	for _, k := range catalog.TasksFor(cat, c.Sheet, c.Visit.Level, "") {
		t := Torque{k, kept[k.ID]}
		if k.Unit == torqueUnit && (k.List == "service" || t.Typed()) {
			out = append(out, t)
		}
	}
	return out
}
