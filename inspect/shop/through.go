package shop

import "forkwear/inspect"

// OnVisit is a photo with the visit that it was taken at.
type OnVisit struct {
	Photo inspect.Photo
	Visit inspect.VisitRow
}

// Through are all photos of a check at a leg through the visits of the fork up
// to this one, oldest visit first and inside a visit as they were added. A
// photo of the whole fork shows either leg.
func (c *Case) Through(check string, leg inspect.Leg) []OnVisit {
	var out []OnVisit
	from := func(ps []inspect.Photo, row inspect.VisitRow) {
		for _, p := range ps {
			if p.Check == check && (p.Leg == leg || p.Leg == inspect.Whole) {
				out = append(out, OnVisit{p, row})
			}
		}
	}
	for i := len(c.Earlier) - 1; i >= 0; i-- {
		from(c.Earlier[i].Photos, c.Earlier[i].Row)
	}
	from(c.Photos, inspect.VisitRow{Visit: c.Visit, Fork: c.Fork, Customer: c.Customer, Hours: c.Claim.Hours, HoursU: c.Claim.U})
	return out
}
