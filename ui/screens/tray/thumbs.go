package tray

import (
	"container/list"
	"context"
	"image"
	"image/draw"

	xdraw "golang.org/x/image/draw"

	"forkwear/ui/place"
)

const (
	thumbPixels = 320      // longer side of a kept thumb
	keptBytes   = 40 << 20 // of all kept thumbs: about 130 of them, six windows full
	fetchers    = 2        // thumbs that are fetched at a time
)

// thumbs fetches the pixels of the cells in sight, the first first, and keeps
// the newest. What goes out of sight is not fetched any more.
type thumbs struct {
	s       *Screen
	kept    map[string]*list.Element
	order   *list.List // of thumb, newest first
	bytes   int
	wanted  []shot
	running map[string]func() // cancels
	failed  map[string]bool
	fetched int // how many came, for tests
}

type thumb struct {
	key string
	img image.Image
}

func newThumbs(s *Screen) *thumbs {
	return &thumbs{s: s, kept: map[string]*list.Element{}, order: list.New(), running: map[string]func(){}, failed: map[string]bool{}}
}

// get gives pixels that are kept; nil else.
func (t *thumbs) get(key string) image.Image {
	e := t.kept[key]
	if e == nil {
		return nil
	}
	t.order.MoveToFront(e)
	return e.Value.(thumb).img
}

// want says what is in sight now.
func (t *thumbs) want(shots []shot) {
	t.wanted = shots
	inSight := map[string]bool{}
	for _, s := range shots {
		inSight[s.key] = true
	}
	for key, stop := range t.running {
		if !inSight[key] {
			stop()
			delete(t.running, key)
		}
	}
	t.fetch()
}

// fetch starts what is wanted and not there.
func (t *thumbs) fetch() {
	for _, s := range t.wanted {
		if len(t.running) >= fetchers {
			return
		}
		if t.kept[s.key] != nil || t.running[s.key] != nil || t.failed[s.key] {
			continue
		}
		t.start(s)
	}
}

func (t *thumbs) start(s shot) {
	var mine context.Context
	gone := false
	t.running[s.key] = func() { gone = true }
	stop := later(t.s, func(ctx context.Context) (image.Image, error) {
		mine = ctx
		return pixels(ctx, t.s.env.Photos, s)
	}, func(img image.Image, err error) {
		if gone { // it went out of sight meanwhile
			if err == nil && img != nil {
				t.keep(s.key, img)
			}
			return
		}
		delete(t.running, s.key)
		switch {
		case err != nil && mine.Err() == nil, err == nil && img == nil:
			t.failed[s.key] = true
		case err == nil:
			t.keep(s.key, img)
		}
		t.s.grid.thumbCame(s.key)
		t.fetch()
	})
	t.running[s.key] = func() { gone = true; stop() }
}

func (t *thumbs) keep(key string, img image.Image) {
	t.fetched++
	if e := t.kept[key]; e != nil {
		t.drop(e)
	}
	t.kept[key] = t.order.PushFront(thumb{key, img})
	t.bytes += sizeOf(img)
	for t.bytes > keptBytes && t.order.Len() > 1 {
		t.drop(t.order.Back())
	}
}

func (t *thumbs) drop(e *list.Element) {
	x := t.order.Remove(e).(thumb)
	delete(t.kept, x.key)
	t.bytes -= sizeOf(x.img)
}

// clear stops all and lets the pixels go.
func (t *thumbs) clear() {
	t.want(nil)
	clear(t.kept)
	clear(t.failed)
	t.order.Init()
	t.bytes = 0
}

func sizeOf(img image.Image) int { return 4 * img.Bounds().Dx() * img.Bounds().Dy() }

// pixels makes a thumb in a worker; nil where a file has no picture of its own.
func pixels(ctx context.Context, photos place.Photos, s shot) (image.Image, error) {
	if photos == nil {
		return nil, nil
	}
	var img image.Image
	var err error
	if s.coming() {
		g, ok := photos.(place.GlancingPhotos)
		if !ok {
			return nil, nil
		}
		img, err = g.Quick(ctx, s.path)
	} else {
		img, err = photos.Preview(ctx, s.photo.SHA256, thumbPixels)
	}
	if err != nil || img == nil {
		return nil, err
	}
	return small(img), nil
}

// small makes a fresh picture of thumbPixels at most: the window takes it as it
// is, without scaling or copying on its own goroutine.
func small(img image.Image) image.Image {
	b := img.Bounds()
	if rgba, ok := img.(*image.RGBA); ok && max(b.Dx(), b.Dy()) <= thumbPixels && b.Min == (image.Point{}) {
		return rgba
	}
	w, h := b.Dx(), b.Dy()
	if k := max(w, h); k > thumbPixels {
		w, h = max(1, w*thumbPixels/k), max(1, h*thumbPixels/k)
	}
	out := image.NewRGBA(image.Rect(0, 0, w, h))
	xdraw.ApproxBiLinear.Scale(out, out.Rect, img, b, draw.Src, nil)
	return out
}
