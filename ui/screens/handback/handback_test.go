package handback

import (
	"testing"
	"time"

	"forkwear/inspect"
	"forkwear/ui/place"
	"forkwear/ui/screens/screentest"
)

func opened(t *testing.T) (*place.Env, inspect.ID, *Screen) {
	t.Helper()
	env := screentest.Env(t)
	id := screentest.Decided(t, env)
	s := New(env, place.Where{Visit: id}).(*Screen)
	env.Window.SetContent(s.Content())
	s.Opened()
	env.Run.Wait()
	if s.c == nil {
		t.Fatalf("nothing loaded: %v", screentest.Told(env).Failures)
	}
	return env, id, s
}

func TestCollectTellsFirstThenLocks(t *testing.T) {
	env, id, s := opened(t)
	s.Amend("", "why")
	if len(screentest.Told(env).Failures) != 1 {
		t.Fatal("an empty amendment was taken")
	}
	s.Collect()
	env.Run.Wait()
	if screentest.Open(t, env, id).Visit.Closed() || len(s.told) == 0 {
		t.Fatalf("first press: closed or nothing said (%v)", s.told)
	}
	s.Collect()
	env.Run.Wait()
	v := screentest.Open(t, env, id).Visit
	if !v.Closed() || v.Step != inspect.StepDone || v.Ready.IsZero() {
		t.Fatalf("after the second press %+v", v)
	}
	if !s.c.Visit.Closed() {
		t.Fatal("the screen does not show the lock")
	}
	s.Tick(s.safety()[0], true) // a locked record refuses and keeps what it has
	env.Run.Wait()
	if f := screentest.Told(env).Failures; len(f) != 2 || inspect.CodeOf(f[1]) != inspect.Locked {
		t.Fatalf("failures %v, want locked", f)
	}
	s.Amend("air pressure was 5.2 bar", "misread at hand-back")
	env.Run.Wait()
	if as := screentest.Open(t, env, id).Amendments; len(as) != 1 || as[0].By != "bench" {
		t.Fatalf("amendments %+v", as)
	}
}

func TestReadyIsStampedAndIsNotCollected(t *testing.T) {
	env, id, s := opened(t)
	s.Ready()
	env.Run.Wait()
	v := screentest.Open(t, env, id).Visit
	if !v.Ready.Equal(screentest.Now) || v.Closed() || v.Step != inspect.StepHandBack {
		t.Fatalf("ready %v, closed %v, step %s", v.Ready, v.Closed(), v.Step)
	}
}

func TestSettingAsLeftIsKept(t *testing.T) {
	env, id, s := opened(t)
	s.Left(pair{key: "air_pressure", unit: "bar"}, "75 psi")
	env.Run.Wait()
	s.Left(pair{key: "rebound_clicks", unit: "clicks"}, "7")
	env.Run.Wait()
	got := map[string]inspect.Setting{}
	for _, st := range screentest.Open(t, env, id).Settings {
		if st.Moment == "left" {
			got[st.Key] = st
		}
	}
	// 1 psi = 6.894 757 kPa (NIST Special Publication 811, appendix B.8).
	if p := got["air_pressure"]; p.Text != "75 psi" || p.Value < 5.17106 || p.Value > 5.17107 || p.Unit != "bar" {
		t.Errorf("pressure %+v, want 5.171068 bar, typed 75 psi", p)
	}
	if r := got["rebound_clicks"]; r.Value != 7 || r.Text != "7" || written(&r) != "7\u2009clicks" {
		t.Errorf("rebound %+v", r)
	}
}

func TestNextVisit(t *testing.T) {
	env, id, s := opened(t)
	s.Next("soon", "")
	s.Next("420", "31.11.2026")
	if len(screentest.Told(env).Failures) != 2 {
		t.Fatalf("failures %v, want two", screentest.Told(env).Failures)
	}
	s.Next("420,5 h", "2026-11-30")
	env.Run.Wait()
	v := screentest.Open(t, env, id).Visit
	if v.NextHours != 420.5 || !v.NextDate.Equal(time.Date(2026, 11, 30, 0, 0, 0, 0, time.UTC)) {
		t.Fatalf("next %v h, %v", v.NextHours, v.NextDate)
	}
}

func TestSafetyLineNamesWhoAndClears(t *testing.T) {
	env, id, s := opened(t)
	before := len(s.missing())
	for _, k := range s.safety() {
		s.Tick(k, true)
		env.Run.Wait() // the test driver brings results back on the worker's goroutine
	}
	if got := len(s.missing()); got != before-1 {
		t.Errorf("%d gaps after the list is through, want %d", got, before-1)
	}
	for _, k := range screentest.Open(t, env, id).Tasks {
		if !k.Done || k.By != "bench" {
			t.Errorf("kept %+v", k)
		}
	}
}
