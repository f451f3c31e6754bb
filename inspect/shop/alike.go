package shop

import (
	"context"

	"forkwear/inspect"
)

// sameBits is the most bits of 64 in which the fingerprints of one picture
// differ that was saved anew or made smaller; package media/alike has the same
// bound and the figures for it.
const sameBits = 6

// looksAlike tells whether two photos are likely one picture.
func (d *Desk) looksAlike(a, b inspect.Photo) bool {
	if d.Alike == nil || a.Fingerprint == "" || b.Fingerprint == "" || a.ID != "" && a.ID == b.ID {
		return false
	}
	n := d.Alike(a.Fingerprint, b.Fingerprint)
	return n >= 0 && n <= sameBits
}

// LooksLike are the photos of the whole library that look like this one, oldest
// first: the same picture saved anew, or last year's photo again.
func (d *Desk) LooksLike(ctx context.Context, p inspect.Photo) ([]inspect.Photo, error) {
	if d.Alike == nil || p.Fingerprint == "" {
		return nil, nil
	}
	all, err := d.Lib.Photos(ctx, inspect.PhotoFilter{Fingerprint: true})
	if err != nil {
		return nil, err
	}
	return d.alikeAmong(p, all), nil
}

func (d *Desk) alikeAmong(p inspect.Photo, all []inspect.Photo) []inspect.Photo {
	var out []inspect.Photo
	for _, o := range all {
		if d.looksAlike(p, o) {
			out = append(out, o)
		}
	}
	return out
}
