package screentest

import (
	"context"
	"slices"
	"sort"
	"time"

	"forkwear/inspect"
)

// openPhoto says why a photo can't be written to, or nil.
func (l *Library) openPhoto(p inspect.Photo) error {
	if p.VisitID != "" {
		_, err := l.open(p.VisitID)
		return err
	}
	if p.Check != "" || p.FittingID != "" {
		return inspect.Refuse(inspect.Invalid, "the photo %s has no visit yet: file it with one before it goes to a check", p.FileName)
	}
	return l.Refuse
}

// AddPhoto implements inspect.Library.
func (l *Library) AddPhoto(_ context.Context, p inspect.Photo) (existed bool, err error) {
	defer l.lock()()
	if err := l.openPhoto(p); err != nil {
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

// PlacePhoto implements inspect.Library.
func (l *Library) PlacePhoto(_ context.Context, p inspect.Photo) error {
	defer l.lock()()
	old, err := one(l.photos, "photo", func(o inspect.Photo) bool { return o.ID == p.ID })
	if err != nil {
		return err
	}
	p.VisitID = old.VisitID
	if err := l.openPhoto(p); err != nil {
		return err
	}
	old.Check, old.Leg, old.Stage, old.FittingID, old.Role = p.Check, p.Leg, p.Stage, p.FittingID, p.Role
	l.photos = put(l.photos, old, func(o inspect.Photo) bool { return o.ID == p.ID })
	return nil
}

// Photos implements inspect.Library.
func (l *Library) Photos(_ context.Context, f inspect.PhotoFilter) ([]inspect.Photo, error) {
	defer l.lock()()
	return those(l.photos, func(p inspect.Photo) bool {
		return (f.VisitID == "" || p.VisitID == f.VisitID) && (f.ForkID == "" || l.forkOf(p.VisitID) == f.ForkID) &&
			(f.Check == "" || p.Check == f.Check) && (!f.Tray || p.Check == "" && p.Role == "") &&
			(!f.Unsorted || p.VisitID == "") && (!f.Fingerprint || p.Fingerprint != "") && (f.SHA256 == "" || p.SHA256 == f.SHA256)
	}), nil
}

// FilePhoto implements inspect.Library.
func (l *Library) FilePhoto(_ context.Context, photo, visit inspect.ID) (existed bool, err error) {
	defer l.lock()()
	p, err := l.photo(photo)
	if err != nil {
		return false, err
	}
	if _, err := l.open(visit); err != nil {
		return false, err
	}
	if p.VisitID != "" {
		return false, inspect.Refuse(inspect.Conflict, "the photo %s is filed with a visit already: it stays there", p.FileName)
	}
	for _, o := range l.photos {
		if o.VisitID == visit && o.SHA256 == p.SHA256 {
			l.merge(p.ID, o.ID)
			return true, nil
		}
	}
	p.VisitID = visit
	l.photos = put(l.photos, p, func(o inspect.Photo) bool { return o.ID == photo })
	return false, nil
}

// UnfilePhoto implements inspect.Library.
func (l *Library) UnfilePhoto(_ context.Context, photo inspect.ID) error {
	defer l.lock()()
	p, err := l.photo(photo)
	if err != nil {
		return err
	}
	if p.VisitID == "" {
		return inspect.Refuse(inspect.Conflict, "the photo %s is with no visit: there is nothing to take it out of", p.FileName)
	}
	if _, err := l.open(p.VisitID); err != nil {
		return err
	}
	for _, o := range l.photos {
		if o.VisitID == "" && o.SHA256 == p.SHA256 {
			l.merge(p.ID, o.ID)
			return nil
		}
	}
	p.VisitID, p.Check, p.Leg, p.Stage, p.FittingID, p.Role = "", "", "", "", "", ""
	l.photos = put(l.photos, p, func(o inspect.Photo) bool { return o.ID == photo })
	return nil
}

func (l *Library) merge(from, to inspect.ID) {
	for i := range l.marks {
		if l.marks[i].PhotoID == from {
			l.marks[i].PhotoID = to
		}
	}
	for i := range l.measures {
		if l.measures[i].PhotoID == from {
			l.measures[i].PhotoID = to
		}
	}
	l.photos = those(l.photos, func(o inspect.Photo) bool { return o.ID != from })
}

func (l *Library) photo(id inspect.ID) (inspect.Photo, error) {
	return one(l.photos, "photo", func(o inspect.Photo) bool { return o.ID == id })
}

// AddFocus implements inspect.Library.
func (l *Library) AddFocus(_ context.Context, f inspect.Focus) error {
	defer l.lock()()
	if err := f.Validate(); err != nil {
		return err
	}
	if _, err := l.open(f.VisitID); err != nil {
		return err
	}
	l.focuses = append(l.focuses, f)
	return nil
}

// Focuses implements inspect.Library.
func (l *Library) Focuses(_ context.Context, from, to time.Time) ([]inspect.Focus, error) {
	defer l.lock()()
	out := those(l.focuses, func(f inspect.Focus) bool { return !f.At.Before(from) && f.At.Before(to) })
	sort.SliceStable(out, func(i, j int) bool { return older(out[i].At, out[j].At, out[i].ID, out[j].ID) })
	return out, nil
}

func older(a, b time.Time, idA, idB inspect.ID) bool { return a.Before(b) || a.Equal(b) && idA < idB }

// AddClock implements inspect.Library.
func (l *Library) AddClock(_ context.Context, c inspect.CameraClock) error {
	defer l.lock()()
	if err := c.Validate(); err != nil {
		return err
	}
	if l.Refuse != nil {
		return l.Refuse
	}
	l.clocks = append(l.clocks, c)
	return nil
}

// Clocks implements inspect.Library.
func (l *Library) Clocks(context.Context) ([]inspect.CameraClock, error) {
	defer l.lock()()
	var out []inspect.CameraClock
	for _, c := range l.clocks {
		newest := true
		for _, o := range l.clocks {
			newest = newest && !(o.Camera == c.Camera && older(c.At, o.At, c.ID, o.ID))
		}
		if newest {
			out = append(out, c)
		}
	}
	sort.Slice(out, func(i, j int) bool { return out[i].Camera < out[j].Camera })
	return out, nil
}

// AddMark implements inspect.Library.
func (l *Library) AddMark(_ context.Context, m inspect.Mark) error {
	defer l.lock()()
	if err := m.Validate(); err != nil {
		return err
	}
	if err := l.onOpenPhoto(m.PhotoID); err != nil {
		return err
	}
	l.marks = append(l.marks, m)
	return nil
}

func (l *Library) onOpenPhoto(id inspect.ID) error {
	p, err := l.photo(id)
	if err != nil {
		return err
	}
	return l.openPhoto(p)
}

// TakeMarkOff implements inspect.Library.
func (l *Library) TakeMarkOff(_ context.Context, mark inspect.ID) error {
	return l.markGone(mark, true)
}

// PutMarkBack implements inspect.Library.
func (l *Library) PutMarkBack(_ context.Context, mark inspect.ID) error {
	return l.markGone(mark, false)
}

func (l *Library) markGone(id inspect.ID, gone bool) error {
	defer l.lock()()
	m, err := one(l.marks, "mark", func(m inspect.Mark) bool { return m.ID == id })
	if err != nil {
		return err
	}
	if err := l.onOpenPhoto(m.PhotoID); err != nil {
		return err
	}
	m.Gone = gone
	l.marks = put(l.marks, m, func(o inspect.Mark) bool { return o.ID == id })
	return nil
}

// Marks implements inspect.Library.
func (l *Library) Marks(_ context.Context, photos ...inspect.ID) ([]inspect.Mark, error) {
	defer l.lock()()
	out := those(l.marks, func(m inspect.Mark) bool { return !m.Gone && slices.Contains(photos, m.PhotoID) })
	sort.SliceStable(out, func(i, j int) bool { return older(out[i].At, out[j].At, out[i].ID, out[j].ID) })
	return out, nil
}

// AddPhotoMeasure implements inspect.Library.
func (l *Library) AddPhotoMeasure(_ context.Context, m inspect.PhotoMeasure) error {
	defer l.lock()()
	if err := m.Validate(); err != nil {
		return err
	}
	if err := l.onOpenPhoto(m.PhotoID); err != nil {
		return err
	}
	l.measures = append(l.measures, m)
	return nil
}

// TakeMeasureOff implements inspect.Library.
func (l *Library) TakeMeasureOff(_ context.Context, measure inspect.ID) error {
	defer l.lock()()
	m, err := one(l.measures, "size", func(m inspect.PhotoMeasure) bool { return m.ID == measure })
	if err != nil {
		return err
	}
	if err := l.onOpenPhoto(m.PhotoID); err != nil {
		return err
	}
	m.Gone = true
	l.measures = put(l.measures, m, func(o inspect.PhotoMeasure) bool { return o.ID == measure })
	return nil
}

// PhotoMeasures implements inspect.Library.
func (l *Library) PhotoMeasures(_ context.Context, photos ...inspect.ID) ([]inspect.PhotoMeasure, error) {
	defer l.lock()()
	out := those(l.measures, func(m inspect.PhotoMeasure) bool { return !m.Gone && slices.Contains(photos, m.PhotoID) })
	sort.SliceStable(out, func(i, j int) bool { return older(out[i].At, out[j].At, out[i].ID, out[j].ID) })
	return out, nil
}
