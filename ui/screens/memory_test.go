package screens_test

import (
	"context"
	"image"
	"maps"
	"os"
	"runtime"
	"slices"
	"testing"
	"time"
	_ "unsafe" // for go:linkname

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"

	"forkwear/inspect"
	"forkwear/ui/place"
	"forkwear/ui/screens"
	"forkwear/ui/screens/screentest"
	"forkwear/ui/window"
)

// The toolkit keeps what draws a widget for a minute after it was last seen, and
// throws old ones away every ten seconds at most. A test that waited for that
// would take minutes, so it turns both clocks.
//
//go:linkname cacheFor fyne.io/fyne/v2/internal/cache.ValidDuration
var cacheFor time.Duration

//go:linkname cacheCleaned fyne.io/fyne/v2/internal/cache.lastClean
var cacheCleaned time.Time

// shopWindow is the whole window on a library in memory with a visit in work.
type shopWindow struct {
	env   *place.Env
	frame *window.Frame
	where map[place.Name]place.Where
	small test.WindowlessCanvas // drawn to let the toolkit throw old things away
}

func newShopWindow(t testing.TB, openers map[place.Name]window.Opener) *shopWindow {
	t.Helper()
	was := cacheFor
	cacheFor = 0
	t.Cleanup(func() { cacheFor = was })
	env := screentest.Env(t)
	visit := screentest.Decided(t, env)
	c := screentest.Open(t, env, visit)
	w := &shopWindow{env: env, where: map[place.Name]place.Where{}, small: test.NewCanvas()}
	w.small.Resize(fyne.NewSize(4, 4))
	var photo inspect.ID
	for _, p := range c.Photos {
		photo = p.ID
	}
	for name := range openers {
		w.where[name] = place.Where{Name: name, Visit: visit, Fork: c.Fork.ID, Check: "seals.weep", Leg: inspect.Left, Photo: photo}
	}
	w.where[place.DropOff] = place.Where{Name: place.DropOff}
	env.Window.Resize(fyne.NewSize(1280, 800))
	w.frame = window.New(env.Window, env, openers)
	env.Run.Wait()
	return w
}

// open goes to a place and waits until all that it loads is there.
func (w *shopWindow) open(name place.Name) {
	w.frame.Go(w.where[name])
	w.settle()
}

func (w *shopWindow) settle() {
	for range 4 { // what is loaded starts the next loading
		w.env.Run.Wait()
	}
}

// inUse is the heap in use once all that can go is gone, in bytes.
func (w *shopWindow) inUse() int64 {
	cacheCleaned = time.Time{}
	w.small.Capture()
	var m runtime.MemStats
	for range 3 {
		runtime.GC()
		time.Sleep(2 * time.Millisecond) // lets finalizers run
	}
	runtime.ReadMemStats(&m)
	return int64(m.HeapAlloc)
}

// smallPhotos gives photos a quarter as wide, so that laying them upon each
// other does not take the time of the test; a photo that is never let go is
// still some 100 kB.
type smallPhotos struct{ screentest.Pictures }

func (p smallPhotos) Preview(ctx context.Context, sum string, px int) (image.Image, error) {
	return p.Pictures.Preview(ctx, sum, min(px, 240))
}

// places are the names of all places, in order.
func places(openers map[place.Name]window.Opener) []place.Name {
	return slices.Sorted(maps.Keys(openers))
}

// rounds are after how many openings the heap is measured, and how much it may
// grow at each opening in between. A screen that stays with its widgets takes
// 100 kB and more. 50 and 200 openings, where FORKWEAR_MEMORY is set, take
// minutes; after few openings what is made once still weighs.
func rounds() (first, last int, most int64) {
	if os.Getenv("FORKWEAR_MEMORY") != "" {
		return 50, 200, 8 << 10
	}
	return 2, 5, 48 << 10
}

// grown opens and leaves a place over and over; it is the growth of the heap in
// bytes for each opening between the first and the last measure.
func (w *shopWindow) grown(t testing.TB, name, away place.Name) int64 {
	t.Helper()
	first, last, _ := rounds()
	var at int64
	for i := range last {
		w.open(name)
		if w.frame.Where().Name != name {
			t.Fatalf("%s does not open", name)
		}
		w.open(away)
		if i == first-1 {
			at = w.inUse()
		}
	}
	return (w.inUse() - at) / int64(last-first)
}

func TestOpeningAndClosingKeepsNothing(t *testing.T) {
	openers := screens.Openers()
	w := newShopWindow(t, openers)
	w.env.Photos = smallPhotos{}
	for _, name := range places(openers) { // what is made once, such as fonts, is made before
		w.open(name)
	}
	away := place.Due
	w.open(away)
	_, _, most := rounds()
	before := runtime.NumGoroutine()
	for _, name := range places(openers) {
		if name == away {
			away = place.Forks // a place is left for another
		}
		g := w.grown(t, name, away)
		t.Logf("%-10s grows by %6.2f kB an opening", name, float64(g)/1024)
		if g > most {
			t.Errorf("%s keeps %d kB at each opening, at most %d kB are noise", name, g>>10, most>>10)
		}
		away = place.Due
	}
	for range 100 { // those that are ending may end
		if runtime.NumGoroutine() <= before {
			return
		}
		time.Sleep(10 * time.Millisecond)
	}
	t.Errorf("%d goroutines run, %d did before", runtime.NumGoroutine(), before)
}

// The measure must find a screen that is never let go.
func TestALeakingScreenIsFound(t *testing.T) {
	openers := screens.Openers()
	var kept []place.Screen
	sums := openers[place.Sums]
	openers[place.Sums] = func(env *place.Env, where place.Where) place.Screen {
		s := sums(env, where)
		kept = append(kept, s)
		return s
	}
	w := newShopWindow(t, openers)
	w.open(place.Sums)
	w.open(place.Due)
	g := w.grown(t, place.Sums, place.Due)
	t.Logf("a kept screen grows by %d kB an opening", g>>10)
	if _, _, most := rounds(); g <= most {
		t.Errorf("%d screens are kept, but only %d bytes of each are found", len(kept), g)
	}
	runtime.KeepAlive(kept)
}

// BenchmarkOpening tells for each place how long opening takes until all is
// loaded (ns/op), how long until its frame stands (window-ms; what is built of
// the answers comes on top, so that ns/op is the most that the window waits), and
// how much heap the open place takes (MB-held).
func BenchmarkOpening(b *testing.B) {
	openers := screens.Openers()
	for _, name := range places(openers) {
		b.Run(string(name), func(b *testing.B) {
			w := newShopWindow(b, openers)
			away := place.Due
			if name == away {
				away = place.Forks
			}
			w.open(name)
			w.open(away)
			free := w.inUse()
			w.open(name)
			held := w.inUse() - free
			var holds time.Duration
			b.ResetTimer()
			for range b.N {
				b.StopTimer()
				w.open(away)
				b.StartTimer()
				start := time.Now()
				w.frame.Go(w.where[name])
				holds += time.Since(start)
				w.settle()
			}
			b.ReportMetric(float64(holds.Microseconds())/1000/float64(b.N), "window-ms")
			b.ReportMetric(float64(held)/(1<<20), "MB-held")
		})
	}
}
