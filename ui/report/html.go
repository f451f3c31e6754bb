package report

import (
	"context"
	_ "embed"
	"encoding/base64"
	"fmt"
	"html/template"
	"io"
	"strings"

	"forkwear/inspect"
	"forkwear/ui/theme/tokens"
	"forkwear/ui/tongue"
)

//go:embed report.html.tmpl
var pageText string

//go:embed report.css
var pageStyle string

var page = template.Must(template.New("report").Funcs(template.FuncMap{
	"photo":       func(b []byte) template.URL { return dataURI("image/jpeg", b) },
	"drawing":     func(b []byte) template.URL { return dataURI("image/png", b) },
	"mark":        markSVG,
	"line":        lineSVG,
	"bar":         barSVG,
	"sign":        signSVG,
	"style":       style,
	"ring":        func() inspect.Verdict { return inspect.Reuse },
	"howto":       howToRead,
	"say":         tongue.Say,
	"stopless":    func(s string) string { return strings.TrimSuffix(s, ".") },
	"join":        func(parts []string) string { return strings.Join(parts, "; ") },
	"sayf":        tongue.Sayf,
	"lang":        tongue.Code,
	"hasLine":     hasLine,
	"hasLeft":     hasLeft,
	"fingerprint": fingerprint,
}).Parse(pageText))

// HTML writes the report as one file that needs nothing beside itself: style,
// photos and drawings are inside it.
func HTML(ctx context.Context, w io.Writer, s Source) error {
	t, err := tell(ctx, s)
	if err != nil {
		return err
	}
	if err := page.Execute(w, t); err != nil {
		return fmt.Errorf("the report can't be written: %w", err)
	}
	return nil
}

// dataURI marks bytes of our own making, a decoded JPEG or PNG, as safe.
func dataURI(kind string, b []byte) template.URL {
	return template.URL("data:" + kind + ";base64," + base64.StdEncoding.EncodeToString(b))
}

// style puts the program's colours into the style sheet.
func style() template.CSS {
	p := tokens.Light()
	return template.CSS(strings.NewReplacer(
		"$line", css(p.Line), "$quiet", css(p.QuietInk), "$ink", css(p.Ink), "$paper", css(p.Paper),
		"$accent", css(p.Accent), "$reuse", css(p.Reuse), "$replace", css(p.Replace), "$measure", css(p.Measure),
		"$stopInk", css(p.OnDoNotRide), "$stop", css(p.DoNotRide),
	).Replace(pageStyle))
}

func markSVG(v inspect.Verdict) template.HTML {
	s := &svg{}
	mark(s, v, xy{3, 3}, 2.5)
	return template.HTML(s.element(6, 6, "mark", string(v)))
}

func lineSVG(w *wearLine) template.HTML {
	s := &svg{}
	w.draw(s)
	return template.HTML(s.element(wearW, wearH, "wear", w.says()))
}

// barSVG draws wear used as a bar that reaches for the limit.
func barSVG(used float64) template.HTML {
	s := &svg{}
	usedBar(s, used)
	return template.HTML(s.element(barW, barH, "bar", ""))
}

// hasLine reports whether any card has a wear line to explain.
func hasLine(cards []card) bool {
	for _, c := range cards {
		if c.Line != nil {
			return true
		}
	}
	return false
}
