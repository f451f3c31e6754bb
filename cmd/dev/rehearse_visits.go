package main

import (
	"encoding/json"
	"fmt"
	"strings"
	"time"
)

// do runs steps until one fails.
func do(steps ...func() error) error {
	for _, s := range steps {
		if err := s(); err != nil {
			return err
		}
	}
	return nil
}

func (a *actor) keys(names ...string) func() error { return func() error { return a.key(names...) } }
func (a *actor) text(s string) func() error        { return func() error { return a.write(s) } }
func (a *actor) at(place string) func() error      { return func() error { return a.expect(place) } }
func (a *actor) tab(word string) func() error      { return func() error { return a.tabTo(word) } }
func (a *actor) press(word string) func() error    { return func() error { return a.click(word, 0) } }

// keyboardVisit takes a fork in, looks it over, decides, serves and hands it
// back without touching the pointer.
func keyboardVisit(a *actor) error {
	err := do(
		a.keys("ctrl+n"), a.at("drop_off"),
		a.text("Ada Keyboard"), a.keys("Tab"), a.text("0555 0100"),
		a.tab("finds a known fork"), a.text("K-1"), a.keys("Tab", "Tab"), a.text("Nobody"), a.keys("Tab"), a.text("Trail 150"), a.keys("Tab"), a.text("2024"),
		a.tab("Choose tube size"), a.keys("space", "Down", "Down", "Return"),
		a.tab("a number"), a.text("120"),
		a.tab("Look-over"), a.keys("space"),
		a.keys("ctrl+Return"), a.at("inspect"),
		a.keys("1", "1", "1"),
	)
	if err != nil {
		return err
	}
	if err := a.finishInspect(func() error { return a.key("asterisk") }, func() error { return a.key("Return") }); err != nil {
		return err
	}
	inspected := a.Keys
	err = do(a.at("decide"), a.tab("Go on to service"), a.keys("Return"), a.at("service"),
		a.tab("Go on to hand-back"), a.keys("Return"), a.at("hand_back"),
		a.tab("Collected"), a.keys("Return"), a.keys("Return"))
	if err != nil {
		return err
	}
	fmt.Fprintf(a.log, "  a look-over by keyboard: %d keys in all, %d of them after Inspect\n", a.Keys, a.Keys-inspected)
	return a.inLibrary("Ada Keyboard", "K-1", 120)
}

// pointerVisit is the same with a pointer; only names and numbers are typed.
func pointerVisit(a *actor) error {
	err := do(
		a.press("New drop-off"), a.at("drop_off"),
		a.press("type to find"), a.text("Bo Pointer"),
		a.press("finds a known fork"), a.text("P-1"),
		a.press("Choose tube size"), a.chooseSecond,
		a.press("a number"), a.text("240"),
		a.press("Look-over"), a.press("Take in"), a.at("inspect"),
	)
	if err != nil {
		return err
	}
	if err := a.finishInspect(func() error { return a.click("Zone seen", 0) }, func() error { return a.click("Next", 0) }); err != nil {
		return err
	}
	err = do(a.at("decide"), a.press("Go on to service"), a.at("service"),
		a.press("Go on to hand-back"), a.at("hand_back"), a.press("Collected"), a.press("Collected"))
	if err != nil {
		return err
	}
	fmt.Fprintf(a.log, "  a look-over by pointer: %d clicks, %d keys\n", a.Clicks, a.Keys)
	return a.inLibrary("Bo Pointer", "P-1", 240)
}

// chooseSecond presses the second line of the list that a choice has opened,
// 44 px high each, below the field.
func (a *actor) chooseSecond() error {
	return a.key("Down", "Down", "Return")
}

// finishInspect goes through what is left of Inspect until Decide is there.
func (a *actor) finishInspect(seen, next func() error) error {
	for range 40 {
		place, err := a.question("place")
		if err != nil {
			return err
		}
		if place == "decide" {
			return nil
		}
		ended, err := a.question("ended")
		if err != nil {
			return err
		}
		if ended == "no" { // what is left of the zone is measured: go past it
			if err := seen(); err != nil {
				return err
			}
		}
		if err := next(); err != nil {
			return err
		}
	}
	return fmt.Errorf("40 steps did not lead from Inspect to Decide")
}

// inLibrary looks by the command line for what was entered.
func (a *actor) inLibrary(customer, tag string, hours float64) error {
	time.Sleep(300 * time.Millisecond)
	out, err := a.cli("visits", "--json")
	if err != nil {
		return err
	}
	var rows []struct {
		Visit    struct{ ID, Step string }
		Fork     struct{ Tag string }
		Customer struct{ Name string }
		Hours    float64
	}
	if err := json.Unmarshal(out, &rows); err != nil {
		return fmt.Errorf("the list of visits can't be read: %w\n%.400s", err, out)
	}
	if len(rows) != 1 {
		return fmt.Errorf("%d visits are in the library, one was entered", len(rows))
	}
	r := rows[0]
	if r.Customer.Name != customer || r.Fork.Tag != tag || r.Hours != hours || r.Visit.Step != "collected" {
		return fmt.Errorf("the library holds %+v, entered were %s, %s, %g h, collected", r, customer, tag, hours)
	}
	if out, err = a.cli("verify"); err != nil {
		return fmt.Errorf("%w\n%s", err, strings.TrimSpace(string(out)))
	}
	return nil
}
