package screens

import (
	"fmt"
	"image/png"
	"math"
	"os"
	"path/filepath"
	"sort"
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/driver/software"
	"fyne.io/fyne/v2/test"

	"forkwear/inspect"
	"forkwear/inspect/verdict"
	"forkwear/ui/place"
	"forkwear/ui/screens/screentest"
	"forkwear/ui/tongue"
	"forkwear/ui/window"
)

// seen is one text on a screen as it was drawn.
type seen struct {
	text        string
	left, right float32 // of its letters
	from, to    float32 // of the place that it may fill
}

func (s seen) fits() bool { return s.left >= s.from-1.5 && s.right <= s.to+1.5 }

// short is a text that was shortened where it stands.
func short(s string) bool { return strings.HasSuffix(s, "…") && !strings.HasSuffix(s, " …") }

// look collects the texts of everything that is shown, each with the place it
// has: that of what it stands in, and of every scroll around it. Pages scroll
// downwards only, so that heights are free; what scrolls sideways is free too.
// Lines of one text have one key, so that a text may break otherwise in another
// language.
type look struct {
	texts map[string][]seen
}

func (l *look) at(o fyne.CanvasObject, path string, x, from, to float32) {
	if !o.Visible() {
		return
	}
	x += o.Position().X
	switch v := o.(type) {
	case *canvas.Text:
		w := fyne.MeasureText(v.Text, v.TextSize, v.TextStyle).Width
		left := x
		switch v.Alignment {
		case fyne.TextAlignCenter:
			left += (v.Size().Width - w) / 2
		case fyne.TextAlignTrailing:
			left += v.Size().Width - w
		}
		if strings.TrimSpace(v.Text) != "" {
			path = path[:strings.LastIndex(path, "/")]
			l.texts[path] = append(l.texts[path], seen{v.Text, left, left + w, from, to})
		}
		return
	case *container.Scroll:
		if v.Direction == container.ScrollHorizontalOnly || v.Direction == container.ScrollBoth && v.Content.MinSize().Width > v.Size().Width {
			from, to = float32(math.Inf(-1)), float32(math.Inf(1))
		} else {
			from, to = max(from, x), min(to, x+v.Size().Width)
		}
		l.at(v.Content, path+"/0", x, from, to)
		return
	}
	var inside []fyne.CanvasObject
	switch v := o.(type) {
	case *fyne.Container:
		inside = v.Objects
	case fyne.Widget:
		inside = test.WidgetRenderer(v).Objects()
		if w := v.Size().Width; w > 0 {
			from, to = max(from, x), min(to, x+w)
		}
	}
	for i, c := range inside {
		l.at(c, fmt.Sprintf("%s/%d", path, i), x, from, to)
	}
}

// places are all that can be opened, each with something to show.
func places(t *testing.T, env *place.Env) []place.Where {
	visit := screentest.Decided(t, env)
	c := screentest.Open(t, env, visit)
	photo := inspect.ID("")
	for _, p := range c.Photos {
		photo = p.ID
	}
	var out []place.Where
	for name := range Openers() {
		out = append(out, place.Where{Name: name, Visit: visit, Fork: c.Fork.ID, Check: "seals.weep", Leg: inspect.Left, Photo: photo})
	}
	sort.Slice(out, func(i, j int) bool { return out[i].Name < out[j].Name })
	return out
}

// drawn opens every place in a language and gives its texts by place and width;
// tree paths are the keys. Pictures go to the folder that FORKWEAR_PICTURES
// names.
func drawn(t *testing.T, code string, dark bool) map[string]map[string][]seen {
	t.Helper()
	if _, err := window.UseLanguage(code); err != nil {
		t.Fatal(err)
	}
	env := screentest.EnvIn(t, dark)
	env.Rules = verdict.Rules{}
	if code != tongue.English {
		env.Desk.Catalog = env.Desk.Catalog.Translated(tongue.Say)
	}
	out := map[string]map[string][]seen{}
	for _, w := range places(t, env) {
		s := Openers()[w.Name](env, w)
		env.Window.SetContent(s.Content())
		env.Window.Resize(fyne.NewSize(1190, 700))
		s.Opened()
		env.Run.Wait()
		for _, size := range []fyne.Size{{Width: 1190, Height: 700}, {Width: 640, Height: 400}} {
			env.Window.Resize(size)
			l := look{map[string][]seen{}}
			l.at(env.Window.Canvas().Content(), "", 0, 0, size.Width)
			key := fmt.Sprintf("%s %.0fx%.0f", w.Name, size.Width, size.Height)
			out[key] = l.texts
			picture(t, env, fmt.Sprintf("%s-%.0f-%s-dark=%v", w.Name, size.Width, code, dark))
		}
		s.Closed()
	}
	return out
}

func picture(t *testing.T, env *place.Env, name string) {
	dir := os.Getenv("FORKWEAR_PICTURES")
	if dir == "" {
		return
	}
	f, err := os.Create(filepath.Join(dir, name+".png"))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	if err := png.Encode(f, software.RenderCanvas(env.Window.Canvas(), fyne.CurrentApp().Settings().Theme())); err != nil {
		t.Fatal(err)
	}
}

// Every text of every place fits where it stands, at the size of a small screen
// and at twice its scale, in every language; and none is cut short that is whole
// in English.
func TestTextsFitTheirPlace(t *testing.T) {
	t.Setenv("LANGUAGE", "en")
	t.Cleanup(func() { _, _ = window.UseLanguage(tongue.English) })
	english := drawn(t, tongue.English, false)
	n := 0
	for _, l := range tongue.Languages() {
		all := english
		if l.Code != tongue.English {
			all = drawn(t, l.Code, os.Getenv("FORKWEAR_PICTURES") != "")
		}
		for key, texts := range all {
			for path, lines := range texts {
				for _, s := range lines {
					n++
					if !s.fits() {
						t.Errorf("%s %s: %q stands from %.0f to %.0f in a place from %.0f to %.0f", l.Code, key, s.text, s.left, s.right, s.from, s.to)
					}
				}
				last, whole := lines[len(lines)-1].text, english[key][path]
				if short(last) && len(whole) > 0 && !strings.HasSuffix(whole[len(whole)-1].text, "…") {
					t.Errorf("%s %s: cut short to %q, in English whole: %q", l.Code, key, last, whole[len(whole)-1].text)
				}
			}
		}
	}
	if n < 2000 {
		t.Errorf("only %d texts were found: the look is broken", n)
	}
}
