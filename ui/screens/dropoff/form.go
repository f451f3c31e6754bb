package dropoff

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
	"time"

	"fyne.io/fyne/v2/lang"

	"forkwear/inspect"
	"forkwear/inspect/measure"
	"forkwear/inspect/shop"
	"forkwear/ui/widgets"
	"forkwear/ui/words"
)

// form is all that the page holds, as it was typed: what is kept as the draft,
// and what an intake is made of.
type form struct {
	Customer   inspect.Customer
	Fork       inspect.Fork // its year is in Year
	Year       string
	Level      string
	Purpose    string
	Promised   string
	CameWith   []string
	AlsoHere   string
	Hours      string // the number typed
	Sure       string // how the number is known: fromComputer, aGuess
	Use        shop.Use
	Span       string // ridden for so long, where Use is since new
	SinceNew   bool   // Use counts from new, not from the last visit
	AtLeast    bool
	Conditions []string
	Complaints []complaint
	Settings   map[string]string
	Package    string
	GoAhead    string
	Note       string
	Photos     map[string]placed // by photoPlace.key
	Signed     widgets.Signed    // the agreement

	Given *claim // hours of a Fill that stand until somebody types others
}

type complaint struct {
	Symptom string
	Leg     inspect.Leg
	Since   string
	Note    string
}

// claim is an answer to how many hours, in the words of an intake.
type claim struct {
	Hours, U float64
	AtLeast  bool
	From     string
	Words    string
}

// How a typed number of riding hours is known.
const (
	fromComputer = "computer"
	aGuess       = "typed"
)

// alsoHere marks, among what came with the fork, what gets no record.
const alsoHere = "also here, no record: "

// known is what the library knows of the chosen fork.
type known struct {
	last  inspect.VisitRow // zero where it is here for the first time
	claim inspect.Claim
	left  []inspect.Setting // as left at the last visit, else as found then
}

func (k known) here() bool { return k.last.Visit.ID != "" }

// intake turns the form into what the desk takes in. A number that can't be
// read is an error that names it; the text stays where it is.
func (f form) intake(k known, now time.Time, currency string) (shop.Intake, error) {
	in := shop.Intake{Customer: f.Customer, Fork: f.Fork}
	in.Customer.Name = strings.TrimSpace(in.Customer.Name)
	in.Visit = inspect.Visit{Level: f.Level, Purpose: f.Purpose, Note: strings.TrimSpace(f.Note),
		Conditions: slices.Clone(f.Conditions), CameWith: slices.Clone(f.CameWith)}
	in.Visit.SignedBy, in.Visit.Signature = f.signed()
	if t := strings.TrimSpace(f.AlsoHere); t != "" {
		in.Visit.CameWith = append(in.Visit.CameWith, alsoHere+t)
	}
	var err error
	if in.Fork.Year, err = year(f.Year); err != nil {
		return in, err
	}
	if in.Visit.Promised, err = day(f.Promised, now); err != nil {
		return in, err
	}
	if in.Visit.Package, err = money(f.Package, currency, inspect.Refuse(inspect.Invalid, "the package price %q can't be read: type an amount like 129.90", f.Package)); err != nil {
		return in, err
	}
	if in.Visit.GoAhead, err = money(f.GoAhead, currency, inspect.Refuse(inspect.Invalid, "“go ahead up to” %q can't be read: type an amount like 129.90", f.GoAhead)); err != nil {
		return in, err
	}
	c, err := f.hours(k, now)
	if err != nil {
		return in, err
	}
	in.Hours, in.HoursU, in.AtLeast, in.HoursFrom, in.HoursWords = c.Hours, c.U, c.AtLeast, c.From, c.Words
	for _, x := range f.Complaints {
		in.Complaints = append(in.Complaints, inspect.Complaint{Symptom: x.Symptom, Leg: x.Leg, Since: strings.TrimSpace(x.Since), Note: strings.TrimSpace(x.Note)})
	}
	in.Settings = f.found()
	return in, nil
}

