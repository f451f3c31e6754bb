package sample

import (
	"context"
	"fmt"
	"time"

	"forkwear/inspect"
)

// fillTray leaves some photos of which nobody knows the fork yet: one of the
// shop's clock, from which the second camera's own is learned, one that was not
// held still, a seal, and a picture that was filed before and saved anew.
func (f *Filler) fillTray(ctx context.Context) error {
	place := hash(fmt.Sprint("tray", f.Seed))
	shots := []shot{
		{of: ofClock, camera: 1, at: f.Until.Add(-26 * time.Hour)},
		{of: ofSeal, camera: 2, at: f.Until.Add(-3 * time.Hour), wear: wear{grade: 3}, place: place},
		{of: ofTube, camera: 2, at: f.Until.Add(-178 * time.Minute), wear: wear{grade: 2, place: place}, place: place, blurred: true},
	}
	if f.last != nil {
		again := *f.last
		again.camera, again.rough, again.at = 2, 58, f.Until.Add(-2*time.Hour)
		shots = append(shots, again)
	}
	var wishes []*wish
	for i, s := range shots {
		if s.diameter <= 0 {
			s.diameter = 36
		}
		if s.visit == 0 {
			s.visit = uint64(900 + i)
		}
		s.name = fmt.Sprintf("tray-%d.jpg", i+1)
		f.now = s.at
		wishes = append(wishes, f.ask(ctx, s, inspect.Photo{}, ""))
	}
	f.now = f.Until
	for i, w := range wishes {
		p, err := w.wait()
		if err != nil {
			return err
		}
		p.CardCode, p.Card = "", nil // a picture saved anew lost its card to the squeezing
		p.Usable, p.Remarks = w.photo.Usable || !w.shot.blurred, w.photo.Remarks
		if _, err := f.desk.Receive(ctx, []inspect.Photo{p}); err != nil {
			return err
		}
		if i > 0 {
			continue
		}
		ps, err := f.desk.Unsorted(ctx)
		if err != nil {
			return err
		}
		for _, clock := range ps {
			if clock.SHA256 == p.SHA256 {
				if _, err := f.desk.LearnClock(ctx, clock, w.shot.at.Truncate(time.Minute)); err != nil {
					return err
				}
			}
		}
	}
	return nil
}
