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
		a.tab("Workshop tag"), a.text("K-1"), a.keys("Tab", "Tab"), a.text("Nobody"), a.keys("Tab"), a.text("Trail 150"), a.keys("Tab"), a.text("2024"),
		a.tab("Kind of fork"), a.keys("space", "Down", "Down", "Return"),
		a.tab("Hours since new"), a.text("120"),
		a.tab("Look-over"), a.keys("space"),
		a.keys("ctrl+Return"), a.at("inspect"),
	)
	if err != nil {
		return err
	}
	taken := a.Keys
	checks, measured, err := a.inspect(answers{grade: a.keys("1"), fine: a.keys("1"), next: a.keys("Return"),
		number: func(v string) error { return do(a.text(v), a.keys("Return")) }})
	if err != nil {
		return err
	}
	inspected := a.Keys
	err = do(a.at("decide"), a.keys("ctrl+Return"), a.at("service"), a.keys("ctrl+Return"), a.at("hand_back"),
		a.keys("ctrl+Return"), a.still, a.keys("ctrl+Return"), a.still, a.keys("ctrl+Return"))
	if err != nil {
		return err
	}
	fmt.Fprintf(a.log, "  a look-over by keyboard: %d keys to take in, %d for %d checks (%d measured), %d to hand back\n",
		taken, inspected-taken, checks, measured, a.Keys-inspected)
	return a.inLibrary("Ada Keyboard", "K-1", 120)
}

// pointerVisit is the same with a pointer; only names and numbers are typed.
func pointerVisit(a *actor) error {
	err := do(
		a.press("New drop-off"), a.at("drop_off"),
		a.press("Name"), a.text("Bo Pointer"),
		a.press("Workshop tag"), a.text("P-1"),
		a.press("Kind of fork"), a.chooseSecond,
		a.press("Hours since new"), a.text("240"),
		a.press("Look-over"), a.press("Take in"), a.at("inspect"),
	)
	if err != nil {
		return err
	}
	checks, measured, err := a.inspect(answers{grade: a.pad(1), fine: a.pad(0), next: a.press("Go on to Decide"),
		number: func(v string) error { return do(a.press("value"), a.text(v), a.press("Next")) }})
	if err != nil {
		return err
	}
	err = do(a.at("decide"), a.press("Go on to service"), a.at("service"),
		a.press("Go on to hand-back"), a.at("hand_back"), a.press("Ready"), a.still, a.press("Collected"), a.still, a.press("Collected"))
	if err != nil {
		return err
	}
	fmt.Fprintf(a.log, "  a look-over by pointer: %d clicks, %d keys for names and numbers; %d checks (%d measured)\n", a.Clicks, a.Keys, checks, measured)
	return a.inLibrary("Bo Pointer", "P-1", 240)
}

// pad presses the n-th of the large answers of a check, from 0.
func (a *actor) pad(n int) func() error {
	return func() error { return a.click("answer: ", n) }
}

// chooseSecond presses the second line of the list that a choice has opened,
// 44 px high each, below the field.
func (a *actor) chooseSecond() error {
	return a.key("Down", "Down", "Return")
}

// answers is what a person gives to the check at work.
type answers struct {
	grade  func() error             // the grade 1
	fine   func() error             // fine
	number func(value string) error // a measured value, and on
	next   func() error             // on, where nothing of the stage is open
}

// inspect answers every check until Decide is there, and tells how many.
func (a *actor) inspect(by answers) (checks, measured int, err error) {
	for range 80 {
		if err := a.still(); err != nil {
			return checks, measured, err
		}
		place, err := a.question("place")
		if err != nil || place == "decide" {
			return checks, measured, err
		}
		what, err := a.question("check")
		if err != nil {
			return checks, measured, err
		}
		kind, rest, _ := strings.Cut(what, " ")
		unit, _, _ := strings.Cut(rest, " ")
		switch kind {
		case "grade":
			checks++
			err = by.grade()
		case "fine":
			checks++
			err = by.fine()
		case "number":
			checks++
			measured++
			err = by.number(typical(unit))
		default:
			err = by.next()
		}
		if err != nil {
			return checks, measured, fmt.Errorf("at %s: %w", what, err)
		}
	}
	return checks, measured, fmt.Errorf("80 answers did not lead from Inspect to Decide")
}

// still waits until a key or click that was just sent has reached the window.
func (a *actor) still() error {
	_, err := a.question("place")
	return err
}

// typical is a value that any check of a unit takes.
func typical(unit string) string {
	switch unit {
	case "bar":
		return "6.2"
	case "%":
		return "20"
	case "mm":
		return "1.5"
	}
	return "4"
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
