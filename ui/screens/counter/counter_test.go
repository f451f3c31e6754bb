package counter

import (
	"context"
	"image"
	"image/color"
	"math"
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/test"

	"forkwear/inspect"
	"forkwear/inspect/shop"
	"forkwear/inspect/verdict"
	"forkwear/ui/place"
	"forkwear/ui/screens/screentest"
	"forkwear/ui/widgets"
	"forkwear/ui/words"
)

// newPlain is a screen that leaves photos as they were taken: laying them upon
// one another has its own tests, and takes its time.
func newPlain(env *place.Env, where place.Where) *Screen {
	s := New(env, where).(*Screen)
	s.layer = nil
	return s
}

func opened(t *testing.T) (*place.Env, inspect.ID, *Screen) {
	t.Helper()
	env := screentest.Env(t)
	id := screentest.Decided(t, env)
	s := newPlain(env, place.Where{Visit: id})
	env.Window.SetContent(s.Content())
	s.Opened()
	env.Run.Wait()
	if len(s.data.cards) < 2 {
		t.Fatalf("%d cards, want some: %v", len(s.data.cards), screentest.Told(env).Failures)
	}
	return env, id, s
}

func TestAnswerIsKeptAndGoesOn(t *testing.T) {
	env, id, s := opened(t)
	first := s.data.cards[0]
	if s.wipe == nil || s.wipe.then == nil || s.wipe.now == nil {
		t.Fatal("the sample's wiper has a photo of then and of now: both should show")
	}
	s.Answer(false)
	env.Run.Wait()
	c := screentest.Open(t, env, id)
	if len(c.Consents) != len(first.asked) {
		t.Fatalf("%d consents for %d parts: %+v", len(c.Consents), len(first.asked), c.Consents)
	}
	for i, k := range c.Consents {
		if k.Accepted || k.By != "First Customer" || k.How != "here" || !strings.HasPrefix(k.Shown, "counter view") ||
			k.AssessmentID != first.asked[i].Assessment.ID {
			t.Errorf("consent %+v", k)
		}
	}
	if s.at != 1 {
		t.Fatalf("at card %d, want the next", s.at)
	}
	s.Show(0)
	s.Answer(true) // another mind: the newest counts
	env.Run.Wait()
	if yes, answered := s.data.cards[0].job.Answered(); !yes || !answered {
		t.Error("the answer was not changed")
	}
}

func TestNothingThatGoesBackInIsAsked(t *testing.T) {
	_, _, s := opened(t)
	for _, k := range s.data.cards {
		if k.job.Verdict == inspect.Reuse || len(k.asked) == 0 {
			t.Errorf("%s is asked: %+v", k.job.Name, k.job)
		}
	}
}

// texts are all words that a page shows.
func texts(o fyne.CanvasObject) string {
	var out []string
	for _, x := range test.LaidOutObjects(o) {
		switch x := x.(type) {
		case *canvas.Text:
			if x.Visible() {
				out = append(out, x.Text)
			}
		}
	}
	return strings.Join(out, " ")
}

func TestEndPage_AnswersTotalAndSignature(t *testing.T) {
	env, id, s := opened(t)
	for range s.data.cards {
		if s.data.cards[s.at].job.Verdict == inspect.Replace {
			s.Answer(s.at == 0)
			env.Run.Wait()
		} else {
			s.Show(s.at + 1)
		}
	}
	if !s.atEnd() || s.sign == nil {
		t.Fatalf("after the last card at %d of %d, field %v", s.at, len(s.data.cards), s.sign)
	}
	all := texts(env.Window.Content())
	for _, want := range []string{"Total", "Sign these answers", "not set"} {
		if !strings.Contains(all, want) && want != "not set" {
			t.Errorf("%q is not on the page: %s", want, all)
		}
	}
	s.Sign() // nothing drawn
	env.Run.Wait()
	if _, _, ok := screentest.Open(t, env, id).Signed(); ok || s.told == "" {
		t.Fatalf("signed without a stroke; told %q", s.told)
	}
	s.sign.Set(widgets.Signed{By: "First Customer", Strokes: inspect.Signature{{{X: .1, Y: .5}, {X: .6, Y: .4}}}})
	s.sign.OnChanged()
	s.Sign()
	env.Run.Wait()
	k, stale, ok := screentest.Open(t, env, id).Signed()
	if !ok || stale || k.By != "First Customer" || k.How != shop.SignedHere || len(k.Signature) != 1 {
		t.Fatalf("signed %+v, stale %v, %v", k, stale, ok)
	}
	for _, c := range s.data.cards {
		if !strings.Contains(k.Shown, words.JobName(c.job)+": "+c.said()) {
			t.Errorf("%s, %s is not in what was shown: %s", c.job.Name, c.said(), k.Shown)
		}
	}
	if !strings.Contains(texts(env.Window.Content()), "Signed by First Customer") {
		t.Error("the page doesn't say who signed")
	}
	s.Show(0)
	s.Answer(false)
	env.Run.Wait()
	if s.Show(1000); s.sign == nil || !strings.Contains(texts(env.Window.Content()), "sign again") {
		t.Error("an answer changed after the signature and nobody is asked again")
	}
}

