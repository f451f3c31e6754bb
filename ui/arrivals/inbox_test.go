package arrivals_test

import (
	"context"
	"errors"
	"fmt"
	"strings"
	"sync"
	"testing"
	"time"

	"forkwear/inspect"
	"forkwear/inspect/shop"
	"forkwear/ui/arrivals"
	"forkwear/ui/place"
	"forkwear/ui/screens/screentest"
)

// folder is a watched folder that does what a test says.
type folder struct {
	mu      sync.Mutex
	dir     string
	since   time.Time
	said    func(string)
	arrived func(string) error
	begun   chan struct{}
	ended   int
}

func newFolder() *folder { return &folder{begun: make(chan struct{}, 10)} }

func (f *folder) watch(ctx context.Context, dir string, since time.Time, said func(string), arrived func(string) error) error {
	f.mu.Lock()
	f.dir, f.since, f.said, f.arrived = dir, since, said, arrived
	f.mu.Unlock()
	f.begun <- struct{}{}
	<-ctx.Done()
	f.mu.Lock()
	f.ended++
	f.mu.Unlock()
	return ctx.Err()
}

func (f *folder) wait(t *testing.T) {
	t.Helper()
	select {
	case <-f.begun:
	case <-time.After(5 * time.Second):
		t.Fatal("nothing is watched")
	}
}

var errDisk = errors.New("the disk is full")

// photos lets a test say what a file is.
type photos struct {
	screentest.Pictures
	mu     sync.Mutex
	made   map[string]inspect.Photo
	fail   error
	during func(done int)
	count  int
}

func (p *photos) Import(ctx context.Context, paths []string, progress func(done, total int, name string)) []place.Imported {
	out := p.Pictures.Import(ctx, paths, nil)
	for i := range out {
		p.mu.Lock()
		p.count++
		n, fail, during := p.count, p.fail, p.during
		if m, ok := p.made[out[i].Path]; ok && out[i].Err == nil {
			m.SHA256, m.FileName = out[i].Photo.SHA256, out[i].Photo.FileName
			out[i].Photo = m
		}
		p.mu.Unlock()
		if fail != nil {
			out[i] = place.Imported{Path: out[i].Path, Err: fail}
		}
		if progress != nil {
			progress(i+1, len(paths), out[i].Path)
		}
		if during != nil {
			during(n)
		}
	}
	return out
}

func shopAnd(t *testing.T) (*place.Env, *arrivals.Inbox, *folder, *photos) {
	t.Helper()
	env := screentest.Env(t)
	env.Desk.Zone = time.UTC
	ps, f := &photos{made: map[string]inspect.Photo{}}, newFolder()
	env.Photos = ps
	inbox := arrivals.New(env, arrivals.Source{Watch: f.watch, Again: func(err error) bool { return errors.Is(err, errDisk) }})
	env.Arrivals = inbox
	return env, inbox, f, ps
}

// watching starts an inbox on a folder that was chosen before.
func watching(t *testing.T) (*place.Env, *arrivals.Inbox, *folder, *photos) {
	t.Helper()
	env, inbox, f, ps := shopAnd(t)
	if err := env.Desk.Lib.PutPreference(context.Background(), "photos.folder", "/sync"); err != nil {
		t.Fatal(err)
	}
	inbox.Start()
	f.wait(t)
	t.Cleanup(func() { inbox.Watch(place.Watched{}) })
	return env, inbox, f, ps
}

func taken(name string, at time.Time) inspect.Photo {
	p := screentest.Photo(name)
	p.WallTime = at.Format("2006-01-02T15:04:05")
	return p
}

// lastSaid is what the status line said last.
func lastSaid(env *place.Env) string {
	told := screentest.Told(env)
	if n := len(told.Saves); n > 0 {
		return told.Saves[n-1]
	}
	return ""
}

func focus(t *testing.T, env *place.Env, visit inspect.ID, ago time.Duration, check string) {
	t.Helper()
	clock := env.Desk.Clock
	env.Desk.Clock = func() time.Time { return screentest.Now.Add(-ago) }
	defer func() { env.Desk.Clock = clock }()
	if err := env.Desk.FocusOn(context.Background(), screentest.Open(t, env, visit), check, inspect.Left, inspect.Received); err != nil {
		t.Fatal(err)
	}
}

