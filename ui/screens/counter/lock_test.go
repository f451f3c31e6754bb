package counter

import (
	"context"
	"strings"
	"testing"
	"time"

	"fyne.io/fyne/v2"

	"forkwear/inspect/shop"
	"forkwear/ui/place"
	"forkwear/ui/screens/screentest"
)

// locked is a counter view of a shop with the PIN 2468.
func locked(t *testing.T) (*place.Env, *Screen) {
	t.Helper()
	env := screentest.Env(t)
	id := screentest.Decided(t, env)
	if err := env.Desk.SetPIN(context.Background(), "", "2468"); err != nil {
		t.Fatal(err)
	}
	s := newPlain(env, place.Where{Visit: id})
	env.Window.SetContent(s.Content())
	s.Opened()
	env.Run.Wait()
	s.lock.pause = time.Millisecond
	return env, s
}

func (s *Screen) types(env *place.Env, keys string) {
	for _, r := range keys {
		s.TypedRune(r)
	}
	s.TypedKey(&fyne.KeyEvent{Name: fyne.KeyReturn})
	env.Run.Wait()
	env.Run.Wait() // the wait after a wrong one
}

func TestLeavesWithThePINOnly(t *testing.T) {
	env, s := locked(t)
	s.TypedKey(&fyne.KeyEvent{Name: fyne.KeyEscape})
	if s.lock.pad == nil {
		t.Fatal("Escape does not ask the PIN")
	}
	if all := texts(env.Window.Content()); strings.Contains(all, "Customer") || strings.Contains(all, "Renew") || !strings.Contains(all, "PIN") {
		t.Errorf("the pad shows more than itself: %s", all)
	}
	for range 4 {
		s.types(env, "1111")
		if len(screentest.Told(env).Gone) != 0 {
			t.Fatal("left with a wrong PIN")
		}
		if got := s.lock.pad.says.Text; !strings.Contains(got, "not the PIN") {
			t.Errorf("says %q", got)
		}
	}
	if s.lock.wrong != 4 {
		t.Errorf("%d wrong ones counted", s.lock.wrong)
	}
	s.types(env, "2468")
	gone := screentest.Told(env).Gone
	if len(gone) != 1 || gone[0].Name != place.Decide {
		t.Fatalf("went to %v", gone)
	}
}

func TestThirdWrongPINWaits(t *testing.T) {
	env, s := locked(t)
	s.lock.pause = 300 * time.Millisecond
	s.Back()
	s.types(env, "1111")
	s.types(env, "1111")
	begun := time.Now()
	s.types(env, "1111")
	if took := time.Since(begun); took < 300*time.Millisecond {
		t.Errorf("the third wrong one was answered after %v", took)
	}
	if New(env, place.Where{}).(*Screen).lock.pause != time.Second {
		t.Error("the wait is not 1 s")
	}
}

func TestPad_KeysOfTheKeyboard(t *testing.T) {
	_, s := locked(t)
	s.Back()
	p := s.lock.pad
	for _, r := range "12x/ 3456789" {
		s.TypedRune(r)
	}
	if p.typed != "12345678" {
		t.Errorf("typed %q, want eight figures", p.typed)
	}
	s.TypedKey(&fyne.KeyEvent{Name: fyne.KeyBackspace})
	if p.typed != "1234567" || strings.ContainsAny(p.shown.Text, "0123456789") {
		t.Errorf("typed %q, shown %q", p.typed, p.shown.Text)
	}
	s.TypedKey(&fyne.KeyEvent{Name: fyne.KeyRight})
	s.TypedKey(&fyne.KeyEvent{Name: fyne.KeyEscape})
	if s.lock.pad != nil || s.lock.then != nil {
		t.Error("Escape does not lead back to the fork")
	}
}

func TestPad_KeysOfTheScreen(t *testing.T) {
	env, s := locked(t)
	s.Back()
	for _, i := range []int{1, 3, 5, 7, 11} { // 2 4 6 8 OK, as they stand
		s.lock.pad.keys[i].Tapped(nil)
	}
	env.Run.Wait()
	if len(screentest.Told(env).Gone) != 1 {
		t.Error("the keys of the screen do not open")
	}
}

func TestAskedBeforeTheVisitIsRead(t *testing.T) {
	env, _ := locked(t)
	s := newPlain(env, place.Where{Visit: "whatever"})
	left := false
	s.Leave(func() { left = true })
	env.Run.Wait()
	if left || s.lock.pad == nil {
		t.Errorf("left %v without the PIN, pad %v", left, s.lock.pad)
	}
}

func TestWithoutAPINItIsLeftAtOnce(t *testing.T) {
	env, _, s := opened(t)
	s.Back()
	if len(screentest.Told(env).Gone) != 1 {
		t.Error("not left")
	}
}

// A damaged PIN fits nothing: nobody is locked in by it.
func TestDamagedPINLetsOut(t *testing.T) {
	env, s := locked(t)
	if err := env.Desk.Lib.PutPreference(context.Background(), shop.KeyPIN, "pbkdf2-sha256$x"); err != nil {
		t.Fatal(err)
	}
	s.Back()
	s.types(env, "2468")
	if len(screentest.Told(env).Gone) != 1 || len(screentest.Told(env).Failures) != 1 {
		t.Errorf("gone %v, told %v", screentest.Told(env).Gone, screentest.Told(env).Failures)
	}
}
