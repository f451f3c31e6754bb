package shop

import (
	"context"
	"fmt"
	"time"

	"forkwear/inspect"
)

// How a received photo found its visit.
const (
	ByCard   = "bench card"   // the code of the card in it
	ByFocus  = "focus"        // what was in front at the bench when it was taken
	ByTime   = "time"         // the only fork that was in the shop then
	Unsorted = "unsorted"     // it waits for a person
	Known    = "known before" // the same bytes lie with a visit already
)

// Received is what became of one photo that came from a watched folder or a card.
type Received struct {
	Photo   inspect.Photo
	Existed bool // the same bytes were in the library
	Visit   inspect.ID
	Ticket  int
	How     string
	Why     string          // why it is unsorted, a sentence
	Like    []inspect.Photo // photos that it looks like
}

// Receive keeps photos that came without a person and files each with the visit
// that its bench card names, else with the check that was in front when it was
// taken, else with the only fork that was in the shop then; else it lies
// unsorted. Only the camera's own date files a photo, never the file's. A
// visit that has been collected since takes no photo. After an error what was
// kept so far is returned with it.
func (d *Desk) Receive(ctx context.Context, ps []inspect.Photo) ([]Received, error) {
	r := &receiver{Desk: d, cases: map[inspect.ID]*Case{}}
	var err error
	if r.clocks, err = d.Lib.Clocks(ctx); err != nil {
		return nil, err
	}
	if d.Alike != nil {
		if r.printed, err = d.Lib.Photos(ctx, inspect.PhotoFilter{Fingerprint: true}); err != nil {
			return nil, err
		}
	}
	var out []Received
	for _, p := range ps {
		if err := ctx.Err(); err != nil {
			return out, err
		}
		got, err := r.receive(ctx, p)
		if err != nil {
			return out, fmt.Errorf("%s could not be filed: %w", named(p), err)
		}
		out = append(out, got)
	}
	return out, nil
}

// SortAgain tries all unsorted photos anew, after a camera's clock was set.
func (d *Desk) SortAgain(ctx context.Context) ([]Received, error) {
	ps, err := d.Unsorted(ctx)
	if err != nil {
		return nil, err
	}
	return d.Receive(ctx, ps)
}

// Unsorted are the photos that wait for a person to say their visit, oldest first.
func (d *Desk) Unsorted(ctx context.Context) ([]inspect.Photo, error) {
	return d.Lib.Photos(ctx, inspect.PhotoFilter{Unsorted: true})
}

// File gives an unsorted photo to an open visit, where it lies in the tray.
// Where the same bytes lie there already, the one copy stays.
func (d *Desk) File(ctx context.Context, photo, visit inspect.ID) error {
	_, err := d.Lib.FilePhoto(ctx, photo, visit)
	return err
}

// Unfile takes a photo out of its open visit, back into the tray of no visit.
func (d *Desk) Unfile(ctx context.Context, photo inspect.ID) error {
	return d.Lib.UnfilePhoto(ctx, photo)
}

// receiver is one call of Receive: what it loads once for all its photos.
type receiver struct {
	*Desk
	clocks  []inspect.CameraClock
	printed []inspect.Photo // those with a fingerprint
	visits  []inspect.VisitRow
	loaded  bool // visits are
	cases   map[inspect.ID]*Case
}

// found is where a photo belongs.
type found struct {
	visit inspect.Visit
	focus inspect.Focus // without a check where only the visit is known
	how   string
	why   string
}

func (r *receiver) unsorted(format string, args ...any) found {
	return found{how: Unsorted, why: r.Catalog.Tongue.Sayf(format, args...)}
}

func (r *receiver) receive(ctx context.Context, p inspect.Photo) (Received, error) {
	old, err := r.Lib.Photos(ctx, inspect.PhotoFilter{SHA256: p.SHA256})
	if err != nil {
		return Received{}, err
	}
	for _, o := range old {
		if o.VisitID != "" { // a person or an earlier day filed it: it stays there
			v, err := r.Lib.Visit(ctx, o.VisitID)
			return Received{Photo: o, Existed: true, Visit: v.ID, Ticket: v.Ticket, How: Known}, err
		}
	}
	at, err := r.find(ctx, p)
	if err != nil {
		return Received{}, err
	}
	got := Received{Existed: len(old) > 0, Visit: at.visit.ID, Ticket: at.visit.Ticket, How: at.how, Why: at.why}
	if got.Existed {
		got.Photo, err = r.refile(ctx, old[0], at)
	} else {
		got.Photo, err = r.keep(ctx, p, at)
	}
	if inspect.CodeOf(err) == inspect.Locked && at.how != Unsorted { // collected this moment
		at = r.tooLate(at.visit)
		got.Visit, got.Ticket, got.How, got.Why = "", 0, at.how, at.why
		if got.Photo, err = p, nil; got.Existed {
			got.Photo = old[0]
		} else {
			got.Photo, err = r.keep(ctx, p, at)
		}
	}
	if err != nil {
		return got, err
	}
	if got.Like = r.alikeAmong(got.Photo, r.printed); !got.Existed && got.Photo.Fingerprint != "" {
		r.printed = append(r.printed, got.Photo)
	}
	return got, nil
}