func TestFiledByWhatWasInFrontAndTakenBack(t *testing.T) {
	env, inbox, f, ps := watching(t)
	visit := screentest.First(t, env, "full")
	screentest.Fresh(t, env, "full")
	focus(t, env, visit, 20*time.Minute, "seals.weep")
	ps.made["/sync/a.jpg"] = taken("a.jpg", screentest.Now.Add(-9*time.Minute)) // 13:53:11
	var heard []place.Arrival
	stop := inbox.Listen(func(a place.Arrival) { heard = append(heard, a) })
	if err := f.arrived("/sync/a.jpg"); err != nil {
		t.Fatal(err)
	}
	c := screentest.Open(t, env, visit)
	if len(c.Photos) != 1 || c.Photos[0].Check != "seals.weep" || c.Photos[0].Leg != inspect.Left {
		t.Fatalf("photos %+v", c.Photos)
	}
	k, _ := env.Desk.Catalog.Check("seals.weep")
	if want := fmt.Sprintf("Photo of 13:53 filed with ticket %d, %s, left", c.Visit.Ticket, k.Name); lastSaid(env) != want {
		t.Errorf("said %q, want %q", lastSaid(env), want)
	}
	if len(heard) != 1 || !heard[0].Touches(visit) || inbox.Waiting() != 0 {
		t.Errorf("heard %+v, %d wait", heard, inbox.Waiting())
	}
	stop()
	if !screentest.Told(env).Undo() {
		t.Fatal("no undo")
	}
	for range 500 { // the watch keeps a worker busy: Wait would never end
		if c = screentest.Open(t, env, visit); c.Photos[0].Check == "" {
			break
		}
		time.Sleep(2 * time.Millisecond)
	}
	if c.Photos[0].Check != "" || len(c.Tray()) != 1 {
		t.Errorf("after undo the photo is of %q", c.Photos[0].Check)
	}
}

func TestACardFilesAndSaysSo(t *testing.T) {
	env, inbox, f, ps := watching(t)
	visit := screentest.First(t, env, "full")
	p := taken("card.jpg", screentest.Now.AddDate(-3, 0, 0)) // a clock years behind does not matter
	p.CardCode = string(visit)
	p.Usable = false
	ps.made["/sync/card.jpg"] = p
	if err := f.arrived("/sync/card.jpg"); err != nil {
		t.Fatal(err)
	}
	if got := lastSaid(env); !strings.HasPrefix(got, "Blurred, take it again.") || !strings.Contains(got, "by its bench card") {
		t.Errorf("said %q", got)
	}
	if len(screentest.Open(t, env, visit).Photos) != 1 || inbox.Waiting() != 0 {
		t.Error("the card did not file the photo")
	}
}

func TestUnknownOnesWait(t *testing.T) {
	env, inbox, f, _ := watching(t)
	if err := f.arrived("/sync/x-undated.jpg"); err != nil {
		t.Fatal(err)
	}
	if inbox.Waiting() != 1 || !strings.Contains(lastSaid(env), "waits in the tray: It has no camera date") {
		t.Errorf("%d wait, said %q", inbox.Waiting(), lastSaid(env))
	}
	// The same bytes again are no news.
	n := len(screentest.Told(env).Saves)
	if err := f.arrived("/sync/x-undated.jpg"); err != nil {
		t.Fatal(err)
	}
	if inbox.Waiting() != 1 || len(screentest.Told(env).Saves) != n {
		t.Errorf("%d wait after the same photo again, said %q", inbox.Waiting(), lastSaid(env))
	}
}

func TestWhatCannotBeTakenIn(t *testing.T) {
	env, inbox, f, ps := watching(t)
	var failed []string
	inbox.Listen(func(a place.Arrival) { failed = append(failed, a.Failed...) })
	if err := f.arrived("/sync/broken.jpg"); err != nil {
		t.Errorf("a damaged file would come again for ever: %v", err)
	}
	if len(failed) != 1 || len(screentest.Told(env).Failures) != 1 {
		t.Errorf("told %v, %v", failed, screentest.Told(env).Failures)
	}
	ps.fail = errDisk
	for range 3 {
		if err := f.arrived("/sync/a.jpg"); !errors.Is(err, errDisk) {
			t.Errorf("a photo for which there is no room is lost: %v", err)
		}
	}
	if n := len(screentest.Told(env).Failures); n != 2 {
		t.Errorf("the full disk was told %d times, want once", n-1)
	}
	ps.fail = nil
	if err := f.arrived("/sync/a.jpg"); err != nil {
		t.Error(err)
	}
	screentest.Lib(env).Refuse = inspect.Refuse(inspect.Internal, "the library can't be written")
	if err := f.arrived("/sync/b.jpg"); err == nil {
		t.Error("a photo that the library did not take counts as delivered")
	}
}

