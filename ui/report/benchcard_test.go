package report

import (
	"bytes"
	"context"
	"image/png"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
	"time"

	"forkwear/media/benchcard"
)

func someCards() BenchCards {
	at := time.Date(2026, 11, 20, 9, 30, 0, 0, time.UTC)
	return BenchCards{Visit: "0198f2c4-7b1e-7cc3-9a52-31d0b8e6f704", Ticket: 1048, Tag: "F017", DroppedOff: at, Copies: 3, Made: at}
}

func cardSheetPDF(t testing.TB, b BenchCards, compress bool) []byte {
	t.Helper()
	var out bytes.Buffer
	if err := writeBenchCards(context.Background(), &out, b, compress); err != nil {
		t.Fatal(err)
	}
	return out.Bytes()
}

// drawn reads the straight lines and the boxes of the filled paths of an
// uncompressed PDF, in points (operators m, l, c, h, S, f: ISO 32000-1, clause
// 8.5).
func drawn(t testing.TB, pdf []byte) (lines [][4]float64, boxes [][2]float64) {
	t.Helper()
	start := bytes.Index(pdf, []byte("stream"))
	var path []float64
	for _, row := range strings.Split(string(pdf[start:start+bytes.Index(pdf[start:], []byte("endstream"))]), "\n") {
		var numbers []float64
		for _, word := range strings.Fields(row) {
			if v, err := strconv.ParseFloat(word, 64); err == nil {
				numbers = append(numbers, v)
				continue
			}
			switch word {
			case "m":
				if len(path) > 0 && len(numbers) >= 2 && len(boxes) >= 0 {
					path = append(path, numbers[len(numbers)-2:]...)
				} else {
					path = append([]float64{}, numbers...)
				}
			case "l":
				path = append(path, numbers[len(numbers)-2:]...)
			case "c":
				path = append(path, numbers[len(numbers)-2:]...) // where the curve ends
			case "S":
				if len(path) == 4 {
					lines = append(lines, [4]float64(path))
				}
				path = nil
			case "f":
				x0, y0, x1, y1 := math.Inf(1), math.Inf(1), math.Inf(-1), math.Inf(-1)
				for i := 0; i+1 < len(path); i += 2 {
					x0, x1, y0, y1 = min(x0, path[i]), max(x1, path[i]), min(y0, path[i+1]), max(y1, path[i+1])
				}
				boxes = append(boxes, [2]float64{x1 - x0, y1 - y0})
				path = nil
			}
			numbers = nil
		}
	}
	return lines, boxes
}

// TestBenchCardSizes: 1 inch is 25.4 mm and 72 points (ISO 32000-1, clause
// 8.3.2.3), so 100 mm are 283.46 points and a card of 85.60 x 53.98 mm (ISO/IEC
// 7810 ID-1, from memory) is 242.65 x 153.01 points. A PDF has two decimals.
func TestBenchCardSizes(t *testing.T) {
	for _, paper := range []string{"A4", "Letter"} {
		b := someCards()
		b.Paper = paper
		pdf := cardSheetPDF(t, b, false)
		lines, boxes := drawn(t, pdf)
		checks, upright, cuts := 0, 0, map[float64]bool{}
		for _, l := range lines {
			dx, dy := math.Abs(l[2]-l[0]), math.Abs(l[3]-l[1])
			if math.Abs(dx-283.46) < 0.011 && dy == 0 {
				checks++
			}
			if dx == 0 && math.Abs(dy-1.5/25.4*72) < 0.011 { // a cut mark
				upright++
				cuts[l[0]] = true
			}
		}
		if checks != 1 {
			t.Errorf("%s: %d lines of 100 mm", paper, checks)
		}
		if upright != 3*4 || len(cuts) != 4 {
			t.Errorf("%s: %d upright cut marks at %v", paper, upright, cuts)
		}
		cards := 0
		for _, x := range boxes {
			if math.Abs(x[0]-242.65) < 0.011 && math.Abs(x[1]-153.01) < 0.011 {
				cards++
			}
		}
		if cards != 3 {
			t.Errorf("%s: %d cards of 242.65 x 153.01 points among %v", paper, cards, boxes)
		}
	}
}