// needed says what a drop-off can't do without, in the order of the page; the
// desk checks again what it is given.
func (f form) needed() error {
	switch {
	case strings.TrimSpace(f.Customer.Name) == "":
		return inspect.Refuse(inspect.Invalid, "Type the customer's name, or choose one who was here before.")
	case strings.TrimSpace(f.Fork.Maker+f.Fork.Model+f.Fork.Tag) == "":
		return inspect.Refuse(inspect.Invalid, "Say which fork this is: a maker, a model or a workshop tag.")
	case f.Fork.Sheet == "":
		return inspect.Refuse(inspect.Invalid, "Choose the kind of fork: a generic data sheet will do for now.")
	case f.Level == "":
		return inspect.Refuse(inspect.Invalid, "Choose a service level: a look-over will do where nobody knows yet.")
	}
	return nil
}

// hours works out what is known of the riding hours: the number typed, or the
// use since the last visit or since new, or nothing but the last claim.
func (f form) hours(k known, now time.Time) (claim, error) {
	c := claim{AtLeast: f.AtLeast}
	switch {
	case strings.TrimSpace(f.Hours) != "":
		q, err := measure.Parse(f.Hours, measure.Hour)
		if err != nil {
			return c, inspect.Refuse(inspect.Invalid, "the riding hours %q can't be read: type a number like 318", f.Hours)
		}
		c.Hours, c.From, c.U = q.Value, aGuess, shop.GuessShare*q.Value
		c.Words = f.Hours + ", a guess" // of the record: stays English
		if f.Sure == fromComputer {
			c.From, c.U, c.Words = fromComputer, shop.ComputerShare*q.Value, f.Hours+", read off a computer"
		}
	case f.Use != "":
		return f.byUse(k, now)
	case f.Given != nil:
		return *f.Given, nil
	default:
		c.Hours, c.U, c.AtLeast, c.From, c.Words = k.claim.Hours, k.claim.U, true, "estimated", "not told"
	}
	return c, nil
}

func (f form) byUse(k known, now time.Time) (claim, error) {
	c := claim{AtLeast: f.AtLeast, From: "weekly use"}
	weeks, before, beforeU := 0.0, 0.0, 0.0
	if k.here() && !f.SinceNew {
		weeks, before, beforeU = shop.Weeks(k.last.Visit.DroppedOff, now), k.claim.Hours, k.claim.U
		c.Words = fmt.Sprintf("%s a week since the visit of %s", f.Use, words.Date(k.last.Visit.DroppedOff))
	} else {
		if strings.TrimSpace(f.Span) == "" {
			c.AtLeast, c.From, c.Words = true, "estimated", string(f.Use)+" a week, not told for how long"
			return c, nil
		}
		var err error
		if weeks, err = shop.ParseSpan(f.Span); err != nil {
			return c, err
		}
		c.Words = fmt.Sprintf("%s a week for %s, since new", f.Use, f.Span)
	}
	var err error
	c.Hours, c.U, err = shop.HoursByUse(f.Use, weeks, before, beforeU)
	return c, err
}

