package theme

import (
	"embed"
	"fmt"
	"image/color"
	"strings"
	"sync"

	"fyne.io/fyne/v2"

	"forkwear/ui/theme/tokens"
)

// Icon names of our own, found by Theme.Icon and by Icon.
const (
	IconNameBench    fyne.ThemeIconName = "forkwearBench"
	IconNameForks    fyne.ThemeIconName = "forkwearForks"
	IconNameDue      fyne.ThemeIconName = "forkwearDue"
	IconNamePatterns fyne.ThemeIconName = "forkwearPatterns"
	IconNameSums     fyne.ThemeIconName = "forkwearSums"
	IconNameSettings fyne.ThemeIconName = "forkwearSettings"
	IconNamePlus     fyne.ThemeIconName = "forkwearPlus"
	IconNameCamera   fyne.ThemeIconName = "forkwearCamera"
	IconNameSearch   fyne.ThemeIconName = "forkwearSearch"
)

//go:embed icons/*.svg icons/app.png
var iconFiles embed.FS

var iconPaths = map[fyne.ThemeIconName]string{
	IconNameBench:    "icons/bench.svg",
	IconNameForks:    "icons/forks.svg",
	IconNameDue:      "icons/due.svg",
	IconNamePatterns: "icons/patterns.svg",
	IconNameSums:     "icons/sums.svg",
	IconNameSettings: "icons/settings.svg",
	IconNamePlus:     "icons/plus.svg",
	IconNameCamera:   "icons/camera.svg",
	IconNameSearch:   "icons/search.svg",
}

var ownIcons = sync.OnceValue(func() map[fyne.ThemeIconName]fyne.Resource {
	m := make(map[fyne.ThemeIconName]fyne.Resource, len(iconPaths))
	for n, p := range iconPaths {
		b, err := iconFiles.ReadFile(p)
		if err != nil {
			continue // a missing drawing falls back to fyne's question mark
		}
		m[n] = &drawing{name: "forkwear-" + p[len("icons/"):], svg: string(b)}
	}
	return m
})

// inkInFile is the colour of the lines in the icon files, which stands for
// the ink of the theme. Fyne's own themed resources change filled areas only
// and would leave our lines black.
const inkInFile = "#000000"

// drawing is one of our icons. Its lines take the ink of the theme when it
// is read, and its name the colour, because drawn icons are kept by name.
type drawing struct {
	name, svg string
	ink       color.Color // nil for the ink of the theme
}

// Name implements fyne.Resource.
func (d *drawing) Name() string { return d.hex()[1:] + "-" + d.name }

// Content implements fyne.Resource.
func (d *drawing) Content() []byte {
	return []byte(strings.ReplaceAll(d.svg, inkInFile, d.hex()))
}

func (d *drawing) hex() string {
	c := d.ink
	if c == nil {
		c = tokens.Light().Ink
		if a := fyne.CurrentApp(); a != nil {
			c = PaletteOf(a.Settings().Theme(), a.Settings().ThemeVariant()).Ink
		}
	}
	n := color.NRGBAModel.Convert(c).(color.NRGBA)
	return fmt.Sprintf("#%02x%02x%02x", n.R, n.G, n.B)
}

// Inked returns one of our drawings in another ink; other resources come
// back as they are.
func Inked(r fyne.Resource, ink color.Color) fyne.Resource {
	if d, ok := r.(*drawing); ok {
		return &drawing{name: d.name, svg: d.svg, ink: ink}
	}
	return r
}

// Icon returns one of our own drawings in the ink of the theme, or nil when
// the name is not ours.
func Icon(n fyne.ThemeIconName) fyne.Resource {
	r, ok := ownIcon(n)
	if !ok {
		return nil
	}
	return r
}

// AppIcon returns the icon of the program, 512 x 512.
func AppIcon() fyne.Resource {
	b, err := iconFiles.ReadFile("icons/app.png")
	if err != nil {
		return nil
	}
	return fyne.NewStaticResource("forkwear.png", b)
}

func ownIcon(n fyne.ThemeIconName) (fyne.Resource, bool) {
	r, ok := ownIcons()[n]
	return r, ok
}
