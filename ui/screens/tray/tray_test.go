package tray

import (
	"context"
	"fmt"
	"image"
	"runtime"
	"slices"
	"strings"
	"testing"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"

	"forkwear/inspect"
	"forkwear/ui/arrivals"
	"forkwear/ui/place"
	"forkwear/ui/screens/screentest"
)

// shopWith is a shop with n unsorted photos, 4 minutes apart, newest last.
func shopWith(t testing.TB, n int, dark bool) *place.Env {
	t.Helper()
	env := screentest.EnvIn(t, dark)
	env.Desk.Zone = time.UTC
	for i := range n {
		add(t, env, fmt.Sprintf("IMG_%04d.JPG", i), screentest.Now.Add(-time.Duration(4*(n-i))*time.Minute))
	}
	inbox := arrivals.New(env, arrivals.Source{})
	env.Arrivals = inbox
	inbox.Start()
	env.Run.Wait()
	return env
}

func add(t testing.TB, env *place.Env, name string, at time.Time) inspect.Photo {
	t.Helper()
	p := screentest.Photo(name)
	p.ID, p.AddedAt, p.Make, p.Model = env.Desk.NewID(), screentest.Now, "Sample", "Cam 1"
	if p.WallTime != "" {
		p.WallTime = at.Format("2006-01-02T15:04:05")
	}
	if _, err := env.Desk.Lib.AddPhoto(context.Background(), p); err != nil {
		t.Fatal(err)
	}
	return p
}

func open(t testing.TB, env *place.Env) *Screen {
	t.Helper()
	s := New(env, place.Where{Name: place.Tray}).(*Screen)
	do(env, s, func() {
		env.Window.SetContent(s.Content())
		env.Window.Resize(fyne.NewSize(1190, 700))
		s.Opened()
	})
	return s
}

// do runs f as one event of the window and waits for what it started.
func do(env *place.Env, s *Screen, f func()) {
	s.oneAtATime.Lock()
	f()
	s.oneAtATime.Unlock()
	env.Run.Wait()
}

func key(env *place.Env, s *Screen, names ...fyne.KeyName) {
	for _, n := range names {
		do(env, s, func() { s.grid.TypedKey(&fyne.KeyEvent{Name: n}) })
	}
}

func unsorted(t testing.TB, env *place.Env) int {
	t.Helper()
	ps, err := env.Desk.Unsorted(context.Background())
	if err != nil {
		t.Fatal(err)
	}
	return len(ps)
}

func press(env *place.Env, s *Screen, shot int, mods fyne.KeyModifier) {
	do(env, s, func() {
		c := s.grid.bound[s.grid.sheet.shots[shot].key]
		c.MouseDown(&desktop.MouseEvent{Modifier: mods})
		c.Tapped(nil)
	})
}

func TestNewestFirstByDay(t *testing.T) {
	env := shopWith(t, 0, false)
	now := screentest.Now // 12 May 2026, 14:02:11 UTC
	add(t, env, "b.jpg", now.AddDate(0, 0, -1))
	add(t, env, "a.jpg", now.Add(-time.Minute))
	add(t, env, "c-undated.jpg", now)
	add(t, env, "d-blurred.jpg", now.Add(-2*time.Minute))
	s := open(t, env)
	var heads, names []string
	for _, r := range s.grid.sheet.rows {
		if r.head != "" {
			heads = append(heads, r.head)
		}
	}
	for _, x := range s.grid.sheet.shots {
		names = append(names, x.photo.FileName)
	}
	if got := strings.Join(heads, "|"); got != "12 May 2026|11 May 2026" {
		t.Errorf("days %s", got)
	}
	// The one without a date stands where it was added, marked.
	if got := strings.Join(names, " "); got != "c-undated.jpg a.jpg d-blurred.jpg b.jpg" {
		t.Errorf("order %s", got)
	}
	if text, doubtful := s.grid.sheet.shots[0].note(); text != "no camera date" || !doubtful {
		t.Errorf("undated says %q", text)
	}
	if text, doubtful := s.grid.sheet.shots[2].note(); text != "blurred, take it again" || !doubtful {
		t.Errorf("blurred says %q", text)
	}
	if got := s.grid.sheet.shots[1].line(); got != "14:01 · Cam 1" {
		t.Errorf("line %q", got)
	}
	// After the camera's clock is set the time is another one, and the day too.
	if err := env.Desk.SetClock(context.Background(), "Sample Cam 1", -24*time.Hour); err != nil {
		t.Fatal(err)
	}
	do(env, s, s.load)
	if got := s.grid.sheet.shots[1].at; !got.Equal(now.Add(-time.Minute-24*time.Hour).Truncate(time.Second)) || s.grid.sheet.shots[1].day() != "11 May 2026" {
		t.Errorf("corrected %v", got)
	}
}

