package inspect

import (
	"strconv"
	"time"
)

// Customer is who owns a fork and how to reach them.
type Customer struct {
	ID      ID
	Name    string
	Phone   string
	Email   string
	ReachBy string // "phone", "message", "email"
	Note    string
	Created time.Time
}

// Fork is one suspension fork with its own history.
type Fork struct {
	ID         ID
	CustomerID ID
	Maker      string
	Model      string
	Year       int // 0 unknown
	Serial     string
	Tag        string // the workshop's own tag
	Sheet      string // id of the data sheet, catalog
	Note       string
	Created    time.Time
}

// Label is the short name of a fork on screens: maker, model and year.
func (f Fork) Label() string {
	s := f.Maker
	if f.Model != "" {
		if s != "" {
			s += " "
		}
		s += f.Model
	}
	if f.Year > 0 {
		s += " " + strconv.Itoa(f.Year)
	}
	if s == "" {
		return "unnamed fork"
	}
	return s
}

// Claim is one statement of how many hours a fork has been ridden since it was
// new, in hours. Claims are a list: the newest of the best source counts, none
// is ever overwritten.
type Claim struct {
	ID      ID
	ForkID  ID
	VisitID ID
	Hours   float64 // since new; at least that many where AtLeast
	U       float64 // standard uncertainty, hours
	AtLeast bool    // the age before the first visit is not known
	Source  string  // "typed", "computer", "weekly use", "estimated"
	Detail  string  // what was asked and answered
	By      string
	At      time.Time
}
