package shop

import (
	"context"

	"forkwear/inspect"
)

// Mark keeps a mark over a photo and returns it as it is kept.
func (d *Desk) Mark(ctx context.Context, m inspect.Mark) (inspect.Mark, error) {
	m.ID, m.By, m.At, m.Gone = d.NewID(), d.Who(), d.Clock(), false
	if err := m.Validate(); err != nil {
		return m, err
	}
	return m, d.Lib.AddMark(ctx, m)
}

// Unmark takes a mark off its photo.
func (d *Desk) Unmark(ctx context.Context, id inspect.ID) error { return d.Lib.TakeMarkOff(ctx, id) }

// MarkAgain puts a mark back that was taken off.
func (d *Desk) MarkAgain(ctx context.Context, id inspect.ID) error {
	return d.Lib.PutMarkBack(ctx, id)
}

// Marks are the marks on photos, by photo, oldest first.
func (d *Desk) Marks(ctx context.Context, photos ...inspect.ID) (map[inspect.ID][]inspect.Mark, error) {
	all, err := d.Lib.Marks(ctx, photos...)
	if err != nil {
		return nil, err
	}
	out := map[inspect.ID][]inspect.Mark{}
	for _, m := range all {
		out[m.PhotoID] = append(out[m.PhotoID], m)
	}
	return out, nil
}
