package report

import (
	"fmt"
	"sort"
	"strings"
	"unicode"

	"golang.org/x/image/font/gofont/goregular"
	"golang.org/x/image/font/sfnt"

	"forkwear/ui/tongue"
)

// glyphs knows which characters the PDF's typeface has, and keeps those that
// were asked for in vain. The typeface has Latin, Greek and Cyrillic letters.
type glyphs struct {
	font    *sfnt.Font
	buf     sfnt.Buffer
	missing map[rune]bool
	// first is the character that stands for each glyph. Two characters of one
	// glyph (µ and μ) would make the embedded typeface, and so the bytes of the
	// file, depend on chance.
	first map[sfnt.GlyphIndex]rune
}

func newGlyphs() (*glyphs, error) {
	f, err := sfnt.Parse(goregular.TTF)
	if err != nil {
		return nil, fmt.Errorf("the typeface of the report can't be read: %w", err)
	}
	g := &glyphs{font: f, missing: map[rune]bool{}, first: map[sfnt.GlyphIndex]rune{}}
	for r := rune(' '); r < 0x7f; r++ {
		g.glyph(r)
	}
	return g, nil
}

// glyph returns the character that is printed for r, false where there is none.
func (g *glyphs) glyph(r rune) (rune, bool) {
	i, err := g.font.GlyphIndex(&g.buf, r)
	if err != nil || i == 0 {
		return 0, false
	}
	if _, ok := g.first[i]; !ok {
		g.first[i] = r
	}
	return g.first[i], true
}

// shown returns the text as it can be printed: spaces of any width as plain
// ones, no control characters, and ? for what the typeface lacks.
func (g *glyphs) shown(s string) string {
	return strings.Map(func(r rune) rune {
		switch {
		case r == '\u2009' || r == '\u202f' || r == '\u00a0':
			return '\u00a0' // a number and its unit stay together
		case unicode.IsSpace(r):
			return ' '
		case unicode.Is(unicode.Cf, r) || unicode.IsControl(r):
			return -1
		}
		if p, ok := g.glyph(r); ok {
			return p
		}
		g.missing[r] = true
		return '?'
	}, s)
}

// remark says which characters stand as ?, by their Unicode numbers, since
// they themselves can't be printed; "" when all could be shown.
func (g *glyphs) remark() string {
	if len(g.missing) == 0 {
		return ""
	}
	var codes []string
	for r := range g.missing {
		codes = append(codes, fmt.Sprintf("U+%04X", r))
	}
	sort.Strings(codes)
	list := strings.Join(codes, ", ")
	if len(codes) > 12 {
		list = tongue.Sayf("%s and %d more", strings.Join(codes[:12], ", "), len(codes)-12)
	}
	return tongue.Sayf("Some characters are not in this page's typeface and stand as a question mark: %s. The report as a web page shows them.", list)
}
