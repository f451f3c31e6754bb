package dropoff

import (
	"context"
	"encoding/json"
	"math"
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"

	"forkwear/inspect"
	"forkwear/inspect/shop"
	"forkwear/ui/place"
	"forkwear/ui/screens/screentest"
)

func open(t *testing.T, env *place.Env, where place.Where) *Screen {
	t.Helper()
	s := newScreen(env, where)
	s.pause = 0.01
	env.Window.SetContent(s.Content())
	env.Window.Resize(fyne.NewSize(1190, 700))
	s.Opened()
	env.Run.Wait()
	return s
}

func (s *Screen) typed(t *testing.T, name, text string) {
	t.Helper()
	e := s.texts[name]
	if e == nil {
		t.Fatalf("there is no entry %q", name)
	}
	test.Type(e, text)
	s.env.Run.Wait()
}

// draftOf reads what the library keeps as the draft.
func draftOf(t *testing.T, env *place.Env) string {
	t.Helper()
	d, err := env.Desk.Lib.Preference(context.Background(), draftKey)
	if err != nil {
		t.Fatal(err)
	}
	return d
}

func TestWholeDropOff(t *testing.T) {
	env := screentest.Env(t)
	s := open(t, env, place.Where{Name: place.DropOff})
	for name, text := range map[string]string{"name": "New Customer", "phone": "000 333 44", "maker": "Sample", "model": "Cross 100", "year": "2024",
		"tag": "B-3", "hours": "300", "promised": "19 May", "also": "a shock", "ahead": "150", "package": "129,90"} {
		s.typed(t, name, text)
	}
	s.form.Fork.Sheet, s.form.Level, s.form.Sure = screentest.Sheet, "lowers", fromComputer
	s.form.CameWith = []string{"axle"}
	s.sync()
	s.onSymptom("weeping")
	s.typed(t, "since weeping", "two weeks")
	s.form.Complaints[0].Leg = inspect.Left
	s.typed(t, "air_pressure", "72.5 psi")
	s.typed(t, "rebound_clicks", "7")
	s.typed(t, "lock", "open")
	if !strings.Contains(draftOf(t, env), "New Customer") {
		t.Error("the draft is not kept while typing")
	}
	s.Submit()
	env.Run.Wait()

	told := screentest.Told(env)
	if len(told.Gone) != 1 || told.Gone[0].Name != place.Inspect {
		t.Fatalf("went to %+v; at the foot: %q", told.Gone, s.trouble.Text)
	}
	c := screentest.Open(t, env, told.Gone[0].Visit)
	if c.Customer.Phone != "000 333 44" || c.Fork.Label() != "Sample Cross 100 2024" || c.Visit.Level != "lowers" || c.Visit.Ticket != 1 {
		t.Errorf("kept %+v, %+v, %+v", c.Customer, c.Fork, c.Visit)
	}
	// 2 % of 300 h: the share for a computer, common practice, no source.
	if c.Claim.Hours != 300 || math.Abs(c.Claim.U-6) > 1e-9 || c.Claim.Source != "computer" || c.Claim.AtLeast {
		t.Errorf("claim %+v", c.Claim)
	}
	if c.Visit.GoAhead != (inspect.Money{Minor: 15000, Currency: "EUR"}) || c.Visit.Package.Minor != 12990 {
		t.Errorf("agreed %+v and %+v", c.Visit.Package, c.Visit.GoAhead)
	}
	if got := c.Visit.Promised.Format("2006-01-02"); got != "2026-05-19" { // the clock stands at 12 May 2026
		t.Errorf("promised %s", got)
	}
	if len(c.Visit.CameWith) != 2 || c.Visit.CameWith[1] != alsoHere+"a shock" {
		t.Errorf("came with %q", c.Visit.CameWith)
	}
	if len(c.Complaints) != 1 || c.Complaints[0].Since != "two weeks" || c.Complaints[0].Leg != inspect.Left {
		t.Errorf("complaints %+v", c.Complaints)
	}
	if len(c.Settings) != 3 {
		t.Fatalf("settings %+v", c.Settings)
	}
	// 1 psi = 0.0689475729 bar (NIST SP 811, appendix B): 72.5 psi = 4.99870 bar.
	if p := c.Settings[0]; p.Text != "72.5 psi" || p.Unit != "bar" || math.Abs(p.Value-4.99870) > 1e-5 || p.Moment != "found" {
		t.Errorf("pressure %+v", p)
	}
	if l := c.Settings[2]; l.Text != "open" || l.Unit != "" {
		t.Errorf("lock %+v", l)
	}
	s.Closed()
	env.Run.Wait()
	if d := draftOf(t, env); d != "" {
		t.Errorf("a draft is left: %s", d)
	}
}

