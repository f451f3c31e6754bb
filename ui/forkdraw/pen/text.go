package pen

import (
	"fmt"
	"image/color"
	"sync"

	"golang.org/x/image/font"
	"golang.org/x/image/font/gofont/goregular"
	"golang.org/x/image/font/sfnt"
	"golang.org/x/image/math/fixed"
)

// Font is a typeface whose letters are drawn as paths.
type Font struct {
	face *sfnt.Font
	mu   sync.Mutex
	buf  sfnt.Buffer
}

// emPixels is the size at which outlines are read; they are scaled after.
const emPixels = 1024

// ParseFont reads a TrueType or OpenType font.
func ParseFont(data []byte) (*Font, error) {
	f, err := sfnt.Parse(data)
	if err != nil {
		return nil, fmt.Errorf("the font cannot be read, use a TrueType or OpenType file: %w", err)
	}
	return &Font{face: f}, nil
}

// DefaultFont returns the font used where none is given.
var DefaultFont = sync.OnceValue(func() *Font {
	f, err := ParseFont(goregular.TTF)
	if err != nil {
		return &Font{} // draws nothing; the built-in font is always readable
	}
	return f
})

// Anchor says which part of a text lies at the given point.
type Anchor int

const (
	Start Anchor = iota
	Middle
	End
)

// Width returns the width of a text at a size in pixels.
func (f *Font) Width(s string, size float64) float64 {
	w := 0.0
	f.each(s, func(_ sfnt.GlyphIndex, adv float64) { w += adv })
	return w * size
}

// each calls do for every letter with its advance in ems.
func (f *Font) each(s string, do func(g sfnt.GlyphIndex, adv float64)) {
	if f == nil || f.face == nil {
		return
	}
	f.mu.Lock()
	defer f.mu.Unlock()
	for _, r := range s {
		g, err := f.face.GlyphIndex(&f.buf, r)
		if err != nil {
			continue
		}
		adv, err := f.face.GlyphAdvance(&f.buf, g, fixed.I(emPixels), font.HintingNone)
		if err != nil {
			continue
		}
		do(g, float64(adv)/64/emPixels)
	}
}

// Text draws s with its baseline at x, y in pixels, size in pixels.
func (p *Pen) Text(f *Font, s string, x, y, size float64, at Anchor, c color.Color) {
	switch at {
	case Middle:
		x -= f.Width(s, size) / 2
	case End:
		x -= f.Width(s, size)
	}
	f.each(s, func(g sfnt.GlyphIndex, adv float64) {
		segs, err := f.face.LoadGlyph(&f.buf, g, fixed.I(emPixels), nil)
		if err == nil {
			p.paint(glyph(segs, x, y, size), c)
		}
		x += adv * size
	})
}

func glyph(segs sfnt.Segments, x, y, size float64) [][]Pt {
	k := size / emPixels / 64
	at := func(q fixed.Point26_6) (float64, float64) { return x + float64(q.X)*k, y + float64(q.Y)*k }
	path := new(Path)
	for _, s := range segs {
		x0, y0 := at(s.Args[0])
		switch s.Op {
		case sfnt.SegmentOpMoveTo:
			path.M(x0, y0)
		case sfnt.SegmentOpLineTo:
			path.L(x0, y0)
		case sfnt.SegmentOpQuadTo:
			x1, y1 := at(s.Args[1])
			path.Q(x0, y0, x1, y1)
		case sfnt.SegmentOpCubeTo:
			x1, y1 := at(s.Args[1])
			x2, y2 := at(s.Args[2])
			path.C(x0, y0, x1, y1, x2, y2)
		}
	}
	out := make([][]Pt, len(path.subs))
	for i, s := range path.subs {
		out[i] = s.pts
	}
	return out
}
