package report

import (
	"bytes"
	"context"
	"encoding/base64"
	"errors"
	"strings"
	"testing"

	"golang.org/x/net/html"

	"forkwear/inspect"
)

func made(t testing.TB, write func(context.Context, *bytes.Buffer, Source) error, s Source) []byte {
	t.Helper()
	var b bytes.Buffer
	if err := write(context.Background(), &b, s); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

func asHTML(ctx context.Context, w *bytes.Buffer, s Source) error { return HTML(ctx, w, s) }
func asPDF(ctx context.Context, w *bytes.Buffer, s Source) error  { return PDF(ctx, w, s) }
func asOpenPDF(ctx context.Context, w *bytes.Buffer, s Source) error {
	return writePDF(ctx, w, s, false)
}

// walk visits every node of a page.
func walk(n *html.Node, visit func(*html.Node)) {
	visit(n)
	for c := n.FirstChild; c != nil; c = c.NextSibling {
		walk(c, visit)
	}
}

func parsed(t testing.TB, page []byte) *html.Node {
	t.Helper()
	n, err := html.Parse(bytes.NewReader(page))
	if err != nil {
		t.Fatal(err)
	}
	return n
}

// words are the visible texts of a page, spaces evened out.
func wordsOf(n *html.Node) string {
	var b strings.Builder
	walk(n, func(n *html.Node) {
		if n.Type == html.TextNode && n.Parent.Data != "style" {
			b.WriteString(n.Data + " ")
		}
	})
	return even(b.String())
}

func even(s string) string {
	s = strings.NewReplacer("\u2009", " ", "\u00a0", " ").Replace(s)
	return strings.Join(strings.Fields(s), " ")
}

// sentences must be in the report of two visits in both layouts.
var sentences = []string{
	"The Bench on the Canal", "Invented Ridge 150 2021", "Zoë Müller-Łąska", "12 May 2026", "143", "318 ± 25 h",
	"1 thing to replace, 1 to measure again, 2 go back in.",
	"Replace", "Wiper and oil seal, left", "It lets oil past at every stroke", "About seven chances in ten that it wears out before the next service.",
	"Then · 3 Jun 2025, 09:58, 212 h", "Now · 12 May 2026, 10:21, 318 h", "drawing of the sample shop, 212 h", "no camera date, 318 h",
	"42.50 EUR", "yes, Z. Müller, phone, 12 May 2026",
	"One reading so far: 93 % of the allowed wear is used. The next visit can tell how fast it goes.",
	"A scratch with an edge cuts the lip of the seal", "(very likely, left leg)", "Seen: weeping, left: ring again the second time.",
	"Stanchion, right", "31 %", "240 to 905 h", "Nothing was found: Crown and steerer",
	"Not opened this time", "Damper, right", "the old one was worn, batch 26-081", "You told us", "Weeps oil at the tube, left (two weeks)", "Air pressure", "5.1 bar", "7 of 18",
	"Please come again after about 50 h more riding, at 368 h in all, or by 12 May 2027, whichever is first.",
	"The maker's manual and the local rules come first.", "next visit", "limit",
}

func TestHTMLTellsTheVisit(t *testing.T) {
	page := made(t, asHTML, twoVisits(t))
	root := parsed(t, page)
	text := wordsOf(root)
	for _, want := range sentences {
		if !strings.Contains(text, want) {
			t.Errorf("the page lacks %q", want)
		}
	}
	if strings.Contains(text, "Do not ride") || strings.Contains(text, "first visit here") {
		t.Error("the page warns or speaks of a first visit without cause")
	}
}

func TestPDFTellsTheVisit(t *testing.T) {
	text := pdfWords(t, made(t, asOpenPDF, twoVisits(t)))
	for _, want := range sentences {
		if !strings.Contains(text, want) {
			t.Errorf("the PDF lacks %q", want)
		}
	}
	if t.Failed() {
		t.Log(text)
	}
}

func TestNothingFromOutside(t *testing.T) {
	walk(parsed(t, made(t, asHTML, twoVisits(t))), func(n *html.Node) {
		if n.Data == "script" || n.Data == "link" || n.Data == "iframe" || n.Data == "object" {
			t.Errorf("the page has a %s element", n.Data)
		}
		for _, a := range n.Attr {
			if (a.Key == "src" || a.Key == "href") && !strings.HasPrefix(a.Val, "data:image/") {
				t.Errorf("%s %s=%.60q is not inside the file", n.Data, a.Key, a.Val)
			}
			if strings.HasPrefix(a.Key, "on") || strings.Contains(a.Val, "ZgotmplZ") {
				t.Errorf("%s has %s=%.60q", n.Data, a.Key, a.Val)
			}
		}
		if n.Type == html.TextNode && (strings.Contains(n.Data, "url(") || strings.Contains(n.Data, "@import") || strings.Contains(n.Data, "ZgotmplZ")) {
			t.Errorf("text or style asks for more: %.80q", n.Data)
		}
	})
}

func TestEveryPhotoIsThere(t *testing.T) {
	s := twoVisits(t)
	page, pdf := made(t, asHTML, s), pdfWords(t, made(t, asOpenPDF, s))
	pictures := 0
	walk(parsed(t, page), func(n *html.Node) {
		for _, a := range n.Attr {
			if n.Data == "img" && a.Key == "src" && strings.HasPrefix(a.Val, "data:image/jpeg;base64,") {
				b, err := base64.StdEncoding.DecodeString(strings.TrimPrefix(a.Val, "data:image/jpeg;base64,"))
				if err != nil || !bytes.HasPrefix(b, []byte{0xff, 0xd8}) {
					t.Errorf("a picture is no JPEG: %v", err)
				}
				pictures++
			}
		}
	})
	names := []string{"seal then", "seal now", "bushing then", "bushing now", "tube now", "side"}
	if pictures != len(names) {
		t.Errorf("%d pictures on the page, want %d", pictures, len(names))
	}
	for _, name := range names {
		if !strings.Contains(string(page), `data-sha256="`+sha(name)+`"`) {
			t.Errorf("the page lacks the photo %q", name)
		}
		if !strings.Contains(strings.ReplaceAll(pdf, " ", ""), sha(name)) {
			t.Errorf("the PDF lacks the hash of the photo %q", name)
		}
	}
}

func TestMissingPhotoIsTold(t *testing.T) {
	s := twoVisits(t)
	s.Story.Lines[0].Now.SHA256 = gone
	page := wordsOf(parsed(t, made(t, asHTML, s)))
	pdf := pdfWords(t, made(t, asOpenPDF, s))
	for _, want := range []string{"This photo can't be shown: the file is not in the photo folder", "Photo 2 can't be shown here. It is still on the shop's record."} {
		if !strings.Contains(page, want) || !strings.Contains(pdf, want) {
			t.Errorf("%q is told on the page: %v, in the PDF: %v", want, strings.Contains(page, want), strings.Contains(pdf, want))
		}
	}
	s.Photo = func(context.Context, string, int) ([]byte, error) { return []byte("no picture"), nil }
	if page := wordsOf(parsed(t, made(t, asHTML, s))); !strings.Contains(page, "its file is damaged") {
		t.Error("bytes that are no picture are not told")
	}
	made(t, asPDF, s)
	ctx, stop := context.WithCancel(context.Background())
	stop()
	if err := HTML(ctx, &bytes.Buffer{}, s); !errors.Is(err, context.Canceled) {
		t.Errorf("a cancelled report gives %v", err)
	}
}

func TestHostileNamesStayWords(t *testing.T) {
	const bad = `<script>alert(1)</script>"'><img src=x onerror=y>` + "\x00\x1b"
	s := twoVisits(t)
	s.Shop = ShopInfo{bad, bad, bad}
	c := s.Story.Case
	c.Customer.Name, c.Fork.Maker, c.Fork.Model, c.Fork.Serial = bad, bad, bad, bad
	c.Settings = []inspect.Setting{{Key: bad, Text: bad}}
	l := &s.Story.Lines[0]
	l.Sentence, l.Part.Name, l.Kit.Name, l.Consent.By, l.Trend.Check.Name, l.Now.WallTime = bad, bad, bad, bad, bad, bad
	l.Now.SHA256 = `"><script>` + gone
	root := parsed(t, made(t, asHTML, s))
	walk(root, func(n *html.Node) {
		if n.Type == html.ElementNode && n.Data == "script" {
			t.Error("a name became a script")
		}
		for _, a := range n.Attr {
			if a.Key == "onerror" || a.Key == "src" && a.Val == "x" {
				t.Error("a name became markup")
			}
		}
	})
	if !strings.Contains(wordsOf(root), "<script>alert(1)</script>") {
		t.Error("the name is not shown as it was typed")
	}
	if text := pdfWords(t, made(t, asOpenPDF, s)); !strings.Contains(text, "alert(1)") {
		t.Error("the PDF lacks the name")
	}
}

func TestSameSourceSameBytes(t *testing.T) {
	for name, write := range map[string]func(context.Context, *bytes.Buffer, Source) error{"html": asHTML, "pdf": asPDF} {
		a := made(t, write, twoVisits(t))
		for range 3 {
			if b := made(t, write, twoVisits(t)); !bytes.Equal(a, b) {
				t.Errorf("%s: the same source gave other bytes", name)
			}
		}
		other := twoVisits(t)
		other.Made = other.Made.AddDate(0, 0, 1)
		if bytes.Equal(a, made(t, write, other)) {
			t.Errorf("%s: the date of the report makes no difference", name)
		}
	}
}

func TestFirstVisitHasNoCurve(t *testing.T) {
	s := firstVisit(t)
	text := wordsOf(parsed(t, made(t, asHTML, s)))
	if !strings.Contains(text, "Baseline taken. This is the fork's first visit here") {
		t.Error("a first visit doesn't say that the baseline is taken")
	}
	if strings.Contains(text, "Then ·") {
		t.Error("a first visit shows a photo of then")
	}
	for _, l := range s.Story.Lines {
		w, says := lineOf(l)
		if l.Trend == nil {
			continue
		}
		if w != nil || !strings.Contains(says, "One reading so far") {
			t.Errorf("%s: a line is drawn through one point, %q", l.Part.Name, says)
		}
	}
	two := twoVisits(t).Story
	if w, _ := lineOf(two.Lines[0]); w == nil || len(w.Band) == 0 || w.Next != 156 {
		t.Errorf("two readings of one part give no curve or no next visit: %+v", w)
	}
}

func TestDoNotRideComesFirst(t *testing.T) {
	s := twoVisits(t)
	s.Story.DoNotRide = true
	s.Story.Lines[0].Assessment.DoNotRide = true
	for name, text := range map[string]string{"html": wordsOf(parsed(t, made(t, asHTML, s))), "pdf": pdfWords(t, made(t, asOpenPDF, s))} {
		stop := strings.Index(text, "Do not ride this fork. Wiper and oil seal, left: It lets oil past")
		if sum := strings.Index(text, "1 thing to replace"); stop < 0 || sum < stop {
			t.Errorf("%s: the warning is at %d, the summary at %d", name, stop, sum)
		}
		if !strings.Contains(text, "First have this put right. Then please come again after about 50 h") {
			t.Errorf("%s: the next visit reads as if the fork could be ridden", name)
		}
	}
}

// Counts by hand; the words by the rules of English.
func TestSummary(t *testing.T) {
	for _, c := range []struct {
		n    [4]int
		want string
	}{
		{[4]int{2, 0, 1, 9}, "2 things to replace, 1 to measure again, 9 go back in."},
		{[4]int{1, 0, 0, 1}, "1 thing to replace, 1 goes back in."},
		{[4]int{0, 3, 0, 8}, "3 things replaced, 8 go back in."},
		{[4]int{0, 0, 0, 1}, "1 thing goes back in."},
		{[4]int{}, "Nothing was decided at this visit."},
	} {
		if got := summary(c.n[0], c.n[1], c.n[2], c.n[3]); got != c.want {
			t.Errorf("%v: %q, want %q", c.n, got, c.want)
		}
	}
}
