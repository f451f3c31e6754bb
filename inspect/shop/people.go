package shop

import (
	"context"
	"crypto/pbkdf2"
	"crypto/sha256"
	"crypto/subtle"
	"encoding/hex"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"forkwear/inspect"
)

// Who is who works here now: whoever was chosen last, else By. It may be asked
// from any goroutine while another one chooses.
func (d *Desk) Who() string {
	if p := d.who.Load(); p != nil {
		return *p
	}
	return d.By
}

// SetWho chooses who works here now; what is kept from now on is theirs.
func (d *Desk) SetWho(name string) { d.who.Store(&name) }

// People are the names of those who work in the shop, in the order typed.
func (d *Desk) People(ctx context.Context) ([]string, error) {
	text, err := d.Lib.Preference(ctx, KeyPeople)
	if err != nil {
		return nil, fmt.Errorf("the people of the shop can't be read: %w", err)
	}
	return tidyNames(strings.Split(text, "\n")), nil
}

// SetPeople keeps the names; blanks and doubles are left out.
func (d *Desk) SetPeople(ctx context.Context, names []string) error {
	return d.Lib.PutPreference(ctx, KeyPeople, strings.Join(tidyNames(names), "\n"))
}

func tidyNames(names []string) []string {
	var out []string
	seen := map[string]bool{}
	for _, n := range names {
		if n = strings.Join(strings.Fields(n), " "); n != "" && !seen[n] {
			seen[n] = true
			out = append(out, n)
		}
	}
	return out
}

// How a PIN is kept: pbkdf2-sha256$ROUNDS$SALT$KEY. The rounds are what OWASP
// asks for PBKDF2 with HMAC-SHA256 (600 000; Password Storage Cheat Sheet, from
// memory). No number of rounds makes four digits strong: the PIN keeps a
// customer from the shop's pages, it is no lock against whoever has the disk.
const (
	pinScheme = "pbkdf2-sha256"
	pinRounds = 600_000
	pinKey    = 32 // bytes
	pinMost   = 5_000_000
)

// CheckPIN reads a new PIN: 4 to 8 digits.
func CheckPIN(pin string) error {
	if len(pin) < 4 || len(pin) > 8 || strings.Trim(pin, "0123456789") != "" {
		return inspect.Refuse(inspect.Invalid, "a PIN is 4 to 8 digits")
	}
	return nil
}

// HasPIN tells whether the shop has set a PIN.
func (d *Desk) HasPIN(ctx context.Context) (bool, error) {
	kept, err := d.Lib.Preference(ctx, KeyPIN)
	if err != nil {
		return false, fmt.Errorf("whether the shop has a PIN can't be read: %w", err)
	}
	return kept != "", nil
}

// PINFits tells whether typed is the shop's PIN; without one nothing fits. A PIN
// that an older version kept as it was typed is taken over.
func (d *Desk) PINFits(ctx context.Context, typed string) (bool, error) {
	kept, err := d.Lib.Preference(ctx, KeyPIN)
	if err != nil {
		return false, fmt.Errorf("the shop's PIN can't be read: %w", err)
	}
	if kept == "" {
		return false, nil
	}
	if !strings.HasPrefix(kept, pinScheme+"$") {
		fits := subtle.ConstantTimeCompare([]byte(kept), []byte(typed)) == 1
		if !fits {
			return false, nil
		}
		return true, d.keepPIN(ctx, typed)
	}
	return pinMatches(kept, typed)
}

// SetPIN sets another PIN, or none with "". Where one is set, old must be it.
func (d *Desk) SetPIN(ctx context.Context, old, fresh string) error {
	has, err := d.HasPIN(ctx)
	if err != nil {
		return err
	}
	if has {
		fits, err := d.PINFits(ctx, old)
		damaged := inspect.CodeOf(err) == inspect.Damaged // fits nothing: there is no old one to ask for
		if err != nil && !damaged {
			return err
		}
		if !fits && !damaged {
			return inspect.Refuse(inspect.Invalid, "the old PIN is not right: nothing was changed")
		}
	}
	if fresh == "" {
		return d.Lib.PutPreference(ctx, KeyPIN, "")
	}
	if err := CheckPIN(fresh); err != nil {
		return err
	}
	return d.keepPIN(ctx, fresh)
}