// TestBenchCardWords: what stands there, and that nothing of the customer does.
func TestBenchCardWords(t *testing.T) {
	text := pdfWords(t, cardSheetPDF(t, someCards(), false))
	for _, want := range []string{"1048", "F017", "20 Nov 2026", CheckLineWords(), "I measured ______ mm"} {
		if !strings.Contains(text, want) {
			t.Errorf("%q is missing in %s", want, text)
		}
	}
	b := someCards()
	b.Tag, b.DroppedOff, b.Ticket = "", time.Time{}, 123456789
	text = pdfWords(t, cardSheetPDF(t, b, false))
	if !strings.Contains(text, "123456789") || strings.Contains(text, "Dropped") || strings.Contains(text, "Fork ") {
		t.Error(text)
	}
	if !bytes.Equal(cardSheetPDF(t, b, true), cardSheetPDF(t, b, true)) {
		t.Error("the same card makes another file")
	}
}

func TestBenchCardRefuses(t *testing.T) {
	for name, change := range map[string]func(*BenchCards){
		"six copies":  func(b *BenchCards) { b.Copies = 7 },
		"paper":       func(b *BenchCards) { b.Paper = "A0" },
		"visit's id":  func(b *BenchCards) { b.Visit = "48" },
		"copies less": func(b *BenchCards) { b.Copies = -1 },
	} {
		b := someCards()
		change(&b)
		if err := BenchCardPDF(context.Background(), &bytes.Buffer{}, b); err == nil {
			t.Errorf("%s: no error", name)
		}
	}
}

// TestBenchCardIsFound prints the sheet as a picture with poppler's pdftoppm,
// where there is one, and searches it: the corners must be where the cut marks
// say. FORKWEAR_SHEET keeps PDF and picture to look at.
func TestBenchCardIsFound(t *testing.T) {
	tool, err := exec.LookPath("pdftoppm")
	if err != nil {
		t.Skip("pdftoppm is not installed")
	}
	dir := os.Getenv("FORKWEAR_SHEET")
	if dir == "" {
		dir = t.TempDir()
	}
	file := filepath.Join(dir, "benchcard.pdf")
	b := someCards()
	if err := os.WriteFile(file, cardSheetPDF(t, b, true), 0o600); err != nil {
		t.Fatal(err)
	}
	const dpi = 150
	if out, err := exec.Command(tool, "-png", "-r", strconv.Itoa(dpi), "-singlefile", file, strings.TrimSuffix(file, ".pdf")).CombinedOutput(); err != nil {
		t.Fatalf("%v: %s", err, out)
	}
	raw, err := os.ReadFile(strings.TrimSuffix(file, ".pdf") + ".png")
	if err != nil {
		t.Fatal(err)
	}
	img, err := png.Decode(bytes.NewReader(raw))
	if err != nil {
		t.Fatal(err)
	}
	found, err := benchcard.Find(context.Background(), img)
	if err != nil || len(found) != b.Copies {
		t.Fatalf("%d of %d cards found: %v", len(found), b.Copies, err)
	}
	const pxPerMM, left = dpi / 25.4, (pageW - 2*benchcard.Width - cardGap) / 2
	seen := map[int]bool{}
	for _, f := range found {
		if visit, ok := benchcard.Decode(f.Code); !ok || visit != b.Visit || !f.Placed() {
			t.Errorf("%+v", f)
			continue
		}
		nth := 0
		if f.Corners[0].X > pageW/2*pxPerMM {
			nth = 1
		}
		if f.Corners[0].Y > (cardsTop+benchcard.Height)*pxPerMM {
			nth = 2
		}
		seen[nth] = true
		x, y := left+float64(nth%2)*(benchcard.Width+cardGap), cardsTop+float64(nth/2)*(benchcard.Height+cardGap)
		for i, want := range [4][2]float64{{x, y}, {x + benchcard.Width, y}, {x + benchcard.Width, y + benchcard.Height}, {x, y + benchcard.Height}} {
			if e := math.Hypot(f.Corners[i].X-want[0]*pxPerMM, f.Corners[i].Y-want[1]*pxPerMM); e > 0.3 {
				t.Errorf("card %d, corner %d is off by %.2f px", nth, i, e)
			}
		}
	}
	if len(seen) != b.Copies {
		t.Errorf("cards %v", seen)
	}
}
