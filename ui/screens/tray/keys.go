package tray

import (
	"slices"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/lang"
)

func heldIn(m fyne.KeyModifier) held {
	return held{m&fyne.KeyModifierShift != 0, m&fyne.KeyModifierShortcutDefault != 0}
}

// Says implements widgets.Saying.
func (g *grid) Says() string { return lang.L("Photos of the tray") }

// FocusGained implements fyne.Focusable.
func (g *grid) FocusGained() {
	g.focused = true
	if g.choice.cursor == "" && len(g.choice.keys) > 0 {
		g.choice.cursor, g.choice.anchor = g.choice.keys[0], g.choice.keys[0]
	}
	g.mark()
}

// FocusLost implements fyne.Focusable.
func (g *grid) FocusLost() { g.focused, g.keys = false, held{}; g.mark() }

// KeyDown implements desktop.Keyable.
func (g *grid) KeyDown(e *fyne.KeyEvent) { g.hold(e, true) }

// KeyUp implements desktop.Keyable.
func (g *grid) KeyUp(e *fyne.KeyEvent) { g.hold(e, false) }

func (g *grid) hold(e *fyne.KeyEvent, down bool) {
	switch e.Name {
	case desktop.KeyShiftLeft, desktop.KeyShiftRight:
		g.keys.shift = down
	case desktop.KeyControlLeft, desktop.KeyControlRight, desktop.KeySuperLeft, desktop.KeySuperRight:
		g.keys.ctrl = down
	}
}

// TypedShortcut implements fyne.Shortcutable: all with ctrl+A.
func (g *grid) TypedShortcut(s fyne.Shortcut) {
	if _, ok := s.(*fyne.ShortcutSelectAll); ok {
		g.choice.all()
		g.mark()
	}
}

// TypedRune implements fyne.Focusable: 1 to 9 file with the visit beside.
func (g *grid) TypedRune(r rune) {
	if r >= '1' && r <= '9' {
		g.s.fileWith(int(r - '1'))
	}
}

// TypedKey implements fyne.Focusable.
func (g *grid) TypedKey(e *fyne.KeyEvent) {
	keys := g.choice.keys
	at := slices.Index(keys, g.choice.cursor)
	switch e.Name {
	case fyne.KeySpace:
		g.choice.turn()
		g.mark()
		return
	case fyne.KeyEscape:
		g.choice.none()
		g.mark()
		return
	case fyne.KeyReturn, fyne.KeyEnter:
		g.s.focusVisits()
		return
	}
	if len(keys) == 0 {
		return
	}
	before := len(g.sheet.shots) - len(keys) // what is coming stands before
	to := at
	switch e.Name {
	case fyne.KeyLeft:
		to--
	case fyne.KeyRight:
		to++
	case fyne.KeyUp:
		to = g.sheet.below(before+max(0, at), -1) - before
	case fyne.KeyDown:
		to = g.sheet.below(before+max(0, at), 1) - before
	case fyne.KeyPageUp:
		to = g.sheet.below(before+max(0, at), -3) - before
	case fyne.KeyPageDown:
		to = g.sheet.below(before+max(0, at), 3) - before
	case fyne.KeyHome:
		to = 0
	case fyne.KeyEnd:
		to = len(keys) - 1
	default:
		return
	}
	to = max(0, min(to, len(keys)-1))
	g.choice.move(keys[to], g.keys)
	g.reveal(before + to)
	g.mark()
}

// reveal scrolls a shot into sight.
func (g *grid) reveal(shot int) {
	i := g.sheet.rowOf(shot)
	if i < 0 {
		return
	}
	r, seen := g.sheet.rows[i], g.scroll.Size().Height
	top := r.y
	if i > 0 && g.sheet.rows[i-1].head != "" {
		top = g.sheet.rows[i-1].y
	}
	off := g.scroll.Offset.Y
	switch {
	case top < off:
		off = top
	case r.y+r.h > off+seen:
		off = r.y + r.h - seen
	default:
		return
	}
	g.scroll.ScrollToOffset(fyne.NewPos(0, off))
	g.arrange()
}