func (d *Desk) keepPIN(ctx context.Context, pin string) error {
	kept, err := hashPIN(pin, string(d.NewID()), pinRounds)
	if err != nil {
		return err
	}
	return d.Lib.PutPreference(ctx, KeyPIN, kept)
}

// hashPIN is PBKDF2 (RFC 8018) with HMAC-SHA256. The salt is an id of ours: it
// need not be secret, only another one each time.
func hashPIN(pin, salt string, rounds int) (string, error) {
	key, err := pbkdf2.Key(sha256.New, pin, []byte(salt), rounds, pinKey)
	if err != nil {
		return "", inspect.Refuse(inspect.Internal, "the PIN can't be kept: %v", err)
	}
	return strings.Join([]string{pinScheme, strconv.Itoa(rounds), hex.EncodeToString([]byte(salt)), hex.EncodeToString(key)}, "$"), nil
}

func pinMatches(kept, typed string) (bool, error) {
	damaged := inspect.Refuse(inspect.Damaged, "the kept PIN is damaged and no number fits it: start the program anew and set another PIN in the settings")
	parts := strings.Split(kept, "$")
	if len(parts) != 4 {
		return false, damaged
	}
	rounds, err := strconv.Atoi(parts[1])
	if err != nil || rounds < 1 || rounds > pinMost {
		return false, damaged
	}
	salt, err := hex.DecodeString(parts[2])
	if err != nil {
		return false, damaged
	}
	if key, err := hex.DecodeString(parts[3]); err != nil || len(key) != pinKey {
		return false, damaged
	}
	again, err := hashPIN(typed, string(salt), rounds)
	if err != nil {
		return false, err
	}
	return subtle.ConstantTimeCompare([]byte(again), []byte(kept)) == 1, nil
}

// SignedHere is how a signed page of answers is kept.
const SignedHere = "signed here"

// Sign keeps the customer's signature under all answers of a visit, with what
// was shown when it was given. It stands beside the answers, each of which has
// its own Consent.
func (d *Desk) Sign(ctx context.Context, c *Case, by, how string, signature inspect.Signature, shown string) (inspect.Consent, error) {
	k := inspect.Consent{ID: d.NewID(), VisitID: c.Visit.ID, Accepted: true, By: strings.TrimSpace(by), How: how, Shown: shown,
		Signature: signature, At: d.Clock()}
	switch {
	case k.By == "":
		return k, inspect.Refuse(inspect.Invalid, "type the name of who signs")
	case how == SignedHere && len(signature) == 0:
		return k, inspect.Refuse(inspect.Invalid, "draw the signature in the field, or say that it was signed on paper")
	}
	if err := d.Lib.AddConsents(ctx, k); err != nil {
		return k, err
	}
	c.Consents = append(c.Consents, k)
	return k, nil
}

// Signed is the newest signature under the answers of a visit. Stale tells that
// the answers in force are others than those that it covers.
func (c *Case) Signed() (k inspect.Consent, stale, ok bool) {
	standing := inspect.Answers(c.Consents)
	for _, x := range standing {
		if x.AssessmentID == "" {
			k, ok = x, true
		}
	}
	if !ok {
		return k, false, false
	}
	at := slices.IndexFunc(c.Consents, func(x inspect.Consent) bool { return x.ID == k.ID })
	same := slices.EqualFunc(answersOn(c.Consents[:at]), answersOn(c.Consents), func(a, b inspect.Consent) bool { return a.ID == b.ID })
	return k, !same, true
}

// answersOn are the answers in force on lines, without signatures.
func answersOn(ks []inspect.Consent) []inspect.Consent {
	return slices.DeleteFunc(inspect.Answers(ks), func(k inspect.Consent) bool { return k.AssessmentID == "" })
}
