package draw

import (
	"image"
	"image/draw"
	"image/png"
	"os"
	"testing"

	"forkwear/ui/theme/tokens"
)

// sampleStates shows every mark once.
func sampleStates() States {
	return States{
		{Stanchions, Left}:  {Mark: Replace, Count: 2},
		{Stanchions, Right}: {Mark: Reuse},
		{Seals, Left}:       {Mark: Replace, Count: 1},
		{Seals, Right}:      {Mark: Replace, Count: 1},
		{Bushings, Left}:    {Mark: Measure, Count: 3},
		{Bushings, Right}:   {Mark: Reuse, Count: 4},
		{Spring, Left}:      {Mark: Reuse, Count: 6},
		{Damper, Right}:     {Mark: Missing, Done: 4, Of: 9},
		{Lowers, Left}:      {Mark: Reuse, Count: 3},
		{ID: Crown}:         {Mark: DoNotRide, Count: 1},
		{Controls, Right}:   {Mark: Missing, Done: 0, Of: 3},
		{Fasteners, Right}:  {Mark: Measure},
	}
}

// TestContactSheet writes a sheet to look at into the folder that
// FORKWEAR_SHEET names; without it there is nothing to do.
func TestContactSheet(t *testing.T) {
	dir := os.Getenv("FORKWEAR_SHEET")
	if dir == "" {
		t.Skip("set FORKWEAR_SHEET to a folder to get the sheet")
	}
	for _, dark := range []bool{false, true} {
		o := DefaultOptions(dark)
		sheet := image.NewRGBA(image.Rect(0, 0, 1500, 960))
		draw.Draw(sheet, sheet.Bounds(), image.NewUniform(tokens.For(dark).Paper), image.Point{}, draw.Src)
		lay := func(x, y, w, h int, o Options, s States) {
			draw.Draw(sheet, image.Rect(x, y, x+w, y+h), Paint(w, h, s, o), image.Point{}, draw.Src)
		}
		lay(0, 10, 430, 900, o, sampleStates())
		st := o
		st.View = Stripped
		lay(430, 10, 640, 900, st, sampleStates())
		lay(1080, 10, 130, 240, o, sampleStates())
		st.LeftInside, st.RightInside = Coil, AirAndDamper
		lay(1220, 10, 280, 400, st, nil)
		d := o
		d.DoubleCrown = true
		d.Focus = &Zone{Stanchions, Right}
		lay(1080, 420, 200, 400, d, nil)
		d.PixelRatio = 2
		d.Selected = &Zone{Seals, Left}
		lay(1280, 420, 220, 480, d, sampleStates())
		name := dir + "/fork-light.png"
		if dark {
			name = dir + "/fork-dark.png"
		}
		f, err := os.Create(name)
		if err != nil {
			t.Fatal(err)
		}
		if err := png.Encode(f, sheet); err != nil {
			t.Fatal(err)
		}
		f.Close()
	}
}