func TestChoosingByMouseAndKeys(t *testing.T) {
	env := shopWith(t, 30, false)
	s := open(t, env)
	picked := func() int { return len(s.grid.choice.picked()) }
	press(env, s, 1, 0)
	if picked() != 1 || s.detail.of != s.grid.sheet.shots[1].key {
		t.Fatalf("%d chosen, large %q", picked(), s.detail.of)
	}
	press(env, s, 4, fyne.KeyModifierShift)
	if picked() != 4 {
		t.Errorf("shift: %d chosen, want 4", picked())
	}
	press(env, s, 7, fyne.KeyModifierShortcutDefault)
	press(env, s, 2, fyne.KeyModifierShortcutDefault)
	if picked() != 4 || s.grid.choice.chosen[s.grid.sheet.shots[2].key] || !s.grid.choice.chosen[s.grid.sheet.shots[7].key] {
		t.Errorf("ctrl: %d chosen", picked())
	}
	press(env, s, 0, 0)
	key(env, s, fyne.KeyRight, fyne.KeyDown)
	if want := s.grid.sheet.shots[1+s.grid.sheet.columns].key; s.grid.choice.cursor != want || picked() != 1 {
		t.Errorf("cursor %s, want %s", s.grid.choice.cursor, want)
	}
	do(env, s, func() { s.grid.KeyDown(&fyne.KeyEvent{Name: desktop.KeyShiftLeft}) })
	key(env, s, fyne.KeyRight, fyne.KeyRight)
	do(env, s, func() { s.grid.KeyUp(&fyne.KeyEvent{Name: desktop.KeyShiftLeft}) })
	if picked() != 3 {
		t.Errorf("shift and arrows: %d chosen, want 3", picked())
	}
	key(env, s, fyne.KeySpace)
	if picked() != 2 {
		t.Errorf("space: %d chosen, want 2", picked())
	}
	do(env, s, func() { s.grid.TypedShortcut(&fyne.ShortcutSelectAll{}) })
	if picked() != 30 {
		t.Errorf("all: %d", picked())
	}
	key(env, s, fyne.KeyEscape, fyne.KeyEnd)
	last := s.grid.sheet.shots[29]
	if c := s.grid.bound[last.key]; c == nil || s.grid.choice.cursor != last.key {
		t.Error("End does not bring the last photo into sight")
	}
}

func TestFiledWithTheLikeliestVisit(t *testing.T) {
	env := shopWith(t, 6, false)
	ctx := context.Background()
	front := screentest.First(t, env, "full")
	other := screentest.Fresh(t, env, "full")
	c := screentest.Open(t, env, front)
	clock := env.Desk.Clock
	env.Desk.Clock = func() time.Time { return screentest.Now.Add(-10 * time.Minute) }
	if err := env.Desk.FocusOn(ctx, c, "seals.weep", inspect.Left, inspect.Received); err != nil {
		t.Fatal(err)
	}
	env.Desk.Clock = clock
	s := open(t, env)
	press(env, s, 0, 0) // taken 4 minutes ago
	if len(s.detail.offers) != 2 || s.detail.offers[0].row.Visit.ID != front || !strings.Contains(s.detail.offers[0].why, "in front at 13:52") {
		t.Fatalf("offers %+v", s.detail.offers)
	}
	press(env, s, 5, 0) // 24 minutes ago, before anything was in front
	if strings.Contains(s.detail.offers[0].why, "front") {
		t.Errorf("offer %q", s.detail.offers[0].why)
	}
	press(env, s, 0, 0)
	press(env, s, 1, fyne.KeyModifierShift)
	first := s.grid.sheet.shots[2].key
	do(env, s, func() { s.grid.TypedRune('1') })
	kase := screentest.Open(t, env, front)
	if len(kase.Photos) != 2 || unsorted(t, env) != 4 || len(s.grid.sheet.shots) != 4 {
		t.Fatalf("%d filed, %d left, %d shown", len(kase.Photos), unsorted(t, env), len(s.grid.sheet.shots))
	}
	told := screentest.Told(env)
	if got := told.Saves[len(told.Saves)-1]; !strings.HasPrefix(got, fmt.Sprintf("2 photos filed with ticket %d", kase.Visit.Ticket)) {
		t.Errorf("told %q", got)
	}
	if env.Arrivals.Waiting() != 4 {
		t.Errorf("%d counted", env.Arrivals.Waiting())
	}
	if s.grid.choice.cursor != first {
		t.Errorf("after filing the cursor stands on %q, want the next photo", s.grid.choice.cursor)
	}
	// A card in the photo is stronger than what was in front.
	offers := rank([]inspect.VisitRow{{Visit: inspect.Visit{ID: front}}, {Visit: inspect.Visit{ID: other}}},
		[]inspect.Focus{{VisitID: front, Check: "x", At: screentest.Now}}, other, screentest.Now, true)
	if offers[0].row.Visit.ID != other || offers[1].row.Visit.ID != front {
		t.Errorf("ranked %+v", offers)
	}
}