func TestErrorsKeepText(t *testing.T) {
	env := screentest.Env(t)
	s := open(t, env, place.Where{Name: place.DropOff})
	s.typed(t, "maker", "Sample")
	for _, step := range []struct {
		mend func()
		want string // words of the refusal
	}{
		{func() {}, "name"},
		{func() { s.typed(t, "name", "New Customer") }, "data sheet"},
		{func() { s.form.Fork.Sheet = screentest.Sheet; s.sync() }, "service level"},
		{func() { s.form.Level = "full"; s.typed(t, "hours", "many") }, "riding hours"},
		{func() { s.texts["hours"].SetText("1e9") }, "riding hours"},
		{func() { s.texts["hours"].SetText("40"); s.typed(t, "year", "1066") }, "year"},
		{func() { s.texts["year"].SetText("2024"); s.typed(t, "promised", "soon") }, "promised day"},
		{func() { s.texts["promised"].SetText("1.6."); s.typed(t, "ahead", "some") }, "go ahead"},
	} {
		step.mend()
		s.Submit()
		env.Run.Wait()
		if !s.trouble.Visible() || !strings.Contains(s.trouble.Text, step.want) {
			t.Errorf("the foot says %q, want something of %q", s.trouble.Text, step.want)
		}
		if s.texts["maker"].Text != "Sample" {
			t.Errorf("the maker is %q now", s.texts["maker"].Text)
		}
	}
	lib := screentest.Lib(env)
	s.texts["ahead"].SetText("")
	env.Run.Wait()
	lib.Refuse = inspect.Refuse(inspect.Full, "the disk is full")
	s.Submit()
	env.Run.Wait()
	if s.trouble.Text != "the disk is full" || s.texts["name"].Text != "New Customer" || len(screentest.Told(env).Gone) != 0 {
		t.Errorf("a full disk: foot %q, name %q, gone %v", s.trouble.Text, s.texts["name"].Text, screentest.Told(env).Gone)
	}
	lib.Refuse = nil
	s.Submit()
	env.Run.Wait()
	if s.trouble.Visible() || len(screentest.Told(env).Gone) != 1 {
		t.Errorf("with room again: foot %q, gone %v", s.trouble.Text, screentest.Told(env).Gone)
	}
}

func TestDraftIsOfferedAgain(t *testing.T) {
	env := screentest.Env(t)
	s := open(t, env, place.Where{Name: place.DropOff})
	if len(s.offer.Objects) != 0 {
		t.Error("a draft is offered where none was left")
	}
	s.typed(t, "name", "New Customer")
	s.typed(t, "hours", "half of it")
	s.typed(t, "air_pressure", "6 b")

	again := open(t, env, place.Where{Name: place.DropOff}) // after a crash: Closed never came
	if len(again.offer.Objects) != 1 || again.texts["name"].Text != "" {
		t.Fatalf("offers %d, name %q", len(again.offer.Objects), again.texts["name"].Text)
	}
	var k kept
	if err := json.Unmarshal([]byte(draftOf(t, env)), &k); err != nil {
		t.Fatal(err)
	}
	again.onDraft(k.Form)
	env.Run.Wait()
	if again.texts["name"].Text != "New Customer" || again.texts["hours"].Text != "half of it" || again.texts["air_pressure"].Text != "6 b" {
		t.Errorf("restored %q, %q, %q", again.texts["name"].Text, again.texts["hours"].Text, again.texts["air_pressure"].Text)
	}
	again.onClear()
	env.Run.Wait()
	if draftOf(t, env) != "" {
		t.Error("a cleared page leaves a draft")
	}
	if !screentest.Told(env).Undo() || again.texts["name"].Text != "New Customer" {
		t.Error("clearing can't be undone")
	}
	env.Run.Wait()
	third := open(t, env, place.Where{Name: place.DropOff})
	third.onDropDraft()
	env.Run.Wait()
	if draftOf(t, env) != "" || len(third.offer.Objects) != 0 {
		t.Error("a dropped draft is still there")
	}
}

