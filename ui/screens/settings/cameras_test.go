package settings

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

func TestReadOffset(t *testing.T) {
	for text, want := range map[string]time.Duration{
		"+1 h": time.Hour, "-00:03:20": -200 * time.Second, "1 h 30 min": 90 * time.Minute, "−2 d": -48 * time.Hour,
		"+1h": time.Hour, "0": 0, "00:45": 45 * time.Minute, "1:02:03": 3723 * time.Second, "1,5 h": 90 * time.Minute,
		"  -90 s ": -90 * time.Second, "365 d": 365 * 24 * time.Hour, "0.5 s": 500 * time.Millisecond,
	} {
		if got, err := readOffset(text); err != nil || got != want {
			t.Errorf("%q: %v, %v; want %v", text, got, err, want)
		}
	}
	for _, text := range []string{"", "1", "+", "h", "1 y", "1:60", "1:2", "1:02:03:04", "--1 h", "8000 d", "99999999999999999999 h", "NaN h", "1 h x", "1::2"} {
		if got, err := readOffset(text); err == nil {
			t.Errorf("%q was read as %v", text, got)
		}
	}
}

func TestReadShown(t *testing.T) {
	zone := time.FixedZone("", 2*3600)
	near := time.Date(2026, 5, 12, 23, 58, 0, 0, zone)
	for text, want := range map[string]time.Time{
		"23:57:30":            time.Date(2026, 5, 12, 23, 57, 30, 0, zone),
		"0:03":                time.Date(2026, 5, 13, 0, 3, 0, 0, zone), // nearer than the morning before
		"2026-05-12 14:02":    time.Date(2026, 5, 12, 14, 2, 0, 0, zone),
		"12.5.2027 14:02:30":  time.Date(2027, 5, 12, 14, 2, 30, 0, zone),
		"2026-05-12T14:02:11": time.Date(2026, 5, 12, 14, 2, 11, 0, zone),
	} {
		if got, err := readShown(text, near, zone); err != nil || !got.Equal(want) {
			t.Errorf("%q: %v, %v; want %v", text, got, err, want)
		}
	}
	for _, text := range []string{"", "25:00", "noon", "2026-13-01 10:00"} {
		if got, err := readShown(text, near, zone); err == nil {
			t.Errorf("%q was read as %v", text, got)
		}
	}
	if _, err := readShown("14:02", time.Time{}, zone); err == nil {
		t.Error("a time without a day was read although the photo has none")
	}
}

func FuzzReadOffset(f *testing.F) {
	for _, s := range []string{"+1 h", "-00:03:20", "1 h 30 min", "0", "1:02:03", "−2 d"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		d, err := readOffset(s)
		if err == nil && d.Abs() > inspect.MostClockAdd {
			t.Errorf("%q was read as %v", s, d)
		}
	})
}

// withCamera is a shop with two photos of one camera, one of them filed.
func withCamera(t *testing.T) *place.Env {
	t.Helper()
	env := screentest.Env(t)
	env.Desk.Zone = time.UTC
	env.Arrivals = arrivals.New(env, arrivals.Source{})
	screentest.First(t, env, "full")
	for i, name := range []string{"a.jpg", "b.jpg"} {
		p := screentest.Photo(name)
		p.ID, p.AddedAt, p.Make, p.Model = env.Desk.NewID(), screentest.Now, "Sample", "Cam"
		p.WallTime = screentest.Now.Add(time.Duration(i)*time.Minute - time.Hour).Format("2006-01-02T15:04:05") // an hour behind
		if _, err := env.Desk.Lib.AddPhoto(context.Background(), p); err != nil {
			t.Fatal(err)
		}
	}
	return env
}

func clockOf(t *testing.T, env *place.Env) time.Duration {
	t.Helper()
	cs, err := env.Desk.Lib.Clocks(context.Background())
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range cs {
		if c.Camera == "Sample Cam" {
			return c.Add
		}
	}
	return 0
}

func waiting(t *testing.T, env *place.Env) int {
	t.Helper()
	ps, err := env.Desk.Unsorted(context.Background())
	if err != nil {
		t.Fatal(err)
	}
	return len(ps)
}