func TestFilingFailsAndTheyStay(t *testing.T) {
	env := shopWith(t, 3, false)
	screentest.First(t, env, "full")
	s := open(t, env)
	press(env, s, 0, 0)
	screentest.Lib(env).Refuse = inspect.Refuse(inspect.Internal, "the disk is full: free some space")
	do(env, s, func() { s.detail.presses[0].Tapped(nil) })
	if len(s.grid.sheet.shots) != 3 || len(screentest.Told(env).Failures) == 0 {
		t.Errorf("%d shown, told %v", len(s.grid.sheet.shots), screentest.Told(env).Failures)
	}
}

func TestSetAsideAndBack(t *testing.T) {
	env := shopWith(t, 5, false)
	s := open(t, env)
	press(env, s, 0, 0)
	press(env, s, 1, fyne.KeyModifierShift)
	do(env, s, s.setAside)
	if len(s.grid.sheet.shots) != 3 || env.Arrivals.Waiting() != 3 || unsorted(t, env) != 5 {
		t.Fatalf("%d shown, %d counted, %d kept", len(s.grid.sheet.shots), env.Arrivals.Waiting(), unsorted(t, env))
	}
	again := arrivals.New(env, arrivals.Source{}) // the next start
	again.Start()
	env.Run.Wait()
	if again.Waiting() != 3 {
		t.Errorf("after a start %d are counted", again.Waiting())
	}
	do(env, s, s.turnAside)
	if len(s.grid.sheet.shots) != 2 {
		t.Errorf("%d set aside are shown", len(s.grid.sheet.shots))
	}
	do(env, s, s.turnAside)
	screentest.Told(env).Undo()
	env.Run.Wait()
	if env.Arrivals.Waiting() != 5 || len(s.grid.sheet.shots) != 5 {
		t.Errorf("after undo %d counted, %d shown", env.Arrivals.Waiting(), len(s.grid.sheet.shots))
	}
}

func TestDroppedFilesComeIntoTheTray(t *testing.T) {
	env := shopWith(t, 0, false)
	s := open(t, env)
	do(env, s, func() { s.Dropped([]string{"/in/x-undated.jpg", "/in/y-broken.jpg"}, fyne.Position{}) })
	if len(s.grid.sheet.shots) != 1 || len(s.failed) != 1 || !strings.Contains(s.failed[0], "y-broken.jpg") || !s.refused.Visible() {
		t.Errorf("%d shown, failed %v", len(s.grid.sheet.shots), s.failed)
	}
}

// comingInbox says that files are on their way.
type comingInbox struct {
	place.Arrivals
	paths []string
}

func (c *comingInbox) Coming() []string { return c.paths }

// glancing has small pictures of files that are not in yet, of some of them.
type glancing struct{ screentest.Pictures }

func (glancing) Quick(_ context.Context, path string) (image.Image, error) {
	if strings.HasSuffix(path, "_2.JPG") {
		return nil, nil
	}
	return image.NewRGBA(image.Rect(0, 0, 160, 120)), nil
}

