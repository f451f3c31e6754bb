package theme

import (
	"image/color"

	"fyne.io/fyne/v2"
	fynetheme "fyne.io/fyne/v2/theme"

	"forkwear/ui/theme/tokens"
)

// Colour names of our own, next to those of fyne.
const (
	ColorNameReuse       fyne.ThemeColorName = "forkwearReuse"
	ColorNameReplace     fyne.ThemeColorName = "forkwearReplace"
	ColorNameMeasure     fyne.ThemeColorName = "forkwearMeasureAgain"
	ColorNameDoNotRide   fyne.ThemeColorName = "forkwearDoNotRide"
	ColorNameOnDoNotRide fyne.ThemeColorName = "forkwearOnDoNotRide"
	ColorNameQuietInk    fyne.ThemeColorName = "forkwearQuietInk"
	ColorNamePanel       fyne.ThemeColorName = "forkwearPanel"
	ColorNameLine        fyne.ThemeColorName = "forkwearLine"
)

// Size names of our own. 16 px body text is fyne's SizeNameText, 14 its
// caption, 20 its sub-heading and 28 its heading.
const (
	SizeNameFigure fyne.ThemeSizeName = "forkwearFigure"
	SizeNameTarget fyne.ThemeSizeName = "forkwearTarget"
)

// Theme is the look of the program. Its zero value is not usable: use New.
type Theme struct {
	base      fyne.Theme
	forced    bool
	variant   fyne.ThemeVariant
	textScale float32
}

var _ fyne.Theme = (*Theme)(nil)

// Option changes a theme while it is made.
type Option func(*Theme)

// WithVariant forces light or dark, whatever the system says.
func WithVariant(v fyne.ThemeVariant) Option {
	return func(t *Theme) { t.forced, t.variant = true, v }
}

// WithTextScale enlarges all text; values outside 0.75 to 2 are pulled in.
func WithTextScale(f float32) Option {
	return func(t *Theme) {
		if f != f { // NaN: leave the text as it is
			return
		}
		t.textScale = min(max(f, 0.75), 2)
	}
}

// New returns the theme.
func New(opts ...Option) *Theme {
	t := &Theme{base: fynetheme.DefaultTheme(), textScale: 1}
	for _, o := range opts {
		o(t)
	}
	return t
}

// Palette returns the colours for a variant, or for the forced one.
func (t *Theme) Palette(v fyne.ThemeVariant) tokens.Palette {
	if t.forced {
		v = t.variant
	}
	return tokens.For(v == fynetheme.VariantDark)
}

// Color implements fyne.Theme.
func (t *Theme) Color(n fyne.ThemeColorName, v fyne.ThemeVariant) color.Color {
	if t.forced {
		v = t.variant
	}
	p := tokens.For(v == fynetheme.VariantDark)
	if c, ok := ownColor(p, n); ok {
		return c
	}
	if c, ok := fyneColor(p, n); ok {
		return c
	}
	return t.base.Color(n, v)
}

// Font implements fyne.Theme.
func (t *Theme) Font(s fyne.TextStyle) fyne.Resource { return t.base.Font(s) }

// Icon implements fyne.Theme.
func (t *Theme) Icon(n fyne.ThemeIconName) fyne.Resource {
	if r, ok := ownIcon(n); ok {
		return r
	}
	return t.base.Icon(n)
}

// Size implements fyne.Theme.
func (t *Theme) Size(n fyne.ThemeSizeName) float32 {
	switch n {
	case fynetheme.SizeNameText:
		return tokens.TextBody * t.textScale
	case fynetheme.SizeNameCaptionText:
		return tokens.TextSmall * t.textScale
	case fynetheme.SizeNameSubHeadingText:
		return tokens.TextTitle * t.textScale
	case fynetheme.SizeNameHeadingText, SizeNameFigure:
		return tokens.TextFigure * t.textScale
	case SizeNameTarget:
		return tokens.Target
	case fynetheme.SizeNamePadding:
		return tokens.Inner
	case fynetheme.SizeNameInnerPadding:
		return tokens.Step
	case fynetheme.SizeNameInputRadius, fynetheme.SizeNameSelectionRadius:
		return tokens.Radius
	case fynetheme.SizeNameInlineIcon:
		return 20
	}
	return t.base.Size(n)
}