func TestClockByHandSortsTheTrayAndIsTakenBack(t *testing.T) {
	env := withCamera(t)
	s := open(t, env)
	if len(s.cameras.all) != 1 || s.cameras.all[0].Photos != 2 {
		t.Fatalf("cameras %+v", s.cameras.all)
	}
	s.onCamera("Sample Cam")
	env.Run.Wait()
	s.cameras.offset.SetText("nonsense")
	s.onOffset("Sample Cam")
	env.Run.Wait()
	if !s.cameras.refused.Visible() || clockOf(t, env) != 0 {
		t.Error("nonsense was taken")
	}
	s.cameras.offset.SetText("+1 h")
	s.cameras.offset.OnSubmitted("")
	env.Run.Wait()
	if clockOf(t, env) != time.Hour || s.cameras.open != "" {
		t.Fatalf("clock %v", clockOf(t, env))
	}
	if waiting(t, env) != 0 { // both were taken while the only fork was here, now
		t.Errorf("%d photos still wait", waiting(t, env))
	}
	told := screentest.Told(env)
	if len(told.Saves) < 1 || !strings.Contains(told.Saves[0], "Clock of Sample Cam: +1") {
		t.Errorf("told %q", told.Saves)
	}
	told.Undos[0]()
	env.Run.Wait()
	if clockOf(t, env) != 0 {
		t.Errorf("after undo %v", clockOf(t, env))
	}
}

func TestClockIsLearntFromAPhoto(t *testing.T) {
	env := withCamera(t)
	s := open(t, env)
	s.onCamera("Sample Cam")
	env.Run.Wait()
	if len(s.cameras.photos) != 2 || s.cameras.photos[0].FileName != "b.jpg" {
		t.Fatalf("offered %+v", s.cameras.photos)
	}
	s.cameras.cells[1].Tapped(nil) // a.jpg: 13:02:11 by the camera
	env.Run.Wait()
	if !s.cameras.learn.Visible() {
		t.Fatal("nothing asks what the clock showed")
	}
	s.cameras.shown.SetText("13:05:31")
	s.cameras.shown.OnSubmitted("")
	env.Run.Wait()
	if got := clockOf(t, env); got != 200*time.Second { // 13:05:31 − 13:02:11
		t.Errorf("learnt %v, want 3 min 20 s", got)
	}
}

func TestWatchedFolderIsChosenAndTurnedOff(t *testing.T) {
	env := withCamera(t)
	s := open(t, env)
	if s.folder.onOff.Visible() || !strings.Contains(s.folder.state.String(), "No folder") {
		t.Errorf("state %q", s.folder.state.String())
	}
	s.folderChosen("/sync/phone")
	env.Run.Wait()
	if w := env.Arrivals.Watched(); w.Folder != "/sync/phone" || !w.On || !w.Since.Equal(screentest.Now) {
		t.Errorf("watched %+v", w)
	}
	if got := kept1(t, env, "photos.folder"); got != "/sync/phone" {
		t.Errorf("kept %q", got)
	}
	if !strings.Contains(s.folder.state.String(), "after 12 May 2026, 14:02") || !s.folder.older.Visible() {
		t.Errorf("state %q", s.folder.state.String())
	}
	s.onOlder()
	env.Run.Wait()
	if w := env.Arrivals.Watched(); !w.Since.IsZero() || !w.On || s.folder.older.Visible() {
		t.Errorf("all of it: %+v", w)
	}
	s.onWatch()
	env.Run.Wait()
	if got := kept1(t, env, "photos.watch"); got != "off" || !strings.Contains(s.folder.state.String(), "Not watched") {
		t.Errorf("off: %q, %q", got, s.folder.state.String())
	}
	screentest.Told(env).Undo()
	env.Run.Wait()
	if w := env.Arrivals.Watched(); !w.On || kept1(t, env, "photos.watch") != "" {
		t.Errorf("after undo %+v", w)
	}
	env.Arrivals = troubled{env.Arrivals}
	s.showFolder()
	if !s.folder.trouble.Visible() || s.folder.state.Visible() {
		t.Error("a folder that is gone is not told")
	}
}

type troubled struct{ place.Arrivals }

func (troubled) Watched() place.Watched {
	return place.Watched{Folder: "/sync/phone", On: true, Trouble: "The watched folder /sync/phone is not there: plug the card or drive in."}
}