func TestKnownFork(t *testing.T) {
	env := screentest.Env(t)
	visit := screentest.Fresh(t, env, "full")
	before := screentest.Open(t, env, visit)
	if err := env.Desk.Lib.PutSetting(context.Background(), inspect.Setting{VisitID: visit, Moment: "left", Key: "air_pressure", Value: 6.1, Unit: "bar"}); err != nil {
		t.Fatal(err)
	}
	s := open(t, env, place.Where{Name: place.DropOff, Fork: before.Fork.ID})
	if s.texts["name"].Text != "First Customer" || s.texts["tag"].Text != "A-17" || s.texts["year"].Text != "2023" {
		t.Errorf("filled with %q, %q, %q", s.texts["name"].Text, s.texts["tag"].Text, s.texts["year"].Text)
	}
	if s.leftText("air_pressure") != "6.1\u2009bar" || !strings.Contains(s.lastLine.Text, "12 May 2026") {
		t.Errorf("left with %q; %q", s.leftText("air_pressure"), s.lastLine.Text)
	}
	in, err := s.form.intake(s.known, screentest.Now, "EUR")
	if err != nil || in.Hours != 318 || !in.AtLeast { // nobody told: at least those of the last visit
		t.Errorf("not told: %g, at least %v, %v", in.Hours, in.AtLeast, err)
	}
	s.form.Use = shop.NormalUse
	// 10 weeks at 4 ± 2 h after 318 ± 12 h: 358 h, hypot(12, 20) = 23.3238 (by hand: 12²+20² = 544).
	in, err = s.form.intake(s.known, screentest.Now.AddDate(0, 0, 70), "EUR")
	if err != nil || math.Abs(in.Hours-358) > 1e-9 || math.Abs(in.HoursU-math.Sqrt(544)) > 1e-9 || in.HoursFrom != "weekly use" || in.AtLeast {
		t.Errorf("normal use for 10 weeks: %g ± %g, %q, at least %v, %v", in.Hours, in.HoursU, in.HoursFrom, in.AtLeast, err)
	}
}

func TestFindAsYouType(t *testing.T) {
	env := screentest.Env(t)
	screentest.Fresh(t, env, "full")
	s := open(t, env, place.Where{Name: place.DropOff})
	s.typed(t, "name", "fir")
	if len(s.customersFound.Objects) != 1 {
		t.Fatalf("%d customers found", len(s.customersFound.Objects))
	}
	test.Tap(s.customersFound.Objects[0].(fyne.Tappable))
	env.Run.Wait()
	if s.texts["phone"].Text != "000 111 22" || len(s.forksFound.Objects) != 1 {
		t.Fatalf("phone %q, %d forks offered", s.texts["phone"].Text, len(s.forksFound.Objects))
	}
	test.Tap(s.forksFound.Objects[0].(fyne.Tappable))
	env.Run.Wait()
	if s.form.Fork.Tag != "A-17" || !s.known.here() {
		t.Errorf("fork %+v", s.form.Fork)
	}
}

func TestFillIsTakenInAsGiven(t *testing.T) {
	env := screentest.Env(t)
	s := open(t, env, place.Where{Name: place.DropOff})
	in := sample()
	s.Fill(in)
	env.Run.Wait()
	got, err := s.form.intake(s.known, screentest.Now, "EUR")
	if err != nil || got.Hours != in.Hours || got.HoursU != in.HoursU || got.HoursFrom != in.HoursFrom || got.Fork != in.Fork ||
		got.Customer != in.Customer || len(got.Settings) != 2 || got.Settings[1].Value != 8 || len(got.Complaints) != 2 ||
		got.Visit.GoAhead != in.Visit.GoAhead || len(got.Visit.CameWith) != 2 {
		t.Errorf("put in %+v\ngot back %+v, %v", in, got, err)
	}
	s.Submit()
	env.Run.Wait()
	if len(screentest.Told(env).Gone) != 1 {
		t.Errorf("at the foot: %q", s.trouble.Text)
	}
}

