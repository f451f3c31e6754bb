package catalog

import (
	"maps"
	"reflect"
	"slices"
)

// Translated is the catalog in another language: say gives the translation of
// each text that a person reads, or the text itself. What programs read stays:
// ids, units, sources, the names of points (they are kept with readings) and
// the Hash, so that a decision does not depend on the language.
func (c *Catalog) Translated(say func(english string) string) *Catalog {
	out := clone(reflect.ValueOf(*c)).Interface().(Catalog)
	own(&out)
	out.Tongue = say
	for i := range out.Checks {
		out.Checks[i].Tongue = say
	}
	out.texts(func(t string) string {
		if t == "" {
			return ""
		}
		return say(t)
	})
	return &out
}

// Texts lists every text that a person reads, each once, in the order of the
// alphabet.
func (c *Catalog) Texts() []string {
	seen := map[string]bool{}
	c.Translated(func(t string) string { seen[t] = true; return t })
	return slices.Sorted(maps.Keys(seen))
}

// own copies what clone shares: the entries of the lists that hold maps and
// slices of their own.
func own(c *Catalog) {
	for i := range c.Checks {
		c.Checks[i] = clone(reflect.ValueOf(c.Checks[i])).Interface().(Check)
	}
}

// texts puts say over all texts in place.
func (c *Catalog) texts(say func(string) string) {
	put := func(ts ...*string) {
		for _, t := range ts {
			*t = say(*t)
		}
	}
	for i := range c.Zones {
		put(&c.Zones[i].Name, &c.Zones[i].Caution)
	}
	for i := range c.Parts {
		put(&c.Parts[i].Name)
	}
	for i := range c.Kits {
		put(&c.Kits[i].Name)
	}
	for i := range c.Jobs {
		put(&c.Jobs[i].Name)
	}
	for i := range c.Levels {
		put(&c.Levels[i].Name, &c.Levels[i].About)
	}
	for i := range c.Tasks {
		put(&c.Tasks[i].Name, &c.Tasks[i].Caution)
	}
	for i := range c.Instruments {
		put(&c.Instruments[i].Name)
	}
	for i := range c.Symptoms {
		put(&c.Symptoms[i].Name)
	}
	for i := range c.Causes {
		put(&c.Causes[i].Says, &c.Causes[i].SettleBy)
	}
	for i := range c.Sheets {
		put(&c.Sheets[i].Name)
	}
	for i := range c.Checks {
		k := &c.Checks[i]
		put(&k.Name, &k.How, &k.More, &k.Fails)
		for grade, words := range k.Words {
			k.Words[grade] = say(words)
		}
		for j := range k.Fields {
			put(&k.Fields[j])
		}
	}
}
