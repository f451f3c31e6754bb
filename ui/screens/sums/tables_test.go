package sums

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"

	"forkwear/inspect/life"
	"forkwear/inspect/measure"
	"forkwear/inspect/table"
	"forkwear/inspect/wear"
	"forkwear/ui/screens/screentest"
	"forkwear/ui/words"
)

// rowsIn puts a table into a sum and waits for the answer.
func rowsIn(t *testing.T, s *Screen, name, text string) string {
	t.Helper()
	at(t, s, name)
	s.onTyped("rows", text)
	s.env.Run.Wait()
	said := head(s) + "\n" + s.lines.Text
	for _, r := range s.wrong.Segments {
		said += "\n" + r.Textual()
	}
	return said
}

// NIST/SEMATECH e-Handbook 8.2.2.1: 10 failures, 10 good at 500 h.
const nist = "hours,failed,count\n54,1,1\n187,1,1\n216,1,1\n240,1,1\n244,1,1\n335,1,1\n361,1,1\n373,1,1\n375,1,1\n386,1,1\n500,0,10\n"

func TestLivesFromRows(t *testing.T) {
	s := newScreen(t)
	said := rowsIn(t, s, "How long parts last", nist)
	if !strings.Contains(said, "10 of 20 failed") {
		t.Errorf("%q", said)
	}
	r, err := workLives(inputs{map[string]float64{"level": 95}, map[string]string{"rows": nist, "by": no}})
	if err != nil {
		t.Fatal(err)
	}
	// R 4.2.2 survreg(Surv(t,s)~1, weights=w, dist="weibull") and the
	// likelihood-ratio roots: shape 1.7208 (0.905645 to 2.885738), scale 606.53
	// (437.557 to 1118.88)
	got := r.grid.lines
	if got[0][1] != "1.72" || got[0][2] != "0.906 to 2.89" || !strings.HasPrefix(got[1][1], "607") || !strings.HasPrefix(got[1][2], "438 to ") {
		t.Errorf("%v", got)
	}
	// Kaplan-Meier by hand: 19/20 after the first failure, 1/2 after the last
	c := r.chart.Curves[0]
	if len(c.Marks) != 10 || c.Marks[0].Value < 94.999 || c.Marks[0].Value > 95.001 || c.Marks[9].Value < 49.999 || c.Marks[9].Value > 50.001 || !c.Steps {
		t.Errorf("%+v", c.Marks)
	}
}

func TestTrendsFromRows(t *testing.T) {
	s := newScreen(t)
	said := rowsIn(t, s, "Wear of many units", sleepstudy(t))
	// R: lmer(Reaction ~ Days + (Days|Subject), sleepstudy): slope 10.467 with
	// standard error 1.546, intercept 251.405 with 6.825, SDs 24.741 and 5.922,
	// correlation 0.066, residual 25.592; SOURCES.md beside the table
	for _, want := range []string{"10.5 ±\u20091.5", "251 ±\u20096.8", "24.7", "5.92", "0.0656", "25.6", "1743.63"} {
		if !strings.Contains(said, want) {
			t.Errorf("%q does not say %s", said, want)
		}
	}
	if _, err := workTrends(inputs{nil, map[string]string{"rows": "unit,hours,value\na,1,2\na,2,3\na,3,3.5\n", "model": string(wear.Line)}}); err == nil {
		t.Error("one unit alone is fitted")
	}
}

func sleepstudy(t *testing.T) string {
	t.Helper()
	b, err := os.ReadFile("../../../inspect/wear/testdata/lmm_sleepstudy.csv")
	if err != nil {
		t.Fatal(err)
	}
	out := strings.Builder{}
	for i, line := range strings.Split(strings.TrimSpace(string(b)), "\n") {
		c := strings.Split(strings.TrimSpace(line), ",") // Reaction, Days, Subject
		if i == 0 {
			c = []string{"value", "hours", "unit"}
		}
		out.WriteString(c[2] + "\t" + c[1] + "\t" + c[0] + "\n")
	}
	return out.String()
}

// Help page of R poisson.test: 137 against 24.19893 gives 5.661407 (4.753125 to
// 6.692709), p below 2.2e-16.
func TestRatesFromRows(t *testing.T) {
	r, err := workRates(inputs{map[string]float64{"level": 95}, map[string]string{"rows": "group,events,expected\nx,137,24.19893\ny,0,3\n"}})
	if err != nil {
		t.Fatal(err)
	}
	if x := r.ratios[0]; x.Value < 5.6614 || x.Value > 5.66141 || x.Low < 4.7531 || x.Low > 4.75313 || x.High < 6.6927 || x.High > 6.69272 {
		t.Errorf("%+v", x)
	}
	if g := r.grid.lines[0]; g[3] != "5.66" || g[4] != "4.75 to 6.69" {
		t.Errorf("%v", g)
	}
	if !strings.HasPrefix(r.head, "1 of 2") {
		t.Errorf("%q", r.head)
	}
}

func TestARefusalNamesTheLine(t *testing.T) {
	s := newScreen(t)
	for name, c := range map[string]struct{ rows, want string }{
		"How long parts last":       {"hours,failed\n10,1\n20,maybe\n", "line 3, column failed"},
		"Wear of many units":        {"unit,hours,value\na,1,2\na,x,3\n", "line 3, column hours"},
		"Failures against expected": {"group,events\na,1\n", "line 1"},
	} {
		if said := rowsIn(t, s, name, c.rows); !strings.Contains(said, c.want) || !strings.HasPrefix(said, "No result") {
			t.Errorf("%s: %q, want %q", name, said, c.want)
		}
	}
	if said := rowsIn(t, s, "Wear of many units", ""); !strings.HasPrefix(said, "Paste rows") {
		t.Errorf("no rows: %q", said)
	}
}

