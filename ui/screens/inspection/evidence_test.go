package inspection

import (
	"context"
	"strings"
	"testing"
	"time"

	"forkwear/inspect"
	"forkwear/ui/arrivals"
	"forkwear/ui/place"
	"forkwear/ui/screens/screentest"
)

// withInbox is a shop whose photos come by themselves.
func withInbox(t *testing.T) *place.Env {
	t.Helper()
	env := screentest.Env(t)
	env.Desk.Zone = time.UTC
	env.Arrivals = arrivals.New(env, arrivals.Source{})
	return env
}

func fronts(t *testing.T, env *place.Env) []inspect.Focus {
	t.Helper()
	fs, err := env.Desk.Lib.Focuses(context.Background(), screentest.Now.Add(-time.Hour), screentest.Now.Add(time.Hour))
	if err != nil {
		t.Fatal(err)
	}
	return fs
}

func TestWhatIsInFrontIsLogged(t *testing.T) {
	env := withInbox(t)
	s := open(t, env, screentest.Visit(t, env))
	begun := s.at
	do(env, s, func() { s.goTo(spot{"seals.weep", inspect.Right, ""}) })
	do(env, s, func() { s.show() }) // the same again is no news
	do(env, s, s.Closed)
	fs := fronts(t, env)
	if len(fs) != 3 || fs[0].Check != begun.check || fs[1].Check != "seals.weep" || fs[1].Leg != inspect.Right || fs[2].Check != "" {
		t.Fatalf("logged %+v", fs)
	}
	if fs[1].Stage != s.stage || fs[1].VisitID != s.where.Visit {
		t.Errorf("logged %+v", fs[1])
	}
}

func TestPhotoComesByItself(t *testing.T) {
	env := withInbox(t)
	s := open(t, env, screentest.Visit(t, env))
	do(env, s, func() { s.goTo(spot{"seals.weep", inspect.Right, ""}) })
	before := len(s.kase.Photos)
	do(env, s, func() { env.Arrivals.Import([]string{"/sync/new-blurred.jpg"}) })
	here := s.photosHere()
	if len(s.kase.Photos) != before+1 || len(here) != 1 || here[0].FileName != "new-blurred.jpg" || s.photos.nowID != here[0].ID {
		t.Fatalf("%d photos of %d, shown %q", len(s.kase.Photos), before+1, s.photos.nowID)
	}
	if !s.card.told.Visible() || !strings.Contains(s.card.told.Text, "blurred, take it again") {
		t.Errorf("told %q", s.card.told.Text)
	}
	if !s.evidence.said.Visible() || !strings.Contains(s.evidence.said.String(), "take it again") {
		t.Errorf("under the photo %q", s.evidence.said.String())
	}
	// Taken back, it lies in the tray of this visit, and the screen knows.
	do(env, s, func() { screentest.Told(env).Undo() })
	if len(s.photosHere()) != 0 || s.evidence.said.Visible() {
		t.Errorf("after undo %d photos are of the check", len(s.photosHere()))
	}
	do(env, s, s.Closed)
	do(env, s, func() { env.Arrivals.Import([]string{"/sync/later.jpg"}) }) // nobody listens any more
}

func keepAs(t *testing.T, env *place.Env, s *Screen, name string, change func(p *inspect.Photo)) inspect.ID {
	t.Helper()
	p := screentest.Photo(name)
	p.Check, p.Leg, p.Stage = "seals.weep", inspect.Right, inspect.Received
	change(&p)
	kept, _, err := env.Desk.KeepPhoto(context.Background(), screentest.Open(t, env, s.where.Visit), p)
	if err != nil {
		t.Fatal(err)
	}
	return kept.ID
}

