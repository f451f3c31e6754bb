package theme

import (
	"bytes"
	"fmt"
	"image/color"
	"image/png"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"
	fynetheme "fyne.io/fyne/v2/theme"

	"forkwear/ui/theme/tokens"
)

// 4.5:1 is the least contrast of text in WCAG 2.1, success criterion 1.4.3 (AA).
const leastContrast = 4.5

func TestTextContrast(t *testing.T) {
	for _, dark := range []bool{false, true} {
		p := tokens.For(dark)
		type pair struct {
			what         string
			text, ground color.NRGBA
		}
		pairs := []pair{
			{"accent button", p.OnAccent, p.Accent},
			{"do not ride", p.OnDoNotRide, p.DoNotRide},
		}
		if onMark := p.Panel; !dark {
			pairs = append(pairs, pair{"count on replace", onMark, p.Replace})
		} else {
			pairs = append(pairs, pair{"count on replace", p.Paper, p.Replace})
		}
		for name, ground := range map[string]color.NRGBA{"paper": p.Paper, "panel": p.Panel} {
			for text, c := range map[string]color.NRGBA{"ink": p.Ink, "quiet ink": p.QuietInk, "accent": p.Accent,
				"reuse": p.Reuse, "replace": p.Replace, "measure again": p.Measure} {
				pairs = append(pairs, pair{text + " on " + name, c, ground})
			}
			for tint, c := range map[string]color.NRGBA{"reuse": p.Reuse, "replace": p.Replace,
				"measure": p.Measure, "do not ride": p.DoNotRide, "accent": p.Accent} {
				pairs = append(pairs, pair{"ink on " + tint + " tint on " + name, p.Ink, tokens.Over(tokens.Tint(c), ground)})
			}
		}
		for _, q := range pairs {
			if got := tokens.Contrast(q.text, q.ground); got < leastContrast {
				t.Errorf("dark=%v, %s: contrast %.2f, want at least %.1f", dark, q.what, got, leastContrast)
			}
		}
	}
}

func TestContrastOfKnownPairs(t *testing.T) {
	grey := func(v uint8) color.NRGBA { return color.NRGBA{R: v, G: v, B: v, A: 255} }
	for _, c := range []struct {
		a, b      color.NRGBA
		want, tol float64
	}{
		{grey(0), grey(255), 21, 1e-9},       // WCAG 2.1: the greatest ratio is 21:1
		{grey(255), grey(255), 1, 1e-9},      // and the least 1:1
		{grey(0x76), grey(255), 4.54, 0.005}, // #767676 on white, a widely quoted pair, from memory
		{grey(255), grey(0x76), 4.54, 0.005}, // the order does not matter
	} {
		if got := tokens.Contrast(c.a, c.b); got < c.want-c.tol || got > c.want+c.tol {
			t.Errorf("Contrast(%v, %v) = %.4f, want %.4f", c.a, c.b, got, c.want)
		}
	}
}

func TestForcedVariantIgnoresTheSystem(t *testing.T) {
	dark := New(WithVariant(fynetheme.VariantDark))
	if got := dark.Color(fynetheme.ColorNameBackground, fynetheme.VariantLight); got != tokens.Dark().Paper {
		t.Errorf("forced dark gave %v", got)
	}
	free := New()
	if got := free.Color(ColorNamePanel, fynetheme.VariantLight); got != tokens.Light().Panel {
		t.Errorf("unforced light gave %v", got)
	}
	if got := free.Color(ColorNamePanel, fynetheme.VariantDark); got != tokens.Dark().Panel {
		t.Errorf("unforced dark gave %v", got)
	}
}

func TestAllFyneColoursAreDefined(t *testing.T) {
	test.NewTempApp(t)
	test.AssertAllColorNamesDefined(t, New(), "forkwear")
}

func TestSizes(t *testing.T) {
	// 14, 16, 20, 28: the type sizes of the design.
	th := New()
	for n, want := range map[fyne.ThemeSizeName]float32{
		fynetheme.SizeNameCaptionText: 14, fynetheme.SizeNameText: 16,
		fynetheme.SizeNameSubHeadingText: 20, fynetheme.SizeNameHeadingText: 28,
		SizeNameTarget: 44, fynetheme.SizeNameInputRadius: 6,
	} {
		if got := th.Size(n); got != want {
			t.Errorf("size %s is %v, want %v", n, got, want)
		}
	}
	if got := New(WithTextScale(9)).Size(fynetheme.SizeNameText); got != 32 {
		t.Errorf("text scale is not pulled in to 2: %v", got)
	}
}

func TestPaletteOfForeignTheme(t *testing.T) {
	test.NewTempApp(t)
	if p := PaletteOf(fynetheme.DefaultTheme(), fynetheme.VariantDark); !p.Dark {
		t.Error("the default dark theme gave the light palette")
	}
	if p := PaletteOf(fynetheme.DefaultTheme(), fynetheme.VariantLight); p.Dark {
		t.Error("the default light theme gave the dark palette")
	}
	if p := PaletteOf(nil, fynetheme.VariantDark); !p.Dark {
		t.Error("no theme, dark variant gave the light palette")
	}
}

func TestIconsTakeTheInk(t *testing.T) {
	a := test.NewTempApp(t)
	th := New(WithVariant(fynetheme.VariantDark))
	a.Settings().SetTheme(th)
	ink := tokens.Dark().Ink
	want := fmt.Sprintf("#%02x%02x%02x", ink.R, ink.G, ink.B)
	for n := range iconPaths {
		r := th.Icon(n)
		if r == nil || !bytes.Contains(r.Content(), []byte(want)) {
			t.Errorf("icon %s is not drawn in %s", n, want)
		}
		red := Inked(r, color.NRGBA{R: 255, A: 255})
		if !bytes.Contains(red.Content(), []byte("#ff0000")) || red.Name() == r.Name() {
			t.Errorf("icon %s cannot be inked", n)
		}
	}
	if Icon("no such icon") != nil {
		t.Error("an unknown icon is not nil")
	}
}

func TestAppIcon(t *testing.T) {
	img, err := png.Decode(bytes.NewReader(AppIcon().Content()))
	if err != nil {
		t.Fatal(err)
	}
	if s := img.Bounds().Size(); s.X != 512 || s.Y != 512 {
		t.Errorf("the app icon is %v, want 512 x 512", s)
	}
}
