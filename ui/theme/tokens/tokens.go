package tokens

import (
	"image/color"
	"math"
)

// Palette is one variant of the colours.
type Palette struct {
	Dark bool

	Paper, Panel, Line, Ink, QuietInk, Accent, OnAccent color.NRGBA

	Reuse, Replace, Measure color.NRGBA

	// DoNotRide is a ground, OnDoNotRide the ink that goes on it.
	DoNotRide, OnDoNotRide color.NRGBA
}

// Sizes in device independent pixels.
const (
	TextSmall  = 14
	TextBody   = 16
	TextTitle  = 20
	TextFigure = 28

	Step   = 8  // spacing outside controls
	Inner  = 4  // spacing inside controls
	Radius = 6  // corners of cards and buttons
	Target = 44 // least side of anything that is pressed
	Rail   = 88 // width of the rail

	// TintAlpha is the 15 % at which a state fills a zone.
	TintAlpha = 0.15
)

// Light returns the light palette.
func Light() Palette {
	return Palette{
		Paper: hex(0xFAFAF7), Panel: hex(0xFFFFFF), Line: hex(0xDADAD3),
		Ink: hex(0x1B1F1E), QuietInk: hex(0x5B6462),
		Accent: hex(0x00745A), OnAccent: hex(0xFFFFFF),
		Reuse: hex(0x0072B2), Replace: hex(0xC24E00), Measure: hex(0xA8487F),
		DoNotRide: hex(0xF0E442), OnDoNotRide: hex(0x111111),
	}
}

// Dark returns the dark palette.
func Dark() Palette {
	return Palette{
		Dark:  true,
		Paper: hex(0x161918), Panel: hex(0x1F2423), Line: hex(0x38403E),
		Ink: hex(0xF1F3F2), QuietInk: hex(0xA3ADAB),
		Accent: hex(0x3CC7A4), OnAccent: hex(0x161918),
		Reuse: hex(0x56B4E9), Replace: hex(0xF0803C), Measure: hex(0xE39AC4),
		DoNotRide: hex(0xF0E442), OnDoNotRide: hex(0x111111),
	}
}

// For returns the palette of a variant.
func For(dark bool) Palette {
	if dark {
		return Dark()
	}
	return Light()
}

// Tint returns c at TintAlpha.
func Tint(c color.NRGBA) color.NRGBA {
	c.A = uint8(math.Round(255 * TintAlpha))
	return c
}

// Over lays c over an opaque ground and returns the opaque result.
func Over(c, ground color.NRGBA) color.NRGBA {
	a := float64(c.A) / 255
	mix := func(f, g uint8) uint8 {
		return uint8(math.Round(float64(f)*a + float64(g)*(1-a)))
	}
	return color.NRGBA{R: mix(c.R, ground.R), G: mix(c.G, ground.G), B: mix(c.B, ground.B), A: 255}
}

// Contrast returns the contrast ratio of two opaque colours, 1 to 21:
// (L1 + 0.05) / (L2 + 0.05) with the relative luminances L1 >= L2
// (WCAG 2.1, definition of contrast ratio).
func Contrast(a, b color.NRGBA) float64 {
	la, lb := Luminance(a), Luminance(b)
	if la < lb {
		la, lb = lb, la
	}
	return (la + 0.05) / (lb + 0.05)
}

// Luminance returns the relative luminance of an sRGB colour, 0 to 1
// (WCAG 2.1, definition of relative luminance, with the corrected threshold
// 0.04045 of IEC 61966-2-1). Alpha is ignored.
func Luminance(c color.NRGBA) float64 {
	lin := func(v uint8) float64 {
		s := float64(v) / 255
		if s <= 0.04045 {
			return s / 12.92
		}
		return math.Pow((s+0.055)/1.055, 2.4)
	}
	return 0.2126*lin(c.R) + 0.7152*lin(c.G) + 0.0722*lin(c.B)
}

func hex(v uint32) color.NRGBA {
	return color.NRGBA{R: uint8(v >> 16), G: uint8(v >> 8), B: uint8(v), A: 255}
}
