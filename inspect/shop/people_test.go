package shop

import (
	"context"
	"strings"
	"sync"
	"testing"

	"forkwear/inspect"
)

// drawer is a library that keeps preferences and answers only.
type drawer struct {
	inspect.Library
	preferences map[string]string
	consents    []inspect.Consent
}

func (d *drawer) Preference(_ context.Context, key string) (string, error) {
	return d.preferences[key], nil
}

func (d *drawer) PutPreference(_ context.Context, key, value string) error {
	d.preferences[key] = value
	return nil
}

func (d *drawer) AddConsents(_ context.Context, cs ...inspect.Consent) error {
	d.consents = append(d.consents, cs...)
	return nil
}

func (d *drawer) Consents(context.Context, inspect.ID) ([]inspect.Consent, error) {
	return d.consents, nil
}

func drawerDesk(t *testing.T) *bench {
	b := newBench(t)
	b.desk.Lib = &drawer{preferences: map[string]string{}}
	return b
}

// RFC 7914, section 11: PBKDF2-HMAC-SHA256 of "passwd" and "salt", one round,
// first 32 bytes; the same from Python's hashlib.pbkdf2_hmac.
func TestHashPIN_RFC7914(t *testing.T) {
	got, err := hashPIN("passwd", "salt", 1)
	if err != nil {
		t.Fatal(err)
	}
	const want = "pbkdf2-sha256$1$73616c74$55ac046e56e3089fec1691c22544b605f94185216dde0465e68b9d57c20dacbc"
	if got != want {
		t.Errorf("got %s\nwant %s", got, want)
	}
}

func TestPIN_OldOneIsAsked(t *testing.T) {
	b, ctx := drawerDesk(t), context.Background()
	fits := func(pin string) bool {
		t.Helper()
		ok, err := b.desk.PINFits(ctx, pin)
		b.must(err)
		return ok
	}
	if fits("") || fits("1234") {
		t.Error("something fits although there is no PIN")
	}
	b.must(b.desk.SetPIN(ctx, "", "0420"))
	kept, err := b.desk.Lib.Preference(ctx, KeyPIN)
	b.must(err)
	if strings.Contains(kept, "0420") || !strings.HasPrefix(kept, pinScheme) {
		t.Errorf("kept as %q", kept)
	}
	if !fits("0420") || fits("420") || fits("") {
		t.Error("the PIN fits wrongly")
	}
	if err := b.desk.SetPIN(ctx, "9999", "1111"); inspect.CodeOf(err) != inspect.Invalid || !fits("0420") {
		t.Errorf("changed with a wrong old PIN: %v", err)
	}
	if err := b.desk.SetPIN(ctx, "9999", ""); inspect.CodeOf(err) != inspect.Invalid || !fits("0420") {
		t.Errorf("removed with a wrong old PIN: %v", err)
	}
	b.must(b.desk.SetPIN(ctx, "0420", ""))
	if has, _ := b.desk.HasPIN(ctx); has {
		t.Error("not removed")
	}
}

func TestPIN_OlderPlainOneIsTakenOver(t *testing.T) {
	b, ctx := drawerDesk(t), context.Background()
	b.must(b.desk.Lib.PutPreference(ctx, KeyPIN, "2468"))
	for _, want := range []bool{true, true} { // plain, then hashed
		if ok, err := b.desk.PINFits(ctx, "2468"); ok != want || err != nil {
			t.Fatalf("fits %v, %v", ok, err)
		}
		if kept, _ := b.desk.Lib.Preference(ctx, KeyPIN); strings.Contains(kept, "2468") {
			t.Errorf("still kept as typed: %q", kept)
		}
	}
}

func TestPIN_DamagedOnes(t *testing.T) {
	b, ctx := drawerDesk(t), context.Background()
	good, _ := hashPIN("1234", "s", 1)
	for _, kept := range []string{pinScheme + "$", pinScheme + "$0$73$00", pinScheme + "$99999999999$73$" + strings.Repeat("00", 32),
		strings.Replace(good, "$73$", "$zz$", 1), good[:len(good)-2], good + "$"} {
		b.must(b.desk.Lib.PutPreference(ctx, KeyPIN, kept))
		if ok, err := b.desk.PINFits(ctx, "1234"); ok || inspect.CodeOf(err) != inspect.Damaged {
			t.Errorf("%q: %v, %v", kept, ok, err)
		}
	}
	b.must(b.desk.SetPIN(ctx, "", "")) // the way out
}

func TestCheckPIN(t *testing.T) {
	for pin, want := range map[string]bool{"1234": true, "00000000": true, "123": false, "123456789": false, "12a4": false, "": false, "12 34": false, "١٢٣٤": false} {
		if got := CheckPIN(pin) == nil; got != want {
			t.Errorf("%q: %v, want %v", pin, got, want)
		}
	}
}

func TestWho_FromManyGoroutines(t *testing.T) {
	b := newBench(t)
	if b.desk.Who() != "Ruth" {
		t.Errorf("at first %q", b.desk.Who())
	}
	var wg sync.WaitGroup
	for range 4 {
		wg.Go(func() {
			for range 200 {
				b.desk.SetWho("Ada")
				if b.desk.Who() != "Ada" {
					t.Error("somebody else")
				}
			}
		})
	}
	wg.Wait()
}

func TestPeople_Tidied(t *testing.T) {
	b, ctx := drawerDesk(t), context.Background()
	b.must(b.desk.SetPeople(ctx, []string{" Ada  Example ", "", "Bo", "Ada Example"}))
	got, err := b.desk.People(ctx)
	b.must(err)
	if strings.Join(got, "|") != "Ada Example|Bo" {
		t.Errorf("people %q", got)
	}
}

func TestSign(t *testing.T) {
	b, ctx := drawerDesk(t), context.Background()
	c := &Case{Visit: inspect.Visit{ID: "v"}}
	ink := inspect.Signature{{{X: .1, Y: .2}, {X: .3, Y: .4}}}
	if _, err := b.desk.Sign(ctx, c, " ", SignedHere, ink, "x"); inspect.CodeOf(err) != inspect.Invalid {
		t.Errorf("signed by nobody: %v", err)
	}
	if _, err := b.desk.Sign(ctx, c, "Ada", SignedHere, nil, "x"); inspect.CodeOf(err) != inspect.Invalid {
		t.Errorf("signed without a stroke: %v", err)
	}
	if _, _, ok := c.Signed(); ok {
		t.Error("signed although refused")
	}
	k, err := b.desk.Sign(ctx, c, "Ada", SignedHere, ink, "page of answers")
	b.must(err)
	kept, err := b.desk.Lib.Consents(ctx, "v")
	b.must(err)
	if len(kept) != 1 || kept[0].By != "Ada" || len(kept[0].Signature) != 1 || kept[0].AssessmentID != "" || kept[0].At.IsZero() {
		t.Fatalf("kept %+v", kept)
	}
	if got, stale, ok := c.Signed(); !ok || stale || got.ID != k.ID {
		t.Errorf("signed %+v, stale %v, %v", got, stale, ok)
	}
	b.must(b.desk.Consent(ctx, c, inspect.Assessment{ID: "a"}, true, "Ada", "here", "")) // an answer after it
	if _, stale, _ := c.Signed(); !stale {
		t.Error("an answer given after the signature counts as signed")
	}
}
