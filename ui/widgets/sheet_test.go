package widgets

import (
	"fmt"
	"image"
	"image/color"
	"image/png"
	"math"
	"os"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/driver/software"
	"fyne.io/fyne/v2/test"
	fynetheme "fyne.io/fyne/v2/theme"

	"forkwear/ui/forkdraw/draw"
	"forkwear/ui/theme"
)

// TestContactSheet writes all widgets to look at into the folder that
// FORKWEAR_SHEET names.
func TestContactSheet(t *testing.T) {
	dir := os.Getenv("FORKWEAR_SHEET")
	if dir == "" {
		t.Skip("set FORKWEAR_SHEET to a folder to get the sheet")
	}
	for _, dark := range []bool{false, true} {
		for _, scale := range []float32{1, 2} {
			img := renderSheet(t, dark, scale)
			f, err := os.Create(fmt.Sprintf("%s/widgets-dark=%v-x%v.png", dir, dark, scale))
			if err != nil {
				t.Fatal(err)
			}
			if err := png.Encode(f, img); err != nil {
				t.Fatal(err)
			}
			f.Close()
		}
	}
}

func renderSheet(t *testing.T, dark bool, scale float32) image.Image {
	v := fynetheme.VariantLight
	if dark {
		v = fynetheme.VariantDark
	}
	th := theme.New(theme.WithVariant(v))
	a := test.NewTempApp(t)
	a.Settings().SetTheme(th)
	c := software.NewCanvas()
	c.SetPadded(false)
	c.SetScale(scale)
	bg := canvas.NewRectangle(th.Color(fynetheme.ColorNameBackground, v))
	c.SetContent(container.NewStack(bg, sheetContent()))
	c.Resize(fyne.NewSize(1180, 900))
	return c.Capture()
}