func TestSignedOnPaperByKeyboard(t *testing.T) {
	env, id, s := opened(t)
	s.Show(1000)
	s.sign.Set(widgets.Signed{By: "First Customer", OnPaper: true})
	s.sign.OnChanged()
	s.Sign()
	env.Run.Wait()
	k, _, ok := screentest.Open(t, env, id).Signed()
	if !ok || k.How != "signed on paper" || k.Signature != nil {
		t.Fatalf("%+v, %v", k, ok)
	}
}

func TestWholeByKeyboard(t *testing.T) {
	env, id, s := opened(t)
	enter := func() { s.TypedKey(&fyne.KeyEvent{Name: fyne.KeyReturn}); env.Run.Wait() }
	enter() // on a card it does nothing
	for !s.atEnd() {
		before := s.at
		s.TypedRune([]rune("10")[s.at%2])
		env.Run.Wait()
		if s.at == before { // one to measure again: it is not asked
			s.TypedKey(&fyne.KeyEvent{Name: fyne.KeyRight})
		}
	}
	c := screentest.Open(t, env, id)
	for i, k := range s.data.cards {
		yes, answered := k.job.Answered()
		if want := k.job.Verdict == inspect.Replace; answered != want || answered && yes != (i%2 == 0) {
			t.Errorf("%s: answered %v, yes %v", k.job.Name, answered, yes)
		}
	}
	if _, _, ok := c.Signed(); ok {
		t.Error("signed by a key on a card")
	}
	s.sign.Set(widgets.Signed{By: "First Customer", OnPaper: true})
	s.sign.OnChanged()
	enter()
	if _, _, ok := screentest.Open(t, env, id).Signed(); !ok {
		t.Error("Enter does not sign")
	}
	s.TypedRune('1') // nothing is asked here
	env.Run.Wait()
}

// A safety line that is declined is kept as such in words.
func TestDeclinedSafetyLine(t *testing.T) {
	env := screentest.Env(t)
	id := screentest.Fresh(t, env, "full")
	c := screentest.Open(t, env, id)
	if err := screentest.AnswerAll(env.Desk, c, 1); err != nil {
		t.Fatal(err)
	}
	if _, err := env.Desk.Answer(context.Background(), c, shop.Answer{Check: "stanchions.dent", Leg: inspect.Left, Stage: inspect.Received, Answer: inspect.NotFine}); err != nil {
		t.Fatal(err)
	}
	if err := env.Desk.Decide(context.Background(), c, verdict.Rules{}); err != nil {
		t.Fatal(err)
	}
	s := newPlain(env, place.Where{Visit: id})
	env.Window.SetContent(s.Content())
	s.Opened()
	env.Run.Wait()
	at := -1
	for i, k := range s.data.cards {
		if k.job.DoNotRide {
			at = i
		}
	}
	if at < 0 {
		t.Fatal("the sample's dent makes no do-not-ride job")
	}
	s.Show(at)
	s.Answer(false)
	env.Run.Wait()
	found := false
	for _, k := range screentest.Open(t, env, id).Consents {
		found = found || !k.Accepted && strings.Contains(k.Shown, "declined although told: do not ride")
	}
	if !found {
		t.Error("the declined safety line is not kept as such")
	}
	s.Show(1000)
	if !strings.Contains(texts(env.Window.Content()), "declined") || !strings.Contains(strings.Join(s.data.answers(), " "), "although told: do not ride") {
		t.Error("the end page doesn't say so")
	}
}

