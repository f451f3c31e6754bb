package settings

import (
	"context"
	"errors"
	"strings"
	"testing"
	"time"

	"fyne.io/fyne/v2/test"

	"forkwear/inspect/shop"
	"forkwear/ui/screens/screentest"
)

func TestPeople_AddedAndTakenOff(t *testing.T) {
	env := screentest.Env(t)
	changed := 0
	env.PeopleChanged = func() { changed++ }
	s := open(t, env)
	for _, n := range []string{"Ada Example", "  Bo  Example ", "Ada Example", " "} {
		s.people.add.SetText("")
		test.Type(s.people.add, n)
		s.people.add.OnSubmitted("")
		env.Run.Wait()
	}
	if got := kept1(t, env, shop.KeyPeople); got != "Ada Example\nBo Example" || changed != 2 {
		t.Fatalf("kept %q, the window told %d times", got, changed)
	}
	s.onTakeOff("Ada Example")
	env.Run.Wait()
	if got := kept1(t, env, shop.KeyPeople); got != "Bo Example" {
		t.Errorf("kept %q", got)
	}
	if !screentest.Told(env).Undo() {
		t.Fatal("no way back")
	}
	env.Run.Wait()
	if got := kept1(t, env, shop.KeyPeople); got != "Ada Example\nBo Example" {
		t.Errorf("after undo %q", got)
	}
	if again := open(t, env); len(again.people.list.Objects) != 2 {
		t.Errorf("%d rows when opened again", len(again.people.list.Objects))
	}
}

func TestPeople_RefusedSaveShowsWhatIsKept(t *testing.T) {
	env := screentest.Env(t)
	s := open(t, env)
	screentest.Lib(env).Refuse = errors.New("the disk is full")
	s.people.add.SetText("Ada")
	s.onAddPerson()
	env.Run.Wait()
	if kept1(t, env, shop.KeyPeople) == "Ada" {
		t.Skip("this library keeps preferences whatever is refused")
	}
	if len(s.people.names) != 0 || !s.people.refused.Visible() {
		t.Errorf("shown %v", s.people.names)
	}
}

func TestPIN_OldOneIsAsked(t *testing.T) {
	env := screentest.Env(t)
	s := open(t, env)
	p := &s.people
	p.pause = time.Millisecond
	if p.oldRow.Visible() || p.take.Visible() {
		t.Error("an old PIN is asked although there is none")
	}
	try := func(old, fresh string, remove bool) {
		p.old.SetText(old)
		p.fresh.SetText(fresh)
		if remove {
			s.onRemovePIN()
		} else {
			s.onSetPIN()
		}
		env.Run.Wait()
	}
	for _, bad := range []string{"", "12", "123456789", "12a4"} {
		if try("", bad, false); p.pinSet || !p.pinRefused.Visible() {
			t.Errorf("%q was taken", bad)
		}
	}
	try("", "0420", false)
	if !p.pinSet || !p.oldRow.Visible() || p.pinRefused.Visible() || p.fresh.Text != "" {
		t.Fatalf("set %v, refused %v, field %q", p.pinSet, p.pinRefused.Visible(), p.fresh.Text)
	}
	if got := kept1(t, env, shop.KeyPIN); strings.Contains(got, "0420") {
		t.Errorf("kept as %q", got)
	}
	fits := func(pin string) bool {
		ok, err := env.Desk.PINFits(context.Background(), pin)
		if err != nil {
			t.Fatal(err)
		}
		return ok
	}
	if try("1111", "2222", false); !fits("0420") || !p.pinRefused.Visible() {
		t.Error("changed with a wrong old PIN")
	}
	if try("1111", "", true); !fits("0420") || !p.pinSet {
		t.Error("removed with a wrong old PIN")
	}
	if try("0420", "2222", false); !fits("2222") {
		t.Error("not changed with the old PIN")
	}
	if try("2222", "", true); p.pinSet || kept1(t, env, shop.KeyPIN) != "" {
		t.Error("not removed with the old PIN")
	}
	if n := len(screentest.Told(env).Undos); n != 3 || screentest.Told(env).Undo() {
		t.Errorf("%d saves told; a PIN has no undo", n)
	}
}
