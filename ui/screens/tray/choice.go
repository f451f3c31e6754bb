package tray

import "slices"

// choice is which shots are chosen. The keys are in the order of the sheet.
type choice struct {
	keys   []string
	chosen map[string]bool
	cursor string // is shown large
	anchor string // where a stretch begins
}

// held says which keys are held while choosing.
type held struct{ shift, ctrl bool }

// follow takes up another list; what is no longer there is no longer chosen.
// The cursor stays near where it was.
func (c *choice) follow(keys []string) {
	old, was := c.keys, slices.Index(c.keys, c.cursor)
	there := map[string]bool{}
	for _, k := range keys {
		there[k] = true
	}
	for k := range c.chosen {
		if !there[k] {
			delete(c.chosen, k)
		}
	}
	if c.chosen == nil {
		c.chosen = map[string]bool{}
	}
	c.keys = keys
	if there[c.cursor] {
		return
	}
	c.cursor, c.anchor = "", ""
	for i := max(was, 0); was >= 0 && i < len(old); i++ { // what lay behind the one that went
		if there[old[i]] {
			c.only(old[i])
			return
		}
	}
	if was >= 0 && len(keys) > 0 {
		c.only(keys[len(keys)-1])
	}
}

func (c *choice) only(key string) {
	c.chosen = map[string]bool{key: true}
	c.cursor, c.anchor = key, key
}

// press chooses by mouse: alone, one more with ctrl, a stretch with shift.
func (c *choice) press(key string, h held) {
	at := slices.Index(c.keys, key)
	switch {
	case at < 0:
	case h.shift && c.anchor != "":
		c.stretch(key, h.ctrl)
	case h.ctrl:
		if c.chosen[key] {
			delete(c.chosen, key)
		} else {
			c.chosen[key] = true
		}
		c.cursor, c.anchor = key, key
	default:
		c.only(key)
	}
}

// stretch chooses all from the anchor to key, and keeps the others with add.
func (c *choice) stretch(key string, add bool) {
	a, b := slices.Index(c.keys, c.anchor), slices.Index(c.keys, key)
	if a < 0 || b < 0 {
		c.only(key)
		return
	}
	if !add {
		c.chosen = map[string]bool{}
	}
	for i := min(a, b); i <= max(a, b); i++ {
		c.chosen[c.keys[i]] = true
	}
	c.cursor = key
}

// move brings the cursor to a key: with shift it chooses the stretch, with ctrl
// it leaves what is chosen.
func (c *choice) move(key string, h held) {
	switch {
	case !slices.Contains(c.keys, key):
	case h.shift && c.anchor != "":
		c.stretch(key, h.ctrl)
	case h.ctrl:
		c.cursor, c.anchor = key, key
	default:
		c.only(key)
	}
}

// turn chooses the shot at the cursor or lets it go.
func (c *choice) turn() {
	if c.cursor != "" {
		c.press(c.cursor, held{ctrl: true})
	}
}

func (c *choice) all() {
	for _, k := range c.keys {
		c.chosen[k] = true
	}
	if c.cursor == "" && len(c.keys) > 0 {
		c.cursor, c.anchor = c.keys[0], c.keys[0]
	}
}

func (c *choice) none() { c.chosen = map[string]bool{} }

// picked are the chosen ones in the order of the sheet.
func (c *choice) picked() []string {
	var out []string
	for _, k := range c.keys {
		if c.chosen[k] {
			out = append(out, k)
		}
	}
	return out
}