func TestWhatIsComingStandsFirst(t *testing.T) {
	env := shopWith(t, 2, false)
	env.Photos = glancing{}
	env.Arrivals = &comingInbox{env.Arrivals, []string{"/card/IMG_1.JPG", "/card/IMG_2.JPG"}}
	s := open(t, env)
	if len(s.grid.sheet.shots) != 4 || s.grid.sheet.rows[0].head != "Being taken in" || s.grid.sheet.shots[0].line() != "IMG_1.JPG" {
		t.Fatalf("shown %+v", s.grid.sheet.rows)
	}
	if img := s.thumbs.get("/card/IMG_1.JPG"); img == nil || img.Bounds().Dx() != 160 || s.thumbs.get("/card/IMG_2.JPG") != nil {
		t.Error("the camera's own small picture is not shown while the photo is being taken in")
	}
	press(env, s, 0, 0)
	if len(s.grid.choice.picked()) != 0 {
		t.Error("a file that is not in yet was chosen")
	}
	key(env, s, fyne.KeyHome)
	if s.grid.choice.cursor != s.grid.sheet.shots[2].key {
		t.Errorf("cursor %q", s.grid.choice.cursor)
	}
}

// TestOnlyWhatIsInSightHasPixels scrolls through 500 photos.
func TestOnlyWhatIsInSightHasPixels(t *testing.T) {
	env := shopWith(t, 500, false)
	s := open(t, env)
	inSight := len(s.grid.bound)
	if inSight == 0 || inSight > 60 || s.thumbs.fetched > inSight {
		t.Fatalf("%d cells bound, %d thumbs fetched", inSight, s.thumbs.fetched)
	}
	for range 400 {
		s.oneAtATime.Lock() // not waiting for the workers: what is passed is not fetched
		s.grid.scroll.Scrolled(&fyne.ScrollEvent{Scrolled: fyne.NewDelta(0, -200)})
		s.oneAtATime.Unlock()
	}
	env.Run.Wait()
	if s.grid.cells > 80 {
		t.Errorf("%d cells were made", s.grid.cells)
	}
	last := s.grid.sheet.shots[499].key
	if s.grid.bound[last] == nil || s.thumbs.get(last) == nil {
		t.Error("the last photo is not shown at the end")
	}
	if s.thumbs.bytes > keptBytes || len(s.thumbs.running) != 0 {
		t.Errorf("%d bytes kept, %d still running", s.thumbs.bytes, len(s.thumbs.running))
	}
	do(env, s, s.Closed)
	if s.thumbs.bytes != 0 || s.thumbs.order.Len() != 0 {
		t.Error("a closed tray keeps pixels")
	}
}

func TestSheetIsCompleteInAnyWidth(t *testing.T) {
	var shots []shot
	for i := range 57 {
		shots = append(shots, shot{key: fmt.Sprint(i), at: screentest.Now.Add(-time.Duration(i*i) * time.Hour), dated: true})
	}
	for _, w := range []float32{1, 156, 319, 500, 832, 2000} {
		s := lay(shots, w)
		var seen []int
		y := float32(0)
		for _, r := range s.rows {
			if r.y < y {
				t.Fatalf("width %v: rows overlap", w)
			}
			y = r.y + r.h
			if r.n > s.columns {
				t.Fatalf("width %v: %d in a row of %d", w, r.n, s.columns)
			}
			for i := range r.n {
				seen = append(seen, r.first+i)
			}
		}
		if !slices.IsSorted(seen) || len(seen) != len(shots) {
			t.Errorf("width %v: %d of %d shots laid out", w, len(seen), len(shots))
		}
		for i := range shots {
			if up := s.below(s.below(i, 1), -1); s.rowOf(up) != s.rowOf(i) && s.rowOf(s.below(i, 1)) != s.rowOf(i) {
				t.Errorf("width %v: down and up from %d ends in another row", w, i)
			}
		}
	}
}

// BenchmarkScroll scrolls 2,000 photos by 120 px a step, with all that the
// window's goroutine does for it: what comes into sight is bound and laid out.
func BenchmarkScroll(b *testing.B) {
	env := shopWith(b, 2000, false)
	s := open(b, env)
	step := float32(-120)
	b.ReportAllocs()
	for b.Loop() {
		s.oneAtATime.Lock()
		before := s.grid.scroll.Offset.Y
		s.grid.scroll.Scrolled(&fyne.ScrollEvent{Scrolled: fyne.NewDelta(0, step)})
		if s.grid.scroll.Offset.Y == before {
			step = -step
		}
		s.oneAtATime.Unlock()
	}
	b.ReportMetric(float64(s.grid.cells), "cells")
	env.Run.Wait()
	b.ReportMetric(float64(s.thumbs.bytes)/(1<<20), "MB-kept")
	var m runtime.MemStats
	runtime.GC()
	runtime.ReadMemStats(&m)
	b.ReportMetric(float64(m.HeapInuse)/(1<<20), "MB-heap")
}
