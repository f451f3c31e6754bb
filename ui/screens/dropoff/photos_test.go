package dropoff

import (
	"context"
	"encoding/json"
	"strings"
	"testing"

	"fyne.io/fyne/v2"

	"forkwear/inspect"
	"forkwear/ui/place"
	"forkwear/ui/screens/screentest"
	"forkwear/ui/widgets"
)

// dropOn drops a file on the middle of a place.
func (s *Screen) dropOn(t *testing.T, i int, names ...string) {
	t.Helper()
	c := s.cells[i].cell
	o := fyne.CurrentApp().Driver().AbsolutePositionForObject(c)
	s.Dropped(names, o.Add(fyne.NewPos(c.Size().Width/2, c.Size().Height/2)))
	s.env.Run.Wait()
	s.env.Run.Wait()
}

// far is a place of the window with no cell under it.
var far = fyne.NewPos(1180, 4)

func TestFourPhotosAreFiledWithTheVisit(t *testing.T) {
	env := screentest.Env(t)
	s := open(t, env, place.Where{Name: place.DropOff})
	s.Fill(sample())
	s.dropOn(t, 2, "/p/serial.jpg")
	s.Dropped([]string{"/p/left.jpg", "/p/right.jpg"}, far) // into what is empty, in order
	env.Run.Wait()
	s.dropOn(t, 3, "/p/damage-blurred.jpg")
	if len(s.form.Photos) != 4 {
		t.Fatalf("%d places are filled; at the foot %q", len(s.form.Photos), s.trouble.Text)
	}
	if got := s.cells[3].note.Text; !strings.Contains(got, "blurred") || !strings.Contains(got, "take it again") {
		t.Errorf("under the blurred one stands %q", got)
	}
	if got := s.cells[0].note.Text; strings.Contains(got, "again") || got == "" {
		t.Errorf("under a good one stands %q", got)
	}
	if !strings.Contains(draftOf(t, env), "left.jpg") {
		t.Error("the photos are not in the draft")
	}
	s.Submit()
	env.Run.Wait()
	gone := screentest.Told(env).Gone
	if len(gone) != 1 {
		t.Fatalf("at the foot: %q", s.trouble.Text)
	}
	got := map[string]string{}
	for _, p := range screentest.Open(t, env, gone[0].Visit).Photos {
		got[p.FileName] = p.Role + " " + string(p.Leg)
		if p.Check != "" || p.AddedBy != "bench" {
			t.Errorf("%+v", p)
		}
	}
	want := map[string]string{"left.jpg": "side left", "right.jpg": "side right", "serial.jpg": "serial ", "damage-blurred.jpg": "damage "}
	for name, role := range want {
		if got[name] != role {
			t.Errorf("%s is kept as %q, want %q", name, got[name], role)
		}
	}
	if len(got) != 4 {
		t.Errorf("photos %v", got)
	}
}

func TestPhotoPlaces_RefusedInPlace(t *testing.T) {
	env := screentest.Env(t)
	s := open(t, env, place.Where{Name: place.DropOff})
	s.dropOn(t, 0, "/p/broken.jpg")
	if len(s.form.Photos) != 0 || !s.trouble.Visible() {
		t.Error("a broken file was taken")
	}
	s.dropOn(t, 0, "/p/a.jpg")
	s.dropOn(t, 1, "/p/a.jpg")
	if len(s.form.Photos) != 1 || !strings.Contains(s.trouble.Text, "another place") {
		t.Errorf("one photo in two places: %v, %q", len(s.form.Photos), s.trouble.Text)
	}
	s.dropOn(t, 0, "/p/b.jpg") // another one instead
	if p := s.form.Photos["left"].Photo; p.FileName != "b.jpg" {
		t.Errorf("the place holds %q", p.FileName)
	}
	s.onPhotoAway(s.cells[0])
	if len(s.form.Photos) != 0 || s.cells[0].away.Visible() {
		t.Error("not taken out")
	}
	s.Dropped([]string{"1.jpg", "2.jpg", "3.jpg", "4.jpg", "5.jpg"}, far)
	env.Run.Wait()
	if len(s.form.Photos) != 4 || !strings.Contains(s.trouble.Text, "4 of the 5") {
		t.Errorf("%d photos, at the foot %q", len(s.form.Photos), s.trouble.Text)
	}
	s.Dropped([]string{"6.jpg"}, far)
	if !strings.Contains(s.trouble.Text, "all four") {
		t.Errorf("at the foot %q", s.trouble.Text)
	}
}

