package report

import (
	"bytes"
	"image/color"
	"math"
	"strings"
	"testing"

	"golang.org/x/net/html"

	"forkwear/inspect"
)

// handed is the sample of two visits with both things signed.
func handed(t *testing.T) Source {
	s := twoVisits(t)
	c := s.Story.Case
	hand := inspect.Signature{{{X: .1, Y: .7}, {X: .2, Y: .2}, {X: .3, Y: .7}}, {{X: .5, Y: .5}}}
	c.Visit.SignedBy, c.Visit.Signature = "Zoë Müller-Łąska", hand
	c.Consents = append(c.Consents, inspect.Consent{ID: "signed", VisitID: c.Visit.ID, Accepted: true, By: "Jo Beispiel", How: "signed on paper", At: s.Made})
	return s
}

func TestSignatures_InBothLayouts(t *testing.T) {
	want := []string{"What was agreed at drop-off, signed by Zoë Müller-Łąska, 12 May 2026", "Your answers, signed by Jo Beispiel on paper"}
	page := made(t, asHTML, handed(t))
	text, pdf := wordsOf(parsed(t, page)), pdfWords(t, made(t, asOpenPDF, handed(t)))
	for _, w := range want {
		if !strings.Contains(text, w) {
			t.Errorf("the page lacks %q", w)
		}
		if !strings.Contains(pdf, w) {
			t.Errorf("the PDF lacks %q: %s", w, pdf)
		}
	}
	drawings, strokes := 0, 0
	walk(parsed(t, page), func(n *html.Node) {
		for _, a := range n.Attr {
			if n.Data == "svg" && a.Key == "class" && a.Val == "sign" {
				drawings++
				for c := n.FirstChild; c != nil; c = c.NextSibling {
					strokes++
				}
			}
		}
	})
	if drawings != 1 || strokes != 3 { // a line to sign on, a stroke, a dot
		t.Errorf("%d drawings of %d pieces", drawings, strokes)
	}
	bare, with := made(t, asOpenPDF, twoVisits(t)), made(t, asOpenPDF, handed(t))
	if n, m := bytes.Count(bare, []byte(" l\n")), bytes.Count(with, []byte(" l\n")); m <= n {
		t.Errorf("the PDF has %d lines with a signature, %d without", m, n)
	}
	if strings.Contains(wordsOf(parsed(t, made(t, asHTML, twoVisits(t)))), "Signed") {
		t.Error("a heading stands over no signature")
	}
}

func TestSignature_StaleIsSaid(t *testing.T) {
	s := handed(t)
	c := s.Story.Case
	c.Consents = append(c.Consents, inspect.Consent{ID: "later", AssessmentID: "a", At: s.Made})
	got := signatures(c)
	if len(got) != 2 || !strings.Contains(got[1].Says, "changed after that") {
		t.Errorf("%+v", got)
	}
}

// canvasOf notes where lines go.
type canvasOf struct {
	svg
	points []xy
}

func (c *canvasOf) lines(points []xy, _ bool, _ stroke) { c.points = append(c.points, points...) }
func (c *canvasOf) dot(at xy, _ float64, _ color.NRGBA) { c.points = append(c.points, at) }

func TestSignature_StaysInItsField(t *testing.T) {
	c := &canvasOf{}
	signed{Strokes: inspect.Signature{nil, {{X: math.NaN(), Y: 1}}, {{X: math.Inf(1), Y: -4}, {X: 2, Y: 2}}, {{X: 0, Y: 0}, {X: 1, Y: 1}, {X: 0, Y: 1}, {X: 1, Y: 0}}}}.draw(c)
	if len(c.points) < 5 {
		t.Fatalf("%d points", len(c.points))
	}
	for _, q := range c.points {
		if !(q.X >= 0 && q.X <= signW && q.Y >= 0 && q.Y <= signH) {
			t.Errorf("a point at %v", q)
		}
	}
}
