package bench

import (
	"context"
	"fmt"
	"image/png"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"
	"fyne.io/fyne/v2/widget"

	"forkwear/inspect"
	"forkwear/inspect/shop"
	"forkwear/ui/place"
	"forkwear/ui/screens/screentest"
	"forkwear/ui/widgets"
)

func open(t *testing.T, env *place.Env) *screen {
	t.Helper()
	s := New(env, place.Where{Name: place.Bench}).(*screen)
	env.Window.SetContent(s.Content())
	env.Window.Resize(fyne.NewSize(1190, 700))
	s.Opened()
	env.Run.Wait()
	return s
}

// labels gives all texts of the labels that are shown.
func labels(o fyne.CanvasObject) string {
	var b strings.Builder
	for _, x := range test.LaidOutObjects(o) {
		if l, ok := x.(*widget.Label); ok && l.Visible() {
			b.WriteString(l.Text + "\n")
		}
	}
	return b.String()
}

// forks puts five forks on the bench, one at each step, in no good order.
func forks(t *testing.T, env *place.Env) []inspect.Visit {
	t.Helper()
	var vs []inspect.Visit
	for i, x := range []struct {
		model    string
		promised int // days from now; 99 none
		step     inspect.Step
		waits    string
	}{
		{"Trail 120", 3, inspect.StepInspect, ""},
		{"Cross 100", 99, inspect.StepDecide, "customer"},
		{"Enduro 160", -4, inspect.StepService, "part"},
		{"Downhill 200", 0, inspect.StepHandBack, ""},
		{"Gravel 40", 1, inspect.StepService, ""},
	} {
		v, err := env.Desk.TakeIn(context.Background(), shop.Intake{
			Customer: inspect.Customer{Name: fmt.Sprintf("Customer %d", i+1), Phone: "000 111 22"},
			Fork:     inspect.Fork{Maker: "Sample", Model: x.model, Year: 2023, Tag: fmt.Sprintf("A-%d", i+1), Sheet: screentest.Sheet},
			Visit:    inspect.Visit{Level: "lowers"}, Hours: 100})
		if err != nil {
			t.Fatal(err)
		}
		v.Step, v.WaitsFor = x.step, x.waits
		if x.promised != 99 {
			v.Promised = screentest.Now.AddDate(0, 0, x.promised)
		}
		if x.waits != "" {
			v.WaitsSince = screentest.Now.AddDate(0, 0, -2)
		}
		if err := env.Desk.Lib.SaveVisit(context.Background(), v); err != nil {
			t.Fatal(err)
		}
		vs = append(vs, v)
	}
	return vs
}

func TestOrderAndWords(t *testing.T) {
	env := screentest.Env(t)
	forks(t, env)
	s := open(t, env)
	var got []string
	for _, r := range s.rows {
		got = append(got, r.Fork.Model)
	}
	if want := "[Enduro 160 Downhill 200 Gravel 40 Trail 120 Cross 100]"; fmt.Sprint(got) != want { // by the promised days above
		t.Errorf("order %v, want %s", got, want)
	}
	text := labels(s.Content())
	for _, want := range []string{"Overdue by 4 days", "Waits for a part for 2 days", "Promised for today", "Ready to collect", "No date promised", "1 overdue, 1 promised for today"} {
		if !strings.Contains(text, want) {
			t.Errorf("the bench does not say %q:\n%s", want, text)
		}
	}
}

func TestFilters(t *testing.T) {
	env := screentest.Env(t)
	forks(t, env)
	s := open(t, env)
	for f, want := range map[filter]int{all: 5, waiting: 2, ready: 1} {
		test.Tap(s.chips[f])
		if n := strings.Count(labels(s.body), "Sample "); n != want {
			t.Errorf("filter %d shows %d forks, want %d", f, n, want)
		}
	}
}

func TestNextAction(t *testing.T) {
	env := screentest.Env(t)
	forks(t, env)
	s := open(t, env)
	for _, r := range s.rows {
		want := map[inspect.Step]place.Name{inspect.StepInspect: place.Inspect, inspect.StepDecide: place.Decide,
			inspect.StepService: place.Service, inspect.StepHandBack: place.HandBack}[r.Visit.Step]
		// the last button of a card is the next action
		var last *widgets.TextButton
		for _, o := range test.LaidOutObjects(s.card(r, true)) {
			if b, ok := o.(*widgets.TextButton); ok {
				last = b
			}
		}
		test.Tap(last)
		gone := screentest.Told(env).Gone
		if g := gone[len(gone)-1]; g.Name != want || g.Visit != r.Visit.ID {
			t.Errorf("%s goes to %+v, want %s of %s", r.Visit.Step, g, want, r.Visit.ID)
		}
	}
}

