package main

import (
	"image"
	"image/color"
	"image/png"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// paintedPhoto draws a dark bar of 200 x 10 px and a bright disc of radius 30
// px on a plain ground.
func paintedPhoto(t *testing.T) string {
	t.Helper()
	img := image.NewGray(image.Rect(0, 0, 800, 600))
	for i := range img.Pix {
		x, y := i%800, i/800
		v := 130 + (x*7+y*13)%5
		if x >= 300 && x < 500 && y >= 200 && y < 210 {
			v = 70
		}
		if math.Hypot(float64(x)+0.5-400, float64(y)+0.5-400) < 30 {
			v = 190
		}
		img.SetGray(x, y, color.Gray{uint8(v)})
	}
	name := filepath.Join(t.TempDir(), "painted.png")
	f, err := os.Create(name)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	if err := png.Encode(f, img); err != nil {
		t.Fatal(err)
	}
	return name
}

// TestMeasureMask: at 20 px/mm the bar is 10 x 0.5 mm and the disc has
// 1.5^2 pi = 7.07 mm2 (by hand).
func TestMeasureMask(t *testing.T) {
	file := paintedPhoto(t)
	scale := []string{file, "--scale", "100,500,500,500,20", "--mask"}
	bar := photoMeasure(t, append(scale, "--region", "270,170,260,80", "--along", "350,205,450,205")...)
	if math.Abs(bar.Length.Value-10) > 0.1 || math.Abs(bar.Area.Value-5) > 0.15 || !(bar.Length.Low <= 10 && 10 <= bar.Length.High) {
		t.Errorf("%+v %+v", bar.Length, bar.Area)
	}
	disc := photoMeasure(t, append(scale, "--loss", "--region", "340,340,120,120")...)
	if math.Abs(disc.Area.Value-math.Pi*1.5*1.5) > 0.15 {
		t.Errorf("%+v", disc.Area)
	}
	if !strings.Contains(strings.Join(bar.Remarks, " "), "proposed by the program") {
		t.Errorf("%q", bar.Remarks)
	}
	out, err := runPhoto(t, append([]string{"measure"}, append(scale, "--region", "270,170,260,80")...)...)
	if err != nil || !strings.Contains(out, "length   ") || !strings.Contains(out, "width    0.5") || !strings.Contains(out, "area     ") {
		t.Errorf("%v\n%s", err, out)
	}
	for _, c := range []struct {
		want string
		args []string
	}{
		{"nothing in the region", []string{"--region", "20,20,120,120"}},
		{"outside the photo", []string{"--region", "2000,20,120,120"}},
		{"--region needs four", []string{"--region", "2000,20,120"}},
		{"--region: number 1", []string{"--region", "NaN,20,120,5"}},
		{"if any flags in the group", []string{}},
		{"if any flags in the group", []string{"--region", "20,20,120,120", "--line", "1,2,30,40"}},
	} {
		if out, err := runPhoto(t, append([]string{"measure"}, append(scale, c.args...)...)...); err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%v: %v %s", c.args, err, out)
		}
	}
}