func TestDoubtsStandOnThePhotos(t *testing.T) {
	env := withInbox(t)
	id := screentest.Visit(t, env)
	s := open(t, env, id)
	old := keepAs(t, env, s, "old.jpg", func(p *inspect.Photo) { p.WallTime, p.Check = "2024-01-01T10:00:00", "" })
	ahead := keepAs(t, env, s, "ahead.jpg", func(p *inspect.Photo) { p.WallTime = "2026-05-12T15:02:00" }) // an hour ahead of 14:02
	do(env, s, s.Opened)
	do(env, s, func() { s.goTo(spot{"seals.weep", inspect.Right, ""}) })
	if got := s.evidence.said.String(); s.photos.nowID != ahead || !strings.Contains(got, "which has not come yet") {
		t.Errorf("under the photo %q", got)
	}
	if got := s.hintOn(old); !strings.Contains(got, "before the fork's last visit") {
		t.Errorf("the mouse is told %q", got)
	}
	found := false
	for _, c := range s.photos.cells {
		if c.photo.ID() == string(old) {
			found = true
		}
	}
	if got := s.cellCaption(s.kase.Tray()[0]); !found || got != "check its date" {
		t.Errorf("the cell says %q", got)
	}
	// With the clock of the camera set right the doubt goes.
	if err := env.Desk.SetClock(context.Background(), "Sample Cam", -time.Hour); err != nil {
		t.Fatal(err)
	}
	keepAs(t, env, s, "right.jpg", func(p *inspect.Photo) {
		p.WallTime, p.Make, p.Model = "2026-05-12T15:02:00", "Sample", "Cam"
	})
	do(env, s, s.Opened)
	if s.evidence.said.Visible() || !strings.Contains(s.captionOf(s.photosHere()[0], 1), "12 May 2026, 14:02") {
		t.Errorf("corrected: %q, %q", s.evidence.said.String(), s.captionOf(s.photosHere()[0], 1))
	}
}

// printed is a library whose photos all have a fingerprint: their file's name.
type printed struct{ inspect.Library }

func (l printed) Photos(ctx context.Context, f inspect.PhotoFilter) ([]inspect.Photo, error) {
	f.Fingerprint = false
	ps, err := l.Library.Photos(ctx, f)
	for i := range ps {
		ps[i].Fingerprint = ps[i].FileName
	}
	return ps, err
}

func TestLooksLikeLastYearsPhoto(t *testing.T) {
	env := withInbox(t)
	env.Desk.Lib = printed{env.Desk.Lib}
	s := open(t, env, screentest.Visit(t, env))
	was := s.kase.Earlier[0].Photos[0]
	env.Desk.Alike = func(a, b string) int {
		pair := a + " " + b
		if pair == "again.jpg "+was.FileName || pair == was.FileName+" again.jpg" {
			return 4 // of 64 bits
		}
		return 32
	}
	now := keepAs(t, env, s, "again.jpg", func(*inspect.Photo) {})
	do(env, s, s.Opened)
	do(env, s, func() { s.goTo(spot{"seals.weep", inspect.Right, ""}) })
	if got := s.evidence.said.String(); !strings.Contains(got, "Looks like the photo of") {
		t.Errorf("under the photo %q", got)
	}
	e := &s.evidence
	if !e.like.Visible() || e.cells[0].ID() != string(was.ID) || e.cells[1].ID() != string(now) || s.photos.then.Visible() {
		t.Errorf("both side by side: %v, %q and %q", e.like.Visible(), e.cells[0].ID(), e.cells[1].ID())
	}
	do(env, s, func() { s.goTo(spot{"seals.weep", inspect.Left, ""}) })
	if e.like.Visible() || e.said.Visible() {
		t.Error("at another check the doubt stays")
	}
}

func TestCardSeen(t *testing.T) {
	env := withInbox(t)
	id := screentest.Visit(t, env)
	s := open(t, env, id)
	for _, c := range []struct {
		code  string
		card  []inspect.Spot
		want  string
		wrong bool
	}{
		{"", nil, "", false},
		{"", make([]inspect.Spot, 4), "sizes can be measured", false},
		{string(id), nil, "this visit", false},
		{"another", nil, "another visit", true},
	} {
		text, wrong := s.cardSeen(inspect.Photo{CardCode: c.code, Card: c.card})
		if !strings.Contains(text, c.want) || (c.want == "") != (text == "") || wrong != c.wrong {
			t.Errorf("%+v: %q, %v", c, text, wrong)
		}
	}
	env.Desk.CardVisit = func(string) (inspect.ID, bool) { return "", false }
	if text, wrong := s.cardSeen(inspect.Photo{CardCode: "x"}); !wrong || text == "" {
		t.Errorf("%q", text)
	}
}
