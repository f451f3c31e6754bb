package inspection

import (
	"context"
	"fmt"
	"image"
	"slices"
)

// picture gives pixels at once where they are kept, else as soon as a worker
// has them.
func (s *Screen) picture(sum string, px int, done func(image.Image, error)) {
	p := &s.photos
	key := fmt.Sprintf("%s/%d", sum, px)
	if img, ok := p.pictures[key]; ok {
		done(img, nil)
		return
	}
	if s.env.Photos == nil {
		return
	}
	for i := range p.asks {
		if p.asks[i].key == key {
			p.asks[i].done = append(p.asks[i].done, done)
			return
		}
	}
	p.asks = append(p.asks, ask{key: key, sum: sum, px: px, done: []func(image.Image, error){done}})
	s.fetch()
}

// ask is a picture that is wanted: large ones are fetched before cells.
type ask struct {
	key, sum string
	px       int
	done     []func(image.Image, error)
	running  bool
}

// fetch gets one picture after the other, so that a full tray does not take all
// of the machine.
func (s *Screen) fetch() {
	p := &s.photos
	next := -1
	for i, a := range p.asks {
		if a.running {
			return
		}
		if next < 0 || a.px > p.asks[next].px {
			next = i
		}
	}
	if next < 0 {
		return
	}
	p.asks[next].running = true
	a := p.asks[next]
	later(s, func(ctx context.Context) (image.Image, error) {
		return s.env.Photos.Preview(ctx, a.sum, a.px)
	}, func(img image.Image, err error) { s.fetched(a.key, img, err) })
}

func (s *Screen) fetched(key string, img image.Image, err error) {
	p := &s.photos
	i := slices.IndexFunc(p.asks, func(a ask) bool { return a.key == key })
	a := p.asks[i]
	p.asks = slices.Delete(p.asks, i, i+1)
	if err == nil {
		if len(p.pictures) >= keptPictures {
			clear(p.pictures)
		}
		p.pictures[key] = img
	}
	for _, done := range a.done {
		done(img, err)
	}
	s.fetch()
}
