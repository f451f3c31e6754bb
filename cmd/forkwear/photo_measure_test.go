package main

import (
	"encoding/json"
	"fmt"
	"math"
	"strings"
	"testing"
)

// Corners and expected values: scikit-image 0.19.3 ProjectiveTransform.estimate.
const (
	measureCard = "412,305,1630,268,1702,1068,388,1012"
	measureLine = "700,500,1500,900"
)

type measuredValue struct{ Value, Low, High float64 }

type measured struct {
	Length  *measuredValue `json:"length_mm"`
	Area    *measuredValue `json:"area_mm2"`
	Method  string
	Remarks []string
}

func photoMeasure(t *testing.T, args ...string) measured {
	t.Helper()
	out, err := runPhoto(t, append([]string{"measure", "--json"}, args...)...)
	if err != nil {
		t.Fatal(err)
	}
	var keys map[string]any
	var got measured
	if err := json.Unmarshal([]byte(out), &keys); err != nil {
		t.Fatal(err)
	}
	for _, key := range []string{"length_mm", "area_mm2", "method", "remarks"} {
		if _, ok := keys[key]; !ok {
			t.Errorf("%s is missing", key)
		}
	}
	if err := json.Unmarshal([]byte(out), &got); err != nil {
		t.Fatal(err)
	}
	return got
}

// TestMeasureCard: Landscape_6 is 1200 x 1600 as stored, 1600 x 1200 upright.
func TestMeasureCard(t *testing.T) {
	got := photoMeasure(t, samplePhotos+"Landscape_6.jpg", "--card", measureCard, "--line", measureLine)
	if got.Length == nil || math.Abs(got.Length.Value-59.21241) > 1e-4 || got.Area != nil || got.Method != "card" {
		t.Fatalf("%+v %+v", got, got.Length)
	}
	if !(got.Length.Low < got.Length.Value && got.Length.Value < got.Length.High) {
		t.Errorf("%+v", got.Length)
	}
	if len(got.Remarks) == 0 {
		t.Error("a photo without focal length needs a remark")
	}
}

// TestMeasureScale: 200 px are 10 mm, so 300 x 400 px are 15 x 20 mm and their
// diagonal 25 mm (by hand).
func TestMeasureScale(t *testing.T) {
	got := photoMeasure(t, samplePhotos+"Landscape_1.jpg", "--scale", "100,100,300,100,10", "--line", "100,100,400,500", "--area", "100,100,400,100,400,500,100,500")
	if math.Abs(got.Length.Value-25) > 1e-9 || math.Abs(got.Area.Value-300) > 1e-9 || got.Method != "scale" {
		t.Errorf("%+v %+v %+v", got, got.Length, got.Area)
	}
}

// TestMeasureTube: a tube of 36 mm straight under the camera, its axis 300 mm
// away and upright in the middle of a picture of 480 x 640 px (turned). The
// lens of 26 mm on 35 mm film has f = 26 * 800 / 43.2666 px; an edge is seen at
// f tan(asin(18/300)) from the middle; 40 px along the top, 282 mm away, are
// 40 * 282 / f mm; a point a mm around (a = 5) is seen at
// f * 18 sin(a/18) / (300 - 18 cos(a/18)) (by hand).
func TestMeasureTube(t *testing.T) {
	f := 26 * 800 / math.Hypot(36, 24)
	half := f * math.Tan(math.Asin(18.0/300))
	side := f * 18 * math.Sin(5.0/18) / (300 - 18*math.Cos(5.0/18))
	axis := fmt.Sprintf("%f,20,%f,620,%f,20,%f,620", 240-half, 240-half, 240+half, 240+half)
	args := []string{samplePhotos + "iphone-xs-small.jpg", "--tube", "36", "--axis", axis}
	along := photoMeasure(t, append(args, "--line", "240,300,240,340")...)
	if want := 40 * 282 / f; along.Method != "tube" || math.Abs(along.Length.Value-want) > 1e-3 {
		t.Errorf("%+v %+v, want %v mm", along, along.Length, want)
	}
	around := photoMeasure(t, append(args, "--line", fmt.Sprintf("%f,320,%f,320", 240-side, 240+side))...)
	if math.Abs(around.Length.Value-10) > 1e-3 {
		t.Errorf("%+v, want 10 mm", around.Length)
	}
	flat := photoMeasure(t, samplePhotos+"Landscape_6.jpg", "--card", measureCard, "--line", measureLine, "--tube", "36", "--axis", "100,100,1500,100,100,600,1500,600")
	if flat.Method != "card, along the tube only" {
		t.Errorf("without a focal length: %+v", flat)
	}
}

func TestMeasureRefuses(t *testing.T) {
	file := samplePhotos + "Landscape_6.jpg"
	for _, tc := range []struct {
		want string
		code int
		args []string
	}{
		{"none.jpg", 1, []string{samplePhotos + "none.jpg", "--card", measureCard, "--line", measureLine}},
		{"truncated.jpg", 1, []string{samplePhotos + "truncated.jpg", "--card", measureCard, "--line", measureLine}},
		{"outside the upright picture", 1, []string{file, "--card", measureCard, "--line", "100,100,100,1300"}},
		{"--line: the list has 3", 1, []string{file, "--card", measureCard, "--line", "1,2,3"}},
		{"--card: number 1", 1, []string{file, "--card", "NaN,1", "--line", measureLine}},
		{"anticlockwise", 1, []string{file, "--card", "412,305,388,1012,1702,1068,1630,268", "--line", measureLine}},
		{"needs five", 1, []string{file, "--scale", "1,2,3,4", "--line", measureLine}},
		{"needs four", 1, []string{file, "--tube", "36", "--axis", "1,2,3,4", "--line", measureLine}},
		{"focal length", 1, []string{file, "--tube", "36", "--axis", "100,100,1500,100,100,600,1500,600", "--line", measureLine}},
		{"at least one of the flags in the group", 2, []string{file, "--card", measureCard}},
		{"at least one of the flags in the group", 2, []string{file, "--line", measureLine}},
		{"if any flags in the group", 2, []string{file, "--tube", "36", "--line", measureLine}},
		{"if any flags in the group", 2, []string{file, "--card", measureCard, "--scale", "1,2,3,4,5", "--line", measureLine}},
	} {
		out, err := runPhoto(t, append([]string{"measure", "--json"}, tc.args...)...)
		if err == nil || !strings.Contains(err.Error(), tc.want) || exitCode(err) != tc.code {
			t.Errorf("%v: %v %s", tc.args, err, out)
		}
	}
}

func TestMeasureTable(t *testing.T) {
	out, err := runPhoto(t, "measure", samplePhotos+"Landscape_6.jpg", "--card", measureCard, "--line", measureLine)
	if err != nil || !strings.Contains(out, "length   59.21 mm (95 %: ") || !strings.Contains(out, "method   card\n") {
		t.Errorf("%v\n%s", err, out)
	}
}