func TestChoiceOfTheFolder(t *testing.T) {
	env, inbox, f, _ := shopAnd(t)
	inbox.Start()
	env.Run.Wait()
	if w := inbox.Watched(); w.On || w.Folder != "" {
		t.Fatalf("nothing chosen: %+v", w)
	}
	since := screentest.Now
	inbox.Watch(place.Watched{Folder: "/sync", On: true, Since: since})
	f.wait(t)
	if f.dir != "/sync" || !f.since.Equal(since) {
		t.Errorf("watched %q since %v", f.dir, f.since)
	}
	f.said("The watched folder /sync is not there: plug the card in.")
	if w := inbox.Watched(); !strings.Contains(w.Trouble, "not there") {
		t.Errorf("state %+v", w)
	}
	f.said("half.jpg in the watched folder was not copied to its end: copy it again.")
	if w := inbox.Watched(); !strings.Contains(w.Trouble, "not there") || len(screentest.Told(env).Failures) != 1 {
		t.Errorf("a word on a file became the state: %+v", w)
	}
	f.said("")
	if w := inbox.Watched(); w.Trouble != "" {
		t.Errorf("state %+v", w)
	}
	old := f.said
	inbox.Watch(place.Watched{Folder: "/other", On: true})
	f.wait(t)
	if f.dir != "/other" {
		t.Errorf("watched %q", f.dir)
	}
	old("The watched folder /other is gone") // a late word of the watch before
	if w := inbox.Watched(); w.Trouble != "" {
		t.Errorf("a watch that ended still speaks: %+v", w)
	}
	inbox.Watch(place.Watched{Folder: "/other"})
	env.Run.Wait() // both watches end
	if f.ended != 2 {
		t.Errorf("%d of 2 watches ended", f.ended)
	}
	again := arrivals.New(env, arrivals.Source{Watch: f.watch})
	again.Start()
	env.Run.Wait()
	if w := again.Watched(); w.On || w.Folder != "/other" {
		t.Errorf("after a start %+v", w)
	}
}

func TestImportInBatchesCancelAndGoOn(t *testing.T) {
	env, inbox, _, ps := shopAnd(t)
	inbox.Start()
	env.Run.Wait()
	var paths []string
	for i := range 60 {
		paths = append(paths, fmt.Sprintf("/card/IMG_%03d-undated.jpg", i))
	}
	told := screentest.Told(env)
	say := &cancelling{Say: env.Say}
	env.Say = say
	coming := -1
	ps.during = func(n int) {
		if n == 20 {
			coming = len(inbox.Coming())
			say.cancel()
		}
	}
	inbox.Import(paths)
	env.Run.Wait()
	first := inbox.Waiting()
	if first < 20 || first >= 60 || coming < 40 || len(inbox.Coming()) != 0 {
		t.Fatalf("after the cancel %d are in, %d were coming, now %d", first, coming, len(inbox.Coming()))
	}
	ps.during, env.Say = nil, told
	inbox.Import(paths)
	env.Run.Wait()
	if inbox.Waiting() != 60 {
		t.Errorf("after going on %d of 60 are in", inbox.Waiting())
	}
	if got := lastSaid(env); got != "60 photos: 60 in the tray" {
		t.Errorf("said %q", got)
	}
	works := told.Works
	if len(works) < 20 || works[len(works)-1] != "done" || !strings.Contains(strings.Join(works, "|"), "Taking in photos: 60 of 60") {
		t.Errorf("progress %v", works[max(0, len(works)-4):])
	}
}

// cancelling remembers the cancel of what runs.
type cancelling struct {
	place.Say
	cancel func()
}

func (c *cancelling) Working(text string, cancel func()) (func(string), func()) {
	c.cancel = cancel
	return c.Say.Working(text, cancel)
}

func TestSortAgainAfterTheClockIsSet(t *testing.T) {
	env, inbox, _, ps := shopAnd(t)
	visit := screentest.First(t, env, "full")
	p := taken("late.jpg", screentest.Now.AddDate(-1, 0, 0).Add(time.Minute)) // the camera is a year behind
	p.Make, p.Model = "Sample", "Cam"
	ps.made["late.jpg"] = p
	inbox.Import([]string{"late.jpg"})
	env.Run.Wait()
	if inbox.Waiting() != 1 {
		t.Fatalf("%d wait", inbox.Waiting())
	}
	if err := env.Desk.SetClock(context.Background(), "Sample Cam", 365*24*time.Hour); err != nil {
		t.Fatal(err)
	}
	var heard place.Arrival
	inbox.Listen(func(a place.Arrival) { heard = a })
	inbox.SortAgain()
	env.Run.Wait()
	if inbox.Waiting() != 0 || !heard.Touches(visit) || len(heard.Received) != 1 || heard.Received[0].How != shop.ByTime {
		t.Errorf("%d wait, heard %+v, said %q", inbox.Waiting(), heard, lastSaid(env))
	}
}