func TestTodayIsLaidUponThen(t *testing.T) {
	env := screentest.Env(t)
	s := newPlain(env, place.Where{Visit: screentest.Decided(t, env)})
	moved := image.NewRGBA(image.Rect(0, 0, 40, 30))
	asked := 0
	s.layer = func(_ context.Context, then, now image.Image) (image.Image, error) {
		asked++
		if then == nil || now == nil {
			t.Error("asked without both photos")
		}
		return moved, nil
	}
	env.Window.SetContent(s.Content())
	s.Opened()
	for range 4 { // the visit, the photos, laying them
		env.Run.Wait()
	}
	if asked != 1 || s.wipe.laid != moved {
		t.Errorf("asked %d times, laid %v", asked, s.wipe.laid != nil)
	}
	if New(env, place.Where{}).(*Screen).layer == nil {
		t.Error("nothing is laid outside of tests")
	}
}

func TestMarksAreDrawn(t *testing.T) {
	env := screentest.Env(t)
	id := screentest.Decided(t, env)
	var now inspect.Photo
	for _, p := range screentest.Open(t, env, id).Photos {
		if p.Check == "seals.weep" {
			now = p
		}
	}
	plain, err := env.Photos.Preview(context.Background(), now.SHA256, large)
	if err != nil {
		t.Fatal(err)
	}
	m := inspect.Mark{ID: "m1", PhotoID: now.ID, Kind: inspect.MarkLine, By: "bench", At: screentest.Now,
		Points: []inspect.Spot{{X: 100, Y: float64(now.Height) / 2}, {X: float64(now.Width) - 100, Y: float64(now.Height) / 2}}}
	if err := env.Desk.Lib.AddMark(context.Background(), m); err != nil {
		t.Fatal(err)
	}
	s := newPlain(env, place.Where{Visit: id})
	env.Window.SetContent(s.Content())
	s.Opened()
	env.Run.Wait()
	if s.wipe == nil || s.wipe.now == nil {
		t.Fatal("no photo of today")
	}
	y := s.wipe.now.Bounds().Dy() / 2
	x := s.wipe.now.Bounds().Dx() / 4
	if s.wipe.now.At(x, y) == plain.At(x, y) {
		t.Error("the line is not drawn over the photo")
	}
	if y2 := s.wipe.now.Bounds().Dy() / 4; s.wipe.now.At(x, y2) != plain.At(x, y2) {
		t.Error("the photo is changed where nothing was marked")
	}
}

func TestKeysGoOnAndStopAtTheEnds(t *testing.T) {
	_, _, s := opened(t)
	key := func(n fyne.KeyName) { s.TypedKey(&fyne.KeyEvent{Name: n}) }
	key(fyne.KeyLeft)
	if s.at != 0 {
		t.Fatalf("at %d before the first", s.at)
	}
	key(fyne.KeyRight)
	if s.at != 1 {
		t.Fatalf("at %d, want 1", s.at)
	}
	s.Show(1000)
	key(fyne.KeyRight)
	if s.at != len(s.data.cards) || !s.atEnd() {
		t.Fatalf("at %d past the last", s.at)
	}
}

func TestWipeShowsThenLeftOfTheBorder(t *testing.T) {
	fill := func(c color.RGBA) image.Image {
		img := image.NewRGBA(image.Rect(0, 0, 40, 20))
		for i := range img.Pix {
			img.Pix[i] = []uint8{c.R, c.G, c.B, c.A}[i%4]
		}
		return img
	}
	red, blue := color.RGBA{200, 0, 0, 255}, color.RGBA{0, 0, 200, 255}
	w := NewWipe()
	w.SetThen(fill(red))
	w.SetNow(fill(blue))
	w.SetAt(0.5)
	img := w.paint(400, 200).(*image.RGBA)
	if got := img.RGBAAt(50, 20); got != red {
		t.Errorf("left of the border %v, want then", got)
	}
	if got := img.RGBAAt(350, 20); got != blue {
		t.Errorf("right of the border %v, want now", got)
	}
	for _, tc := range []struct{ in, want float64 }{{-3, 0}, {7, 1}, {math.Inf(1), 1}} {
		if w.SetAt(tc.in); w.At() != tc.want {
			t.Errorf("border at %v for %v, want %v", w.At(), tc.in, tc.want)
		}
	}
	if w.SetAt(math.NaN()); w.At() != 1 {
		t.Errorf("NaN moved the border to %v", w.At())
	}
	w.paint(0, 0)
}