func TestWaitsFor(t *testing.T) {
	env := screentest.Env(t)
	vs := forks(t, env)
	s := open(t, env)
	now := func() inspect.Visit {
		v, err := env.Desk.Lib.Visit(context.Background(), vs[0].ID)
		if err != nil {
			t.Fatal(err)
		}
		return v
	}
	s.onWaits(vs[0].ID)
	s.setWaits(vs[0].ID, "tool")
	env.Run.Wait()
	if v := now(); v.WaitsFor != "tool" || !v.WaitsSince.Equal(screentest.Now) {
		t.Errorf("waits for %q since %v", v.WaitsFor, v.WaitsSince)
	}
	if !screentest.Told(env).Undo() {
		t.Fatal("there is no undo")
	}
	env.Run.Wait()
	if v := now(); v.WaitsFor != "" || !v.WaitsSince.IsZero() {
		t.Errorf("after undo: waits for %q since %v", v.WaitsFor, v.WaitsSince)
	}
	screentest.Lib(env).Refuse = inspect.Refuse(inspect.Full, "the disk is full")
	s.setWaits(vs[0].ID, "part")
	env.Run.Wait()
	if f := screentest.Told(env).Failures; len(f) != 1 || now().WaitsFor != "" {
		t.Errorf("failures %v, waits for %q", f, now().WaitsFor)
	}
}

func TestEmpty(t *testing.T) {
	env := screentest.Env(t)
	asked := 0
	env.Demo = func(ctx context.Context, progress func(done, total int)) error {
		asked++
		progress(1, 2)
		if asked == 1 {
			return context.Canceled
		}
		screentest.First(t, env, "full")
		return nil
	}
	s := open(t, env)
	s.onDemo()
	env.Run.Wait()
	if len(s.rows) != 0 || len(screentest.Told(env).Failures) != 0 {
		t.Errorf("a stopped sample shop: %d rows, failures %v", len(s.rows), screentest.Told(env).Failures)
	}
	s.onDemo()
	env.Run.Wait()
	if len(s.rows) != 1 || s.progress.Value != 0.5 {
		t.Errorf("%d rows, progress %g", len(s.rows), s.progress.Value)
	}
	if w := screentest.Told(env).Works; w[len(w)-1] != "done" {
		t.Errorf("the work is not told as done: %q", w)
	}
	// a used library with a clear bench says what the bench is for
	if err := env.Desk.Lib.Collect(context.Background(), s.rows[0].Visit.ID, screentest.Now.Add(time.Hour), "bench"); err != nil {
		t.Fatal(err)
	}
	s.Opened()
	env.Run.Wait()
	if text := labels(s.Content()); !strings.Contains(text, "has been collected") {
		t.Errorf("a clear bench says %q", text)
	}
}

// TestPictures draws the bench for looking at, where FORKWEAR_PICTURES names a folder.
func TestPictures(t *testing.T) {
	dir := os.Getenv("FORKWEAR_PICTURES")
	for _, dark := range []bool{false, true} {
		env := screentest.EnvIn(t, dark)
		env.Demo = func(context.Context, func(int, int)) error { return nil }
		open(t, env)
		picture(t, env, dir, dark, "empty", 1190, 700)
		vs := forks(t, env)
		s := open(t, env)
		s.onWaits(vs[2].ID)
		picture(t, env, dir, dark, "forks", 1190, 700)
		picture(t, env, dir, dark, "narrow", 552, 308)
		if w := env.Window.Content().MinSize().Width; w > 552 {
			t.Errorf("the bench needs %g px: too wide for 640 px with the rail", w)
		}
	}
}

func picture(t *testing.T, env *place.Env, dir string, dark bool, name string, w, h float32) {
	t.Helper()
	env.Window.Resize(fyne.NewSize(w, h))
	if dir == "" {
		return
	}
	img := env.Window.Canvas().Capture()
	out, err := os.Create(filepath.Join(dir, "bench-"+name+map[bool]string{true: "-dark", false: ""}[dark]+".png"))
	if err != nil {
		t.Fatal(err)
	}
	defer out.Close()
	if err := png.Encode(out, img); err != nil {
		t.Fatal(err)
	}
}

// broken is a library that can't list its visits.
type broken struct{ inspect.Library }

func (broken) Visits(context.Context, inspect.VisitFilter) ([]inspect.VisitRow, error) {
	return nil, inspect.Refuse(inspect.Damaged, "the library can't be read: put the backup in its place")
}

func TestFailed(t *testing.T) {
	env := screentest.Env(t)
	good := env.Desk.Lib
	forks(t, env)
	env.Desk.Lib = broken{good}
	s := open(t, env)
	if text := labels(s.Content()); !strings.Contains(text, "put the backup in its place") || len(screentest.Told(env).Failures) != 1 {
		t.Errorf("a broken library: %q, failures %v", text, screentest.Told(env).Failures)
	}
	env.Desk.Lib = good
	s.load()
	env.Run.Wait()
	if len(s.rows) != 5 {
		t.Errorf("%d rows after trying again", len(s.rows))
	}
}
