package forkdraw

import (
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/test"

	"forkwear/ui/forkdraw/draw"
	"forkwear/ui/theme"
)

func newWindow(t *testing.T, f *ForkDrawing) fyne.Window {
	a := test.NewTempApp(t)
	a.Settings().SetTheme(theme.New())
	w := test.NewTempWindow(t, f)
	w.Resize(fyne.NewSize(400, 700))
	return w
}

func key(f *ForkDrawing, names ...fyne.KeyName) {
	for _, n := range names {
		f.TypedKey(&fyne.KeyEvent{Name: n})
	}
}

func TestKeyboardReachesAndPressesEveryZone(t *testing.T) {
	pressed := map[draw.Zone]int{}
	f := NewForkDrawing(func(z draw.Zone) { pressed[z]++ })
	w := newWindow(t, f)
	w.Canvas().Focus(f)
	zones := draw.Zones(f.options(1))
	for range zones {
		key(f, fyne.KeyReturn, fyne.KeyDown)
	}
	for _, z := range zones {
		if pressed[z] != 1 {
			t.Errorf("%v was pressed %d times, want once", z, pressed[z])
		}
	}
	key(f, fyne.KeyHome, fyne.KeyUp)
	if *f.cursor != zones[len(zones)-1] {
		t.Errorf("up from the first goes to %v", *f.cursor)
	}
}

func TestArrowsCrossToTheOtherLeg(t *testing.T) {
	f := NewForkDrawing(nil)
	newWindow(t, f)
	f.SetSelected(&draw.Zone{ID: draw.Seals, Side: draw.Left})
	key(f, fyne.KeyRight)
	if want := (draw.Zone{ID: draw.Seals, Side: draw.Right}); *f.cursor != want {
		t.Errorf("right of the left seals is %v", *f.cursor)
	}
	f.SetSelected(&draw.Zone{ID: draw.Spring, Side: draw.Left})
	key(f, fyne.KeyRight)
	if want := (draw.Zone{ID: draw.Damper, Side: draw.Right}); *f.cursor != want {
		t.Errorf("right of the spring is %v", *f.cursor)
	}
	key(f, fyne.KeyLeft)
	if want := (draw.Zone{ID: draw.Spring, Side: draw.Left}); *f.cursor != want {
		t.Errorf("left of the damper is %v", *f.cursor)
	}
}

func TestTapAndHoverNameTheZone(t *testing.T) {
	var tapped []draw.Zone
	over := map[draw.Zone]int{}
	f := NewForkDrawing(func(z draw.Zone) { tapped = append(tapped, z) })
	f.OnHover = func(z draw.Zone, in bool) {
		if in {
			over[z]++
		} else {
			over[z]--
		}
	}
	newWindow(t, f)
	z := draw.Zone{ID: draw.Stanchions, Side: draw.Right}
	s := f.Size()
	b := draw.Bounds(int(s.Width), int(s.Height), z, f.options(1))
	at := fyne.NewPos(float32(b.Min.X+b.Max.X)/2, float32(b.Min.Y+b.Max.Y*3)/4)
	f.Tapped(&fyne.PointEvent{Position: at})
	if len(tapped) != 1 || tapped[0] != z {
		t.Fatalf("tapping the right stanchion gave %v", tapped)
	}
	ev := &desktop.MouseEvent{PointEvent: fyne.PointEvent{Position: at}}
	f.MouseIn(ev)
	f.MouseMoved(ev)
	if over[z] != 1 || f.Cursor() != desktop.PointerCursor {
		t.Errorf("hover was told %d times", over[z])
	}
	f.MouseOut()
	if over[z] != 0 || f.hover != nil {
		t.Error("leaving the drawing was not told")
	}
	f.Tapped(&fyne.PointEvent{Position: fyne.NewPos(1, 1)})
	if len(tapped) != 1 {
		t.Error("the empty corner was taken for a zone")
	}
}

func TestMinSizeStaysInRange(t *testing.T) {
	f := NewForkDrawing(nil)
	newWindow(t, f)
	for _, c := range []struct{ set, want float32 }{{10, 240}, {400, 400}, {4000, 900}} {
		f.SetMinHeight(c.set)
		if got := f.MinSize().Height; got != c.want {
			t.Errorf("least height %v gave %v, want %v", c.set, got, c.want)
		}
	}
}

func TestStatesAreCopied(t *testing.T) {
	f := NewForkDrawing(nil)
	newWindow(t, f)
	s := draw.States{{ID: draw.Crown}: {Mark: draw.Reuse}}
	f.SetStates(s)
	s[draw.Zone{ID: draw.Crown}] = draw.State{Mark: draw.Replace}
	if f.states[draw.Zone{ID: draw.Crown}].Mark != draw.Reuse {
		t.Error("a later change of the caller's map reached the drawing")
	}
}
