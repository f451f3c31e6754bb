package tray

import (
	"fmt"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/lang"
	"fyne.io/fyne/v2/layout"

	"forkwear/ui/files"
	"forkwear/ui/screens/rows"
	"forkwear/ui/theme/tokens"
	"forkwear/ui/widgets"
)

func again() string { return lang.L("Try again") }

func (s *Screen) buildUI() {
	s.title = rows.Title(lang.L("Tray"), true)
	s.watched = rows.Quiet("")
	s.refused = rows.NewRefusal()
	s.asideChip = widgets.NewChip("", s.turnAside)
	s.asideChip.Hide()
	s.grid = newGrid(s)
	s.buildDetail()
	actions := container.New(layout.NewCustomPaddedHBoxLayout(tokens.Step), s.asideChip,
		widgets.NewTextButton(lang.L("Add photos"), false, s.chooseFile),
		widgets.NewTextButton(lang.L("Add a folder"), false, s.chooseFolder))
	head := rows.Beside(s.title, container.NewHBox(layout.NewSpacer(), actions), .5, 620)
	both := &sideBySide{}
	s.body = container.New(both, s.grid, s.detail.box)
	s.state = rows.NewState()
	page := container.NewVScroll(container.New(headOver{}, container.NewVBox(head, s.watched, s.refused.RichText), s.state.Box))
	both.changed = page.Refresh
	s.page, s.root = page, page
	s.showTitle()
	s.showWatched()
}

// settle makes room for a head that is higher or lower now.
func (s *Screen) settle() {
	if s.page != nil {
		rows.Settle(s.page)
	}
}

func (s *Screen) showTitle() {
	text := lang.L("Tray")
	n := len(s.shots)
	switch {
	case s.showing:
		text = fmt.Sprintf(lang.L("Set aside: %d"), len(s.aside))
	case n == 1:
		text = lang.L("Tray: 1 photo waits for its fork")
	case n > 1:
		text = fmt.Sprintf(lang.L("Tray: %d photos wait for their fork"), n)
	}
	rows.SetTitle(s.title, text)
	s.asideChip.Hidden = len(s.aside) == 0 && !s.showing
	word := fmt.Sprintf(lang.L("Set aside: %d"), len(s.aside))
	if s.showing {
		word = lang.L("Back to the tray")
	}
	s.asideChip.SetText(word)
}

// showWatched tells where photos come from by themselves.
func (s *Screen) showWatched() {
	a := s.env.Arrivals
	text := lang.L("Drop photos here, or add them. A watched folder is chosen in the settings.")
	if a != nil {
		switch w := a.Watched(); {
		case w.Trouble != "":
			text = w.Trouble
		case w.On:
			text = fmt.Sprintf(lang.L("Photos that come into %s are taken in by themselves. Nothing there is moved or deleted."), w.Folder)
		case w.Folder != "":
			text = fmt.Sprintf(lang.L("The folder %s is not watched now: turn it on in the settings."), w.Folder)
		}
	}
	rows.SetQuiet(s.watched, text)
	s.settle()
}

const failedLines = 3

func (s *Screen) showFailed() {
	if len(s.failed) == 0 {
		s.refused.Set(nil)
		s.settle()
		return
	}
	lines := s.failed
	more := ""
	if len(lines) > failedLines {
		more = "\n" + fmt.Sprintf(lang.L("and %d more"), len(lines)-failedLines)
		lines = lines[:failedLines]
	}
	s.refused.Set(fmt.Errorf("%s%s", strings.Join(lines, "\n"), more))
	s.settle()
}

func (s *Screen) emptyTray() fyne.CanvasObject {
	return widgets.NewEmptyState(lang.L("No photo waits for its fork"),
		lang.L("Photos find their fork by the bench card in them, by the check in front when they were taken, or by time. Those that cannot be told wait here."),
		lang.L("Add photos"), s.chooseFile)
}

func (s *Screen) emptyAside() fyne.CanvasObject {
	return widgets.NewEmptyState(lang.L("No photo is set aside"), lang.L("Photos that are of no fork can be set aside. They are kept."), lang.L("Back to the tray"), s.turnAside)
}

func (s *Screen) turnAside() {
	s.showing = !s.showing
	s.grid.choice.none()
	s.show()
}

func (s *Screen) chooseFile() { files.AskFile(s.env, s.takeOne) }

func (s *Screen) chooseFolder() { files.AskFolder(s.env, s.takeOne) }

func (s *Screen) takeOne(path string) { s.take([]string{path}) }