func sample() shop.Intake {
	return shop.Intake{
		Customer: inspect.Customer{Name: "New Customer", Phone: "000 333 44", Email: "new@example.org", ReachBy: "message"},
		Fork:     inspect.Fork{Maker: "Sample", Model: "Trail 120", Year: 2023, Serial: "S-00042", Tag: "C-9", Sheet: screentest.Sheet},
		Visit: inspect.Visit{Level: "lowers", Purpose: "paid", Promised: screentest.Now.AddDate(0, 0, 7), Conditions: []string{"dust", "mud"},
			CameWith: []string{"axle", alsoHere + "a shock"}, GoAhead: inspect.Money{Minor: 15000, Currency: "EUR"}, Note: "small dent on the left tube"},
		Hours: 212, HoursU: 31, HoursFrom: "typed", HoursWords: "about four hours a week",
		Complaints: []inspect.Complaint{{Symptom: "weeping", Leg: inspect.Left, Since: "two weeks"}, {Symptom: "knocks", Since: "since spring"}},
		Settings:   []inspect.Setting{{Key: "air_pressure", Value: 5, Unit: "bar", Text: "72.5 psi"}, {Key: "rebound_clicks", Value: 8, Unit: "clicks"}},
	}
}

func TestDay(t *testing.T) {
	for text, want := range map[string]string{"": "0001-01-01", "2026-05-19": "2026-05-19", "19 May": "2026-05-19", "1 Feb": "2027-02-01",
		"12 May": "2026-05-12", "3.6.": "2026-06-03", "3.6.2027": "2027-06-03"} { // the calendar after 12 May 2026
		if got, err := day(text, screentest.Now); err != nil || got.Format("2006-01-02") != want {
			t.Errorf("%q: %v, %v; want %s", text, got, err, want)
		}
	}
}

func TestCoilRate(t *testing.T) {
	f := settingFields[2]
	// 1 lbf = 4.4482216152605 N and 1 in = 25.4 mm (NIST SP 811, appendix B): 45 lb/in = 7.88070 N/mm.
	for text, want := range map[string]float64{"7.5": 7.5, "7,5 N/mm": 7.5, "45 lb/in": 7.88070, "45lbs/in": 7.88070} {
		if got, ok := f.read(text); !ok || math.Abs(got-want) > 1e-5 {
			t.Errorf("%q: %g, %v; want %g", text, got, ok, want)
		}
	}
	if _, ok := f.read("green"); ok {
		t.Error("a colour is read as a rate")
	}
}

func TestTakenInOnce(t *testing.T) {
	env := screentest.Env(t)
	s := open(t, env, place.Where{Name: place.DropOff})
	s.Fill(sample())
	lib := screentest.Lib(env)
	env.Run.Wait()
	lib.Hold()
	s.Submit()
	s.Submit() // pressed twice while the first is under way
	lib.Release()
	env.Run.Wait()
	s.Submit() // and once more afterwards
	env.Run.Wait()
	if vs, err := env.Desk.Lib.Visits(context.Background(), inspect.VisitFilter{}); err != nil || len(vs) != 1 {
		t.Errorf("%d visits, %v", len(vs), err)
	}
}

func TestNumbersAreShownAsTold(t *testing.T) {
	in := sample()
	in.HoursU = shop.GuessShare * in.Hours
	if f := formOf(in); f.Hours != "212" || f.Sure != aGuess || f.Given != nil {
		t.Errorf("a guess: hours %q, %q, %+v", f.Hours, f.Sure, f.Given)
	}
	in.HoursFrom, in.HoursU = fromComputer, shop.ComputerShare*in.Hours
	if f := formOf(in); f.Hours != "212" || f.Sure != fromComputer {
		t.Errorf("off a computer: hours %q, %q", f.Hours, f.Sure)
	}
	f := blank()
	f.Use = shop.LittleUse
	if c, err := f.hours(known{}, screentest.Now); err != nil || !c.AtLeast || c.Hours != 0 {
		t.Errorf("little use, nobody knows for how long: %+v, %v", c, err)
	}
	f.Span = "10 weeks" // 10 * 2 h and 10 * 1 h: common practice, no source
	if c, err := f.hours(known{}, screentest.Now); err != nil || c.AtLeast || c.Hours != 20 || c.U != 10 {
		t.Errorf("little use for 10 weeks: %+v, %v", c, err)
	}
	f.Span = "ages"
	if _, err := f.hours(known{}, screentest.Now); inspect.CodeOf(err) != inspect.Invalid {
		t.Errorf("little use for ages: %v, want a refusal", err)
	}
}