func sheetContent() fyne.CanvasObject {
	at := func(o fyne.CanvasObject, x, y, w, h float32) fyne.CanvasObject {
		m := o.MinSize()
		if w == 0 {
			w = m.Width
		}
		if h == 0 {
			h = m.Height
		}
		place(o, x, y, w, h)
		return o
	}
	var objs []fyne.CanvasObject
	add := func(o fyne.CanvasObject, x, y, w, h float32) { objs = append(objs, at(o, x, y, w, h)) }
	for i, n := range []fyne.ThemeIconName{theme.IconNameBench, theme.IconNameForks, theme.IconNameDue,
		theme.IconNamePatterns, theme.IconNameSums, theme.IconNameSettings, theme.IconNamePlus, theme.IconNameCamera, theme.IconNameSearch} {
		r := NewRailButton([]string{"Bench", "Forks", "Due", "Patterns", "Sums", "Settings", "Plus", "Camera", "Search"}[i], theme.Icon(n), nil)
		r.SetSelected(i == 1)
		add(r, 0, float32(i)*76, 0, 0)
	}
	steps := NewStepBar([]string{"Drop-off", "Inspect", "Decide", "Service", "Hand-back"}, nil)
	steps.Set(1, 1)
	add(steps, 100, 8, 0, 0)
	g := NewGradePad([]string{"none", "hairline", "felt", "nail catches", "burr", "through"}, false, nil)
	g.SetGrade(2)
	add(g, 100, 64, 560, 0)
	h := NewGradePad([]string{"none", "hairline", "felt", "nail catches", "burr", "through"}, true, nil)
	h.SetGrade(3.5)
	add(h, 100, 136, 800, 0)
	f := NewFineNotFine("Fine", "Not fine", nil)
	f.SetAnswer(true)
	add(f, 680, 64, 240, 0)
	n := NewNumberEntry("mm", nil)
	n.SetRepeats([]float64{31.982, 31.985, 31.979})
	add(n, 100, 208, 360, 100)
	y := float32(208)
	for _, m := range []struct {
		m draw.Mark
		w string
	}{{draw.Reuse, "reuse"}, {draw.Replace, "replace"}, {draw.Measure, "measure again"}, {draw.DoNotRide, "do not ride"}} {
		add(NewVerdictMark(m.m, m.w), 500, y, 0, 0)
		y += 28
	}
	ms := NewVerdictMark(draw.Missing, "")
	ms.SetState(draw.State{Mark: draw.Missing, Done: 4, Of: 9}, "looked at")
	add(ms, 680, 208, 0, 0)
	add(NewWearBar(Wear{0.6, 0.5, 0.72, 0.84}), 680, 240, 220, 0)
	add(NewWearBar(Wear{1.4, 1.3, 1.5, math.NaN()}), 680, 270, 220, 0)
	add(NewWearBar(Wear{0, math.NaN(), math.NaN(), 0.2}), 680, 300, 220, 0)
	tp := NewTrendPlot(sampleTrend())
	tp.pointed = 2
	add(NewCard(tp), 100, 336, 440, 250)
	add(NewTrendPlot(Trend{Unit: "mm", EmptyWord: "No readings yet"}), 560, 336, 260, 160)
	pv := NewPhotoView()
	pv.SetPhoto(samplePhoto(400, 260), "12 May, 212 h")
	add(pv, 560, 510, 260, 200)
	pz := NewPhotoView()
	add(pz, 830, 510, 260, 200)
	pz.SetPhoto(samplePhoto(400, 260), "today, 318 h")
	pz.SetZoom(2.5, 0.1, 0.5)
	cell := NewPhotoCell(nil)
	cell.SetID("a", "stanchion, left")
	cell.SetImage("a", samplePhoto(120, 90))
	cell.SetSelected(true)
	add(cell, 830, 336, 0, 0)
	bad := NewPhotoCell(nil)
	bad.SetID("b", "12 May")
	bad.SetFailed("b", "not readable")
	add(bad, 950, 336, 0, 0)
	add(NewEmptyState("No forks yet", "A drop-off writes down the fork, its owner and what they noticed.", "New drop-off", nil), 100, 600, 440, 160)
	add(NewChip("air spring", nil), 930, 210, 0, 0)
	ch := NewChip("overdue", func() {})
	ch.SetSelected(true)
	add(ch, 1020, 200, 0, 0)
	add(NewTextButton("Save and next", true, func() {}), 930, 64, 0, 0)
	add(NewTextButton("Not looked at", false, func() {}), 930, 120, 0, 0)
	s := NewStatusLine()
	s.SetText("Saved at 14:02:11: worst scratch, left leg, grade 2.")
	s.SetAction("Undo", func() {})
	s.SetWork("Reading 12 photos", "Cancel", func() {})
	add(s, 88, 850, 1092, 0)
	return container.NewWithoutLayout(objs...)
}

func sampleTrend() Trend {
	t := Trend{Unit: "mm", HasLimit: true, Limit: 0.30, HasNext: true, NextVisit: 420, LimitWord: "limit 0.30", NextWord: "next visit"}
	for i, v := range []float64{0.02, 0.06, 0.11, 0.13, 0.19} {
		t.Readings = append(t.Readings, Reading{ID: fmt.Sprint("r", i), Hours: float64(i)*78 + 4, Value: v, U: 0.02,
			Label: fmt.Sprintf("%.2f ± 0.02 mm, %d h", v, i*78+4), Date: []string{"3 Mar 2024", "", "", "", "12 May 2025"}[i]})
	}
	for i := 0; i <= 20; i++ {
		h := float64(i) * 24
		m := 0.02 + h*0.00054
		w := 0.015 + math.Abs(h-160)*0.00014
		t.Band = append(t.Band, BandPoint{h, m - w, m, m + w})
	}
	return t
}

func samplePhoto(w, h int) image.Image {
	img := image.NewRGBA(image.Rect(0, 0, w, h))
	for y := 0; y < h; y++ {
		for x := 0; x < w; x++ {
			s := uint8(60 + 120*math.Exp(-math.Pow(float64(x-w/2)/float64(w)*5, 2)))
			if (x*x/40+y)%37 == 0 {
				s /= 2
			}
			img.SetRGBA(x, y, color.RGBA{s, s, uint8(min(255, int(s)+12)), 255})
		}
	}
	return img
}
