package settings

import (
	"fmt"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/lang"
	"fyne.io/fyne/v2/widget"

	"forkwear/ui/files"
	"forkwear/ui/place"
	"forkwear/ui/screens/rows"
	"forkwear/ui/widgets"
	"forkwear/ui/words"
)

// folder is the watched folder: where photos come from by themselves.
type folder struct {
	path    *widget.Label
	state   *widget.RichText
	trouble rows.Refusal
	onOff   *widgets.TextButton
	older   *widgets.TextButton
	stop    func() // ends listening
}

func (s *Screen) buildFolder() fyne.CanvasObject {
	f := &s.folder
	f.path = widget.NewLabel("")
	f.path.Wrapping = fyne.TextWrapBreak
	f.path.Selectable = true
	f.state, f.trouble = rows.Quiet(""), rows.NewRefusal()
	f.onOff = widgets.NewTextButton("", false, s.onWatch)
	f.older = widgets.NewTextButton(lang.L("Take in what lay there before"), false, s.onOlder)
	choose := widgets.NewTextButton(lang.L("Choose a folder"), false, s.chooseFolder)
	s.showFolder()
	return container.NewVBox(f.path, f.state, f.trouble.RichText, container.NewHBox(choose, f.onOff), container.NewHBox(f.older),
		rows.Quiet(lang.L("Let the phone sync its photos into this folder, or choose the card of the camera. Each new photo is copied into the library and filed; nothing in the folder is moved or deleted.")))
}

// listenFolder shows each change of the watch while the page is open.
func (s *Screen) listenFolder() {
	if a := s.env.Arrivals; a != nil && s.folder.stop == nil {
		s.folder.stop = a.Listen(func(place.Arrival) {
			if !s.closed {
				s.showFolder()
				rows.Settle(s.page)
			}
		})
	}
	s.showFolder()
}

func (s *Screen) endFolder() {
	if s.folder.stop != nil {
		s.folder.stop()
		s.folder.stop = nil
	}
}

func (s *Screen) watched() place.Watched {
	if s.env.Arrivals == nil {
		return place.Watched{}
	}
	return s.env.Arrivals.Watched()
}

// showFolder says in words how the watch stands.
func (s *Screen) showFolder() {
	f, w := &s.folder, s.watched()
	f.path.SetText(w.Folder)
	f.path.Hidden = w.Folder == ""
	f.onOff.Hidden = w.Folder == ""
	f.older.Hidden = !w.On || w.Since.IsZero()
	text, word := lang.L("No folder is chosen."), lang.L("Watch it again")
	switch {
	case w.On && w.Trouble != "":
		text, word = "", lang.L("Stop watching")
	case w.On && w.Since.IsZero():
		text, word = lang.L("Watching: all photos in it are taken in."), lang.L("Stop watching")
	case w.On:
		text, word = fmt.Sprintf(lang.L("Watching: photos that came after %s are taken in."), words.DateTime(s.inZone(w.Since))), lang.L("Stop watching")
	case w.Folder != "":
		text = lang.L("Not watched.")
	}
	rows.SetQuiet(f.state, text)
	f.state.Hidden = text == ""
	if w.On && w.Trouble != "" {
		f.trouble.Set(fmt.Errorf("%s", w.Trouble))
	} else {
		f.trouble.Set(nil)
	}
	f.onOff.SetWord(word)
}

// inZone shows a time on the shop's clock.
func (s *Screen) inZone(t time.Time) time.Time {
	if z := s.env.Desk.Zone; z != nil {
		return t.In(z)
	}
	return t.Local()
}

func (s *Screen) chooseFolder() { files.AskFolder(s.env, s.folderChosen) }

// folderChosen watches another folder from now on: what lies there already may
// be years of a phone, and is taken in only when that is asked for.
func (s *Screen) folderChosen(path string) {
	s.watch(place.Watched{Folder: path, On: true, Since: s.env.Desk.Clock()}, fmt.Sprintf(lang.L("Watching %s"), path))
}

func (s *Screen) onWatch() {
	w := s.watched()
	w.On = !w.On
	said := lang.L("The folder is not watched any more")
	if w.On {
		said = fmt.Sprintf(lang.L("Watching %s"), w.Folder)
	}
	s.watch(w, said)
}

func (s *Screen) onOlder() {
	s.watch(place.Watched{Folder: s.watched().Folder, On: true}, lang.L("All photos in the watched folder are taken in"))
}

// watch keeps another choice, with the way back.
func (s *Screen) watch(w place.Watched, said string) {
	if s.env.Arrivals == nil {
		return
	}
	before := s.watched()
	s.env.Arrivals.Watch(w)
	s.showFolder()
	rows.Settle(s.page)
	s.env.Say.Saved(said, func() {
		s.env.Arrivals.Watch(before)
		if !s.closed {
			s.showFolder()
			rows.Settle(s.page)
		}
		s.env.Say.Saved(lang.L("The watched folder, as it was"), nil)
	})
}