// PaletteOf returns the palette behind any theme: our own exactly, and for a
// foreign theme the variant its background is nearer to. So widgets can be
// drawn under a test theme too.
func PaletteOf(th fyne.Theme, v fyne.ThemeVariant) tokens.Palette {
	if own, ok := th.(*Theme); ok {
		return own.Palette(v)
	}
	if th == nil {
		return tokens.For(v == fynetheme.VariantDark)
	}
	bg := th.Color(fynetheme.ColorNameBackground, v)
	if bg == nil {
		return tokens.For(v == fynetheme.VariantDark)
	}
	n := color.NRGBAModel.Convert(bg).(color.NRGBA)
	return tokens.For(tokens.Luminance(n) < 0.18)
}

func ownColor(p tokens.Palette, n fyne.ThemeColorName) (color.NRGBA, bool) {
	switch n {
	case ColorNameReuse:
		return p.Reuse, true
	case ColorNameReplace:
		return p.Replace, true
	case ColorNameMeasure:
		return p.Measure, true
	case ColorNameDoNotRide:
		return p.DoNotRide, true
	case ColorNameOnDoNotRide:
		return p.OnDoNotRide, true
	case ColorNameQuietInk:
		return p.QuietInk, true
	case ColorNamePanel:
		return p.Panel, true
	case ColorNameLine:
		return p.Line, true
	}
	return color.NRGBA{}, false
}

func fyneColor(p tokens.Palette, n fyne.ThemeColorName) (color.NRGBA, bool) {
	switch n {
	case fynetheme.ColorNameBackground:
		return p.Paper, true
	case fynetheme.ColorNameForeground:
		return p.Ink, true
	case fynetheme.ColorNamePrimary, fynetheme.ColorNameHyperlink:
		return p.Accent, true
	case fynetheme.ColorNameForegroundOnPrimary:
		return p.OnAccent, true
	case fynetheme.ColorNameButton, fynetheme.ColorNameInputBackground,
		fynetheme.ColorNameMenuBackground, fynetheme.ColorNameOverlayBackground,
		fynetheme.ColorNameHeaderBackground, fynetheme.ColorNameDisabledButton:
		return p.Panel, true
	case fynetheme.ColorNameInputBorder, fynetheme.ColorNameSeparator:
		return p.Line, true
	case fynetheme.ColorNamePlaceHolder, fynetheme.ColorNameDisabled, fynetheme.ColorNameScrollBar:
		return p.QuietInk, true
	case fynetheme.ColorNameFocus:
		return withAlpha(p.Accent, 0x66), true
	case fynetheme.ColorNameSelection:
		return withAlpha(p.Accent, 0x33), true
	case fynetheme.ColorNameHover:
		return withAlpha(p.Ink, 0x10), true
	case fynetheme.ColorNamePressed:
		return withAlpha(p.Ink, 0x22), true
	case fynetheme.ColorNameError, fynetheme.ColorNameWarning:
		return p.Replace, true
	case fynetheme.ColorNameSuccess:
		return p.Reuse, true
	case fynetheme.ColorNameForegroundOnError, fynetheme.ColorNameForegroundOnWarning,
		fynetheme.ColorNameForegroundOnSuccess:
		if p.Dark {
			return p.Paper, true
		}
		return p.Panel, true
	case fynetheme.ColorNameShadow:
		return color.NRGBA{}, true // one plane, no shadows
	case fynetheme.ColorNameScrollBarBackground:
		return color.NRGBA{}, true
	}
	return color.NRGBA{}, false
}

func withAlpha(c color.NRGBA, a uint8) color.NRGBA {
	c.A = a
	return c
}
