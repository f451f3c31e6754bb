package window

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/lang"

	"forkwear/ui/place"
)

// menu holds the shortcuts of the whole program: a focused entry swallows what
// is not on a menu.
func (f *Frame) menu() *fyne.MainMenu {
	item := func(word string, key fyne.KeyName, do func()) *fyne.MenuItem {
		i := fyne.NewMenuItem(word, do)
		i.Shortcut = &desktop.CustomShortcut{KeyName: key, Modifier: fyne.KeyModifierShortcutDefault}
		return i
	}
	undo := fyne.NewMenuItem(lang.L("Undo"), f.undo)
	undo.Shortcut = &fyne.ShortcutUndo{}
	to := func(n place.Name) func() { return func() { f.Go(place.Where{Name: n}) } }
	m := fyne.NewMainMenu(
		fyne.NewMenu(lang.L("Workshop"),
			item(lang.L("New drop-off"), fyne.KeyN, f.onNewDropOff),
			item(lang.L("Find"), fyne.KeyF, f.focusSearch),
			undo,
			item(lang.L("Main step of this place"), fyne.KeyReturn, f.act),
			item(lang.L("Bench card of this visit ..."), fyne.KeyP, f.askCard),
			item(lang.L("Back"), fyne.KeyB, f.Back)),
		fyne.NewMenu(lang.L("Go to"),
			item(lang.L("Bench"), fyne.Key1, to(place.Bench)),
			item(lang.L("Forks"), fyne.Key2, to(place.Forks)),
			item(lang.L("Due"), fyne.Key3, to(place.Due)),
			item(lang.L("Patterns"), fyne.Key4, to(place.Patterns)),
			item(lang.L("Bench sums"), fyne.Key5, to(place.Sums)),
			item(lang.L("Settings"), fyne.Key6, to(place.Settings))))
	if who := f.people.menu(); who != nil {
		m.Items = append(m.Items, who)
	}
	return m
}

// undoing is a field that can take back what was typed into it.
type undoing interface{ Undo() }

// undo takes back the newest step of the place that is shown; while something is
// being typed, the typing.
func (f *Frame) undo() {
	if field, ok := f.env.Window.Canvas().Focused().(undoing); ok {
		if t, ok := field.(interface{ Typing() bool }); !ok || t.Typing() {
			field.Undo()
			return
		}
	}
	f.say.undo()
}

// act does the main step of the place that is shown.
func (f *Frame) act() {
	if a, ok := f.now.(place.Acting); ok {
		f.env.Window.Canvas().Unfocus() // a field keeps what was typed when it is left
		a.Act()
		return
	}
	f.env.Say.Hint(lang.L("This place has no main step."))
}