// keep adds a photo where it belongs.
func (r *receiver) keep(ctx context.Context, p inspect.Photo, at found) (inspect.Photo, error) {
	p.ID, p.AddedBy, p.AddedAt = r.NewID(), r.Who(), r.Clock()
	p.VisitID, p.Check, p.Leg, p.Stage, p.FittingID, p.Role = at.visit.ID, "", inspect.Whole, "", "", ""
	r.put(ctx, &p, at)
	_, err := r.Lib.AddPhoto(ctx, p)
	return p, err
}

// refile gives a photo that lay unsorted to its visit, where that is known now.
func (r *receiver) refile(ctx context.Context, p inspect.Photo, at found) (inspect.Photo, error) {
	if at.how == Unsorted {
		return p, nil
	}
	if _, err := r.Lib.FilePhoto(ctx, p.ID, at.visit.ID); err != nil {
		return p, err
	}
	p.VisitID = at.visit.ID
	r.put(ctx, &p, at)
	return p, r.Lib.PlacePhoto(ctx, p)
}

// put places a photo at the check that was in front. Where the case can't be
// opened (a data sheet that is gone) it lies in the tray of its visit.
func (r *receiver) put(ctx context.Context, p *inspect.Photo, at found) {
	if _, ok := r.Catalog.Check(at.focus.Check); !ok {
		return
	}
	c := r.cases[at.visit.ID]
	if c == nil {
		var err error
		if c, err = r.Open(ctx, at.visit.ID); err != nil {
			return
		}
		r.cases[at.visit.ID] = c
	}
	p.Check, p.Leg, p.Stage = at.focus.Check, at.focus.Leg, at.focus.Stage
	r.place(c, p)
}

// find says where a photo belongs. A photo in the hour that the zone repeats is
// filed only where both instants say the same.
func (r *receiver) find(ctx context.Context, p inspect.Photo) (found, error) {
	var times []time.Time
	if p.HasCameraDate() {
		times = r.instants(p, correction(p, r.clocks))
	}
	if at, ok, err := r.byCard(ctx, p, times); ok || err != nil {
		return at, err
	}
	switch {
	case !p.HasCameraDate():
		return r.unsorted("It has no camera date, and the time of the file says nothing of when it was taken."), nil
	case len(times) == 0:
		return r.unsorted("It does not say its time zone: choose the shop's time zone in the settings."), nil
	case times[0].After(r.Clock().Add(clockSlack)):
		return r.unsorted("It is dated %s, which has not come yet: set the clock of the camera.", dayTime(times[0])), nil
	}
	at, err := r.byTime(ctx, times[0])
	if err != nil {
		return at, err
	}
	for _, t := range times[1:] {
		other, err := r.byTime(ctx, t)
		if err != nil {
			return at, err
		}
		if other.visit.ID != at.visit.ID || other.focus.ID != at.focus.ID {
			return r.unsorted("The clocks were put back in that hour, and its two readings belong to different work."), nil
		}
	}
	return at, nil
}

// byCard goes by the bench card in the photo. The check is the one that was in
// front, where that was of the same visit.
func (r *receiver) byCard(ctx context.Context, p inspect.Photo, times []time.Time) (found, bool, error) {
	if p.CardCode == "" {
		return found{}, false, nil
	}
	visit, ok := inspect.ID(p.CardCode), true
	if r.CardVisit != nil {
		visit, ok = r.CardVisit(p.CardCode)
	}
	if !ok {
		return found{}, false, nil
	}
	v, err := r.Lib.Visit(ctx, visit)
	switch {
	case inspect.CodeOf(err) == inspect.NotFound: // a card of another shop
		return found{}, false, nil
	case err != nil:
		return found{}, false, err
	case v.Closed():
		return r.tooLate(v), true, nil
	}
	at := found{visit: v, how: ByCard}
	if len(times) == 1 {
		if f, ok, err := r.inFront(ctx, times[0]); err != nil {
			return at, true, err
		} else if ok && f.VisitID == v.ID {
			at.focus = f
		}
	}
	return at, true, nil
}

func (r *receiver) tooLate(v inspect.Visit) found {
	return r.unsorted("It belongs to ticket %d, which was collected on %s: its record is locked.", v.Ticket, v.Collected.Format("2 January 2006"))
}

// byTime goes by the instant: what was in front, else the only visit.
func (r *receiver) byTime(ctx context.Context, t time.Time) (found, error) {
	f, ok, err := r.inFront(ctx, t)
	if err != nil {
		return found{}, err
	}
	if ok {
		v, err := r.Lib.Visit(ctx, f.VisitID)
		if err != nil {
			return found{}, err
		}
		if !v.Closed() {
			return found{visit: v, focus: f, how: ByFocus}, nil
		}
		if t.Before(v.Collected) {
			return r.tooLate(v), nil
		}
	}
	if !r.loaded {
		if r.visits, err = r.Lib.Visits(ctx, inspect.VisitFilter{}); err != nil {
			return found{}, err
		}
		r.loaded = true
	}
	var here []inspect.Visit
	for _, row := range r.visits {
		if v := row.Visit; !t.Before(v.DroppedOff) && (!v.Closed() || t.Before(v.Collected)) {
			here = append(here, v)
		}
	}
	switch {
	case len(here) == 0:
		return r.unsorted("No fork was in the shop on %s.", dayTime(t)), nil
	case len(here) > 1:
		return r.unsorted("%d forks were in the shop on %s, and none of them was in front.", len(here), dayTime(t)), nil
	case here[0].Closed():
		return r.tooLate(here[0]), nil
	}
	return found{visit: here[0], how: ByTime}, nil
}
