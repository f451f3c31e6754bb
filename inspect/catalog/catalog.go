package catalog

import "forkwear/inspect"

// Catalog is all of the shop's knowledge: what is looked at, what it means.
type Catalog struct {
	Zones       []Zone
	Parts       []Part
	Kits        []Kit
	Jobs        []Job
	Checks      []Check
	Levels      []Level
	Tasks       []Task
	Instruments []Instrument
	Symptoms    []Symptom
	Causes      []Cause
	Sheets      []Sheet
	Hash        string         // SHA-256 of all that was read, for assessments
	Tongue      inspect.Tongue // of the sentences made with it; nil is English
}

// Position is one check at one leg: a line of the checklist.
type Position struct {
	Check Check
	Leg   inspect.Leg
	Stage inspect.Stage
	Base  bool // on the base list of the level; else opened by a finding
}