// The columns on the screen are those that the readers know, by name and number.
func TestColumnsAreTheReaders(t *testing.T) {
	for name, columns := range map[string]table.Columns{
		"How long parts last":       life.RecordColumns(),
		"Wear of many units":        wear.ReadingColumns(wear.Line),
		"Failures against expected": life.CountColumns(),
	} {
		for _, k := range every() {
			if k.name != name {
				continue
			}
			var shown []string
			for _, c := range k.table().columns {
				shown = append(shown, c.name)
			}
			if got := strings.Join(shown, ", "); got != columns.All() {
				t.Errorf("%s shows the columns %s, the reader knows %s", name, got, columns.All())
			}
			texts := map[string]string{"rows": k.table().example}
			for _, f := range k.fields {
				if f.table == nil {
					texts[f.key] = f.usual
				}
			}
			in, bad, missing := k.read(texts)
			if r, err := k.work(in); err != nil || len(bad) > 0 || missing || r.grid == nil || len(r.grid.lines) == 0 {
				t.Errorf("the example of %s gives %v, %v", name, bad, err)
			}
		}
	}
}

func TestADroppedFileGoesToItsSum(t *testing.T) {
	s := newScreen(t)
	file := filepath.Join(t.TempDir(), "lives.csv")
	if err := os.WriteFile(file, []byte(strings.ReplaceAll(nist, "\n", "\r\n")), 0o600); err != nil {
		t.Fatal(err)
	}
	s.Dropped([]string{file}, fyne.Position{})
	s.env.Run.Wait()
	s.env.Run.Wait()
	if s.sums[s.at].name != "How long parts last" || !strings.Contains(s.lines.Text, "10 of 20 failed") {
		t.Errorf("%s: %q", s.sums[s.at].name, s.lines.Text)
	}
	broken := filepath.Join(t.TempDir(), "photo.csv")
	if err := os.WriteFile(broken, []byte{0xff, 0xd8, 0xff}, 0o600); err != nil {
		t.Fatal(err)
	}
	for _, f := range []string{broken, filepath.Join(t.TempDir(), "gone.csv")} {
		s.Dropped([]string{f}, fyne.Position{})
		s.env.Run.Wait()
	}
	if f := screentest.Told(s.env).Failures; len(f) != 2 || !strings.Contains(f[0].Error(), "photo.csv") || !strings.Contains(f[1].Error(), "gone.csv") {
		t.Errorf("told %v", f)
	}
}

func TestOnlyTheNewestTableAnswers(t *testing.T) {
	s := newScreen(t)
	at(t, s, "How long parts last")
	s.onTyped("rows", "hours,failed\n10,x\n")
	s.onTyped("rows", nist)
	s.env.Run.Wait()
	if !strings.Contains(s.lines.Text, "10 of 20") || s.wrong.Visible() {
		t.Errorf("%q", s.lines.Text)
	}
	s.onTyped("rows", "hours,failed\n10,x\n")
	s.Closed()
	s.env.Run.Wait()
	if s.wrong.Visible() {
		t.Error("a closed screen is still written to")
	}
}

func TestArrowsWalkTheListAndEnterTheForm(t *testing.T) {
	s := newScreen(t)
	c := s.env.Window.Canvas()
	c.Focus(s.names[0])
	key := func(k fyne.KeyName) { c.Focused().TypedKey(&fyne.KeyEvent{Name: k}) }
	key(fyne.KeyDown)
	key(fyne.KeyDown)
	key(fyne.KeyUp)
	if c.Focused() != fyne.Focusable(s.names[1]) {
		t.Error("down, down, up does not stand on the second sum")
	}
	key(fyne.KeyRight)
	if s.at != 1 || c.Focused() != s.first {
		t.Errorf("right shows sum %d", s.at)
	}
	at(t, s, "Wear of many units")
	c.Focus(s.first)
	if tabs, ok := s.first.(fyne.Tabbable); !ok || tabs.AcceptsTab() {
		t.Error("Tab does not leave the rows")
	}
	test.Type(c.Focused(), "unit")
	if s.typed[s.at]["rows"] != "unit" {
		t.Errorf("typed %q", s.typed[s.at]["rows"])
	}
}

func TestFieldsAreInTheShopsUnits(t *testing.T) {
	words.UseUnits(measure.Preference{Length: measure.Inch, Pressure: measure.PSI})
	t.Cleanup(func() { words.UseUnits(measure.Preference{}) })
	s := newScreen(t)
	at(t, s, "Travel on the tube")
	s.onTyped("out", "7.1654") // 182 mm / 25.4
	s.onTyped("home", "0.86614")
	if got := head(s); !strings.HasPrefix(got, "6.2") || !strings.Contains(got, "in") { // 160 mm / 25.4 = 6.299
		t.Errorf("160 mm is told as %q in inches", got)
	}
	at(t, s, "Air hold")
	if got := s.typed[s.at]["gauge"]; got != "1.45" { // 0.1 bar = 1.45 psi
		t.Errorf("0.1 bar stands as %q psi", got)
	}
}