// formOf puts an intake into a form.
func formOf(in shop.Intake) form {
	f := form{Customer: in.Customer, Fork: in.Fork, Level: in.Visit.Level, Purpose: in.Visit.Purpose, AtLeast: in.AtLeast,
		Conditions: slices.Clone(in.Visit.Conditions), Note: in.Visit.Note, Settings: map[string]string{},
		Package: amount(in.Visit.Package), GoAhead: amount(in.Visit.GoAhead)}
	f.Signed.By, f.Signed.OnPaper = strings.CutSuffix(in.Visit.SignedBy, onPaper)
	f.Signed.Strokes = in.Visit.Signature
	f.Given = &claim{in.Hours, in.HoursU, in.AtLeast, in.HoursFrom, in.HoursWords}
	if share := in.HoursU / in.Hours; in.HoursFrom == fromComputer && math.Abs(share-shop.ComputerShare) < 1e-9 ||
		in.HoursFrom == aGuess && math.Abs(share-shop.GuessShare) < 1e-9 {
		f.Hours, f.Sure, f.Given = words.Number(in.Hours, 0), in.HoursFrom, nil
	}
	if f.Sure == "" {
		f.Sure = aGuess
	}
	if f.Customer.ReachBy == "" {
		f.Customer.ReachBy = "phone"
	}
	if f.Purpose == "" {
		f.Purpose = "paid"
	}
	if in.Fork.Year != 0 {
		f.Year = strconv.Itoa(in.Fork.Year)
	}
	if !in.Visit.Promised.IsZero() {
		f.Promised = words.Date(in.Visit.Promised)
	}
	for _, c := range in.Visit.CameWith {
		if t, ok := strings.CutPrefix(c, alsoHere); ok {
			f.AlsoHere = t
		} else {
			f.CameWith = append(f.CameWith, c)
		}
	}
	for _, c := range in.Complaints {
		f.Complaints = append(f.Complaints, complaint{c.Symptom, c.Leg, c.Since, c.Note})
	}
	for _, s := range in.Settings {
		f.Settings[s.Key] = fieldText(s)
	}
	return f
}

// missing says in one quiet line what nobody has told yet.
func (f form) missing() string {
	var out []string
	for _, m := range []struct {
		absent bool
		word   string
	}{
		{f.Customer.Phone == "" && f.Customer.Email == "", lang.L("how to reach the customer")},
		{f.Customer.ReachBy == "email" && f.Customer.Email == "" && f.Customer.Phone != "", lang.L("the email address")},
		{f.Fork.Serial == "" && f.Fork.Tag == "", lang.L("serial or tag")},
		{strings.TrimSpace(f.Hours) == "" && f.Use == "" && f.Given == nil, lang.L("riding hours")},
		{f.Promised == "", lang.L("a promised day")},
		{len(f.Conditions) == 0, lang.L("conditions")},
		{len(f.found()) == 0, lang.L("settings as found")},
		{f.GoAhead == "" && f.Package == "", lang.L("what was agreed")},
		{len(f.Photos) < len(photoPlaces), fmt.Sprintf(lang.L("photos (%d of %d)"), len(f.Photos), len(photoPlaces))},
		{f.Signed.Empty(), lang.L("a signature")},
	} {
		if m.absent {
			out = append(out, m.word)
		}
	}
	if len(out) == 0 {
		return ""
	}
	return fmt.Sprintf(lang.L("Can come later: %s"), strings.Join(out, ", "))
}

// empty tells whether nothing worth keeping has been typed.
func (f form) empty() bool {
	typed := f.Customer.Name + f.Customer.Phone + f.Customer.Email + f.Fork.Maker + f.Fork.Model + f.Fork.Serial + f.Fork.Tag +
		f.Year + f.Hours + f.Span + f.Promised + f.Package + f.GoAhead + f.Note + f.AlsoHere
	for _, t := range f.Settings {
		typed += t
	}
	return strings.TrimSpace(typed) == "" && len(f.Complaints) == 0 && len(f.Conditions) == 0 && len(f.CameWith) == 0 &&
		len(f.Photos) == 0 && f.Signed.Empty()
}

// signed is who signed the agreement and the strokes; nobody where nothing was
// drawn and nothing stands on paper. Without a name of their own it is the customer.
func (f form) signed() (by string, strokes inspect.Signature) {
	if f.Signed.Empty() {
		return "", nil
	}
	if by = strings.TrimSpace(f.Signed.By); by == "" {
		by = strings.TrimSpace(f.Customer.Name)
	}
	if f.Signed.OnPaper {
		return by + onPaper, nil
	}
	return by, f.Signed.Strokes
}

// onPaper stands behind the name of who signed on paper.
const onPaper = " (on paper)"
