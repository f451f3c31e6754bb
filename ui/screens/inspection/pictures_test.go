package inspection

import (
	"fmt"
	"image/png"
	"os"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/software"

	"forkwear/inspect"
	"forkwear/inspect/catalog"
	"forkwear/ui/place"
	"forkwear/ui/screens/screentest"
)

// TestPictures writes the screen to look at into the folder that
// FORKWEAR_SHEET names.
func TestPictures(t *testing.T) {
	dir := os.Getenv("FORKWEAR_SHEET")
	if dir == "" {
		t.Skip("set FORKWEAR_SHEET to a folder to get the pictures")
	}
	for _, dark := range []bool{false, true} {
		env := screentest.EnvIn(t, dark)
		s := open(t, env, screentest.Visit(t, env))
		shot := func(name string, w, h float32) {
			env.Window.Resize(fyne.NewSize(w, h))
			settle(env)
			picture(t, env, fmt.Sprintf("%s/inspect-%s-dark=%v.png", dir, name, dark))
		}
		do(env, s, func() { s.goTo(spot{"seals.weep", inspect.Left, ""}) })
		settle(env)
		shot("grade", 1190, 700)
		do(env, s, s.next)
		shot("fine", 1190, 700)
		do(env, s, func() { s.goTo(s.start(s.route[indexOfKind(s, catalog.Number)])) })
		press(env, s, "1.2.3\n")
		shot("number", 1190, 700)
		s.card.number.SetText("")
		do(env, s, func() { s.toStage(inspect.Stripped) })
		shot("stripped", 1190, 700)
		for i, p := range s.route {
			if len(p.Check.Points) > 0 {
				do(env, s, func() { s.goTo(s.start(s.route[i])) })
				break
			}
		}
		shot("points", 1190, 700)
		do(env, s, s.openSearch)
		shot("search", 1190, 700)
		do(env, s, s.closeSearch)
		shot("narrow", 552, 400)
		doubtful(t, env, s)
		shot("doubt", 1190, 700)
	}
}

// doubtful gives the check at work a photo that was here a year ago, with the
// card of another visit.
func doubtful(t *testing.T, env *place.Env, s *Screen) {
	env.Desk.Lib = printed{env.Desk.Lib}
	was := s.kase.Earlier[0].Photos[0]
	env.Desk.Alike = func(a, b string) int {
		if a != b && (a == was.FileName || b == was.FileName) {
			return 4
		}
		return 32
	}
	keepAs(t, env, s, "again-blurred.jpg", func(p *inspect.Photo) { p.CardCode, p.Leg = "another", inspect.Left })
	do(env, s, s.Opened)
	do(env, s, func() { s.move(inspect.Received, spot{"seals.weep", inspect.Left, ""}) })
}

func picture(t *testing.T, env *place.Env, file string) {
	t.Helper()
	img := software.RenderCanvas(env.Window.Canvas(), fyne.CurrentApp().Settings().Theme())
	f, err := os.Create(file)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	if err := png.Encode(f, img); err != nil {
		t.Fatal(err)
	}
}
