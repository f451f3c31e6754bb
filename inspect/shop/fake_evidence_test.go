package shop

import (
	"context"
	"slices"
	"sort"
	"time"

	"forkwear/inspect"
)

// evidence is what the fake library holds of photos.
type evidence struct {
	photos   []inspect.Photo
	focuses  []inspect.Focus
	clocks   []inspect.CameraClock
	marks    []inspect.Mark
	measures []inspect.PhotoMeasure
	refuse   error // what AddPhotoMeasure and AddFocus answer, where it is set
}

// openAt refuses a collected visit; "" is open.
func (l *fake) openAt(id inspect.ID) error {
	for _, v := range l.visits {
		if v.ID == id && v.Closed() {
			return inspect.Refuse(inspect.Locked, "ticket %d is collected", v.Ticket)
		}
	}
	return nil
}

func (l *fake) AddPhoto(_ context.Context, p inspect.Photo) (bool, error) {
	defer l.lock()()
	if err := l.openAt(p.VisitID); err != nil {
		return false, err
	}
	for _, o := range l.photos {
		if o.VisitID == p.VisitID && o.SHA256 == p.SHA256 {
			return true, nil
		}
	}
	l.photos = append(l.photos, p)
	return false, nil
}

func (l *fake) PlacePhoto(_ context.Context, p inspect.Photo) error {
	defer l.lock()()
	for i := range l.photos {
		if o := &l.photos[i]; o.ID == p.ID {
			o.Check, o.Leg, o.Stage, o.FittingID, o.Role = p.Check, p.Leg, p.Stage, p.FittingID, p.Role
		}
	}
	return nil
}

func (l *fake) FilePhoto(_ context.Context, photo, visit inspect.ID) (bool, error) {
	defer l.lock()()
	if err := l.openAt(visit); err != nil {
		return false, err
	}
	for i := range l.photos {
		if l.photos[i].ID == photo {
			l.photos[i].VisitID = visit
		}
	}
	return false, nil
}

func (l *fake) UnfilePhoto(_ context.Context, photo inspect.ID) error {
	defer l.lock()()
	for i := range l.photos {
		if p := &l.photos[i]; p.ID == photo {
			p.VisitID, p.Check, p.Leg, p.Stage, p.FittingID, p.Role = "", "", "", "", "", ""
		}
	}
	return nil
}

func (l *fake) Photos(_ context.Context, f inspect.PhotoFilter) (out []inspect.Photo, _ error) {
	defer l.lock()()
	of := map[inspect.ID]inspect.ID{}
	for _, v := range l.visits {
		of[v.ID] = v.ForkID
	}
	for _, p := range l.photos {
		if (f.VisitID == "" || p.VisitID == f.VisitID) && (f.ForkID == "" || of[p.VisitID] == f.ForkID) && (f.SHA256 == "" || p.SHA256 == f.SHA256) &&
			(!f.Unsorted || p.VisitID == "") && (!f.Fingerprint || p.Fingerprint != "") {
			out = append(out, p)
		}
	}
	return out, nil
}

func (l *fake) AddFocus(_ context.Context, f inspect.Focus) error {
	defer l.lock()()
	if l.refuse != nil {
		return l.refuse
	}
	l.focuses = append(l.focuses, f)
	return f.Validate()
}

func (l *fake) Focuses(_ context.Context, from, to time.Time) (out []inspect.Focus, _ error) {
	defer l.lock()()
	for _, f := range l.focuses {
		if !f.At.Before(from) && f.At.Before(to) {
			out = append(out, f)
		}
	}
	sort.SliceStable(out, func(i, j int) bool { return out[i].At.Before(out[j].At) })
	return out, nil
}

func (l *fake) AddClock(_ context.Context, c inspect.CameraClock) error {
	defer l.lock()()
	l.clocks = append(l.clocks, c)
	return c.Validate()
}

func (l *fake) Clocks(context.Context) ([]inspect.CameraClock, error) {
	defer l.lock()()
	newest := map[string]inspect.CameraClock{}
	for _, c := range l.clocks {
		if !c.At.Before(newest[c.Camera].At) {
			newest[c.Camera] = c
		}
	}
	var out []inspect.CameraClock
	for _, c := range newest {
		out = append(out, c)
	}
	return out, nil
}

func (l *fake) AddMark(_ context.Context, m inspect.Mark) error {
	defer l.lock()()
	l.marks = append(l.marks, m)
	return nil
}

func (l *fake) setGone(id inspect.ID, gone bool) error {
	defer l.lock()()
	for i := range l.marks {
		if l.marks[i].ID == id {
			l.marks[i].Gone = gone
		}
	}
	for i := range l.measures {
		if l.measures[i].ID == id {
			l.measures[i].Gone = gone
		}
	}
	return nil
}

func (l *fake) TakeMarkOff(_ context.Context, id inspect.ID) error    { return l.setGone(id, true) }
func (l *fake) PutMarkBack(_ context.Context, id inspect.ID) error    { return l.setGone(id, false) }
func (l *fake) TakeMeasureOff(_ context.Context, id inspect.ID) error { return l.setGone(id, true) }

func (l *fake) Marks(_ context.Context, photos ...inspect.ID) (out []inspect.Mark, _ error) {
	defer l.lock()()
	for _, m := range l.marks {
		if !m.Gone && slices.Contains(photos, m.PhotoID) {
			out = append(out, m)
		}
	}
	return out, nil
}

func (l *fake) AddPhotoMeasure(_ context.Context, m inspect.PhotoMeasure) error {
	defer l.lock()()
	if l.refuse != nil {
		return l.refuse
	}
	l.measures = append(l.measures, m)
	return nil
}

func (l *fake) PhotoMeasures(_ context.Context, photos ...inspect.ID) (out []inspect.PhotoMeasure, _ error) {
	defer l.lock()()
	for _, m := range l.measures {
		if !m.Gone && slices.Contains(photos, m.PhotoID) {
			out = append(out, m)
		}
	}
	return out, nil
}