func TestNewestOfTheUnsorted(t *testing.T) {
	env := screentest.Env(t)
	ctx := context.Background()
	for i, name := range []string{"old.jpg", "new.jpg"} {
		p := screentest.Photo(name)
		p.ID, p.AddedAt, p.AddedBy = env.Desk.NewID(), screentest.Now.AddDate(0, 0, i-5), "bench"
		if _, err := env.Desk.Lib.AddPhoto(ctx, p); err != nil {
			t.Fatal(err)
		}
	}
	s := open(t, env, place.Where{Name: place.DropOff})
	s.Fill(sample())
	for i := range 3 {
		s.onNewest(s.cells[i])
		env.Run.Wait()
	}
	if s.form.Photos["left"].Photo.FileName != "new.jpg" || s.form.Photos["right"].Photo.FileName != "old.jpg" || len(s.form.Photos) != 2 {
		t.Fatalf("photos %+v", s.form.Photos)
	}
	if !s.trouble.Visible() {
		t.Error("nothing was left and nobody says so")
	}
	s.Submit()
	env.Run.Wait()
	c := screentest.Open(t, env, screentest.Told(env).Gone[0].Visit)
	if len(c.Photos) != 2 || c.Photos[0].Role != "side" {
		t.Errorf("filed %+v", c.Photos)
	}
	if left, err := env.Desk.Lib.Photos(ctx, inspect.PhotoFilter{Unsorted: true}); err != nil || len(left) != 0 {
		t.Errorf("%d still unsorted, %v", len(left), err)
	}
}

func TestAgreementIsSigned(t *testing.T) {
	ink := inspect.Signature{{{X: .1, Y: .2}, {X: .4, Y: .5}}}
	for _, c := range []struct {
		signed widgets.Signed
		by     string
		drawn  bool
	}{
		{widgets.Signed{By: "Ada Example", Strokes: ink}, "Ada Example", true},
		{widgets.Signed{Strokes: ink}, "New Customer", true}, // no other name: the customer
		{widgets.Signed{By: "Ada Example", OnPaper: true}, "Ada Example (on paper)", false},
		{widgets.Signed{By: "Ada Example"}, "", false}, // a name alone is no signature
	} {
		env := screentest.Env(t)
		s := open(t, env, place.Where{Name: place.DropOff})
		s.Fill(sample())
		s.sign.Set(c.signed)
		s.onSigned()
		s.Submit()
		env.Run.Wait()
		gone := screentest.Told(env).Gone
		if len(gone) != 1 {
			t.Fatalf("at the foot: %q", s.trouble.Text)
		}
		v := screentest.Open(t, env, gone[0].Visit).Visit
		if v.SignedBy != c.by || (len(v.Signature) == 1) != c.drawn {
			t.Errorf("%+v: kept %q, %v", c.signed, v.SignedBy, v.Signature)
		}
	}
}

func TestDraftKeepsPhotosAndSignature(t *testing.T) {
	env := screentest.Env(t)
	s := open(t, env, place.Where{Name: place.DropOff})
	s.typed(t, "name", "New Customer")
	s.dropOn(t, 1, "/p/right.jpg")
	s.sign.Set(widgets.Signed{By: "Ada", Strokes: inspect.Signature{{{X: .5, Y: .5}}}})
	s.onSigned()
	s.Closed()
	env.Run.Wait()
	again := open(t, env, place.Where{Name: place.DropOff})
	var k kept
	if err := json.Unmarshal([]byte(draftOf(t, env)), &k); err != nil {
		t.Fatal(err)
	}
	again.onDraft(k.Form)
	env.Run.Wait()
	if again.form.Photos["right"].Photo.FileName != "right.jpg" || len(again.sign.Value().Strokes) != 1 || again.sign.Value().By != "Ada" {
		t.Errorf("photos %v, signed %+v", again.form.Photos, again.sign.Value())
	}
}

func TestComplaintNote(t *testing.T) {
	env := screentest.Env(t)
	s := open(t, env, place.Where{Name: place.DropOff})
	s.Fill(sample())
	id := s.form.Complaints[0].Symptom
	s.typed(t, "note "+id, "only when it is cold ")
	s.Submit()
	env.Run.Wait()
	c := screentest.Open(t, env, screentest.Told(env).Gone[0].Visit)
	if c.Complaints[0].Note != "only when it is cold" {
		t.Errorf("complaints %+v", c.Complaints)
	}
}
