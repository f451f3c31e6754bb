package main

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"image"
	"image/color"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"
)

func TestServe(t *testing.T) {
	tests := []struct {
		name, lines, answers, passed, bad string
	}{
		{"two shots between words", "hello\nSHOT bench\nSHOT inspect-2\nbye\n", "ok\nok\n", "  hello\n  bye\n", ""},
		{"Windows line ends", "SHOT bench\r\n", "ok\n", "", ""},
		{"no end of line", "SHOT bench", "ok\n", "", ""},
		{"a camera that fails", "SHOT broken\nSHOT bench\n", "no lens cap on\nok\n", "", "lens cap"},
		{"a way out of the folder", "SHOT ../x\n", "no the name \"../x\" is not 1 to 64 of a-z, 0-9 and '-'\n", "", "not taken"},
		{"no name", "SHOT \n", "no the name \"\" is not 1 to 64 of a-z, 0-9 and '-'\n", "", "not taken"},
		{"twice", "SHOT a\nSHOT a\n", "ok\nno the name \"a\" was used before\n", "", "used before"},
		{"a word that begins alike", "SHOTGUN x\n", "", "  SHOTGUN x\n", ""},
	}
	camera := func(_ context.Context, name string) error {
		if name == "broken" {
			return errors.New("lens\ncap on")
		}
		return nil
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			var answers, passed bytes.Buffer
			err := serve(t.Context(), strings.NewReader(tt.lines), &answers, &passed, camera, true)
			if answers.String() != tt.answers || passed.String() != tt.passed {
				t.Errorf("answers %q passed %q", answers.String(), passed.String())
			}
			if (err != nil) != (tt.bad != "") || err != nil && !strings.Contains(strings.ReplaceAll(err.Error(), "\n", " "), tt.bad) {
				t.Errorf("error %v, want %q", err, tt.bad)
			}
			if err := serve(t.Context(), strings.NewReader(tt.lines), &bytes.Buffer{}, &passed, camera, false); err != nil {
				t.Errorf("where no pictures can be taken, that is no failure: %v", err)
			}
		})
	}
}

// painted is a picture with n shades in its first rows and white below.
func painted(n, w, h int) *image.RGBA {
	img := image.NewRGBA(image.Rect(0, 0, w, h))
	for i := range w * h {
		c := color.RGBA{255, 255, 255, 255}
		if i < n {
			c = color.RGBA{uint8(i), uint8(i >> 8), 7, 255}
		}
		img.SetRGBA(i%w, i/w, c)
	}
	return img
}

func TestJudge(t *testing.T) {
	a, b := painted(200, 50, 50), painted(201, 50, 50)
	tests := []struct {
		name string
		imgs []*image.RGBA
		want string
	}{
		{"two screens", []*image.RGBA{a, b}, ""},
		{"one screen", []*image.RGBA{a}, ""},
		{"none", nil, "no pictures"},
		{"one is black", []*image.RGBA{a, painted(0, 50, 50)}, "only 1 colours"},
		{"a dot on white", []*image.RGBA{a, painted(20, 200, 200)}, "one colour"},
		{"the same again", []*image.RGBA{a, a, a}, "does not move"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			var shots []shot
			for i, img := range tt.imgs {
				shots = append(shots, shot{fmt.Sprint(i), "f.png", img})
			}
			err := judge(shots)
			if (tt.want == "") != (err == nil) || err != nil && !strings.Contains(err.Error(), tt.want) {
				t.Errorf("judged %v, want %q", err, tt.want)
			}
		})
	}
}

func TestSettledWaitsForAStillPicture(t *testing.T) {
	frames := []string{"a", "b", "c", "c", "d"}
	n := 0
	got, err := settled(t.Context(), func(context.Context) ([]byte, error) { n++; return []byte(frames[n-1]), nil })
	if err != nil || string(got) != "c" || n != 4 {
		t.Errorf("%q after %d pictures, %v", got, n, err)
	}
	if _, err := settled(t.Context(), func(context.Context) ([]byte, error) { return nil, errors.New("dark") }); err == nil {
		t.Error("a camera that fails must be heard")
	}
}

// TestMain lets the test binary play the program on its tour.
func TestMain(m *testing.M) {
	if os.Getenv("FORKWEAR_DEV_PLAYS_PROGRAM") != "" && len(os.Args) > 1 && os.Args[1] == "tour" {
		os.Exit(playProgram())
	}
	os.Exit(m.Run())
}

func playProgram() int {
	fmt.Println("args", os.Args[1:], os.Getenv("FYNE_SCALE"), os.Getenv("FYNE_THEME"), os.Getenv("WAYLAND_DISPLAY"))
	fmt.Println("SHOT empty-desk")
	var answer string
	fmt.Scanln(&answer)
	fmt.Println("answer", answer)
	return 3
}

// The real display, the real camera and a program that fails: an empty display
// is black, which the judge must say, and the exit code must come through.
func TestWalkOnAVirtualDisplay(t *testing.T) {
	m := thisMachine()
	if !m.lookPath("Xvfb") || !m.lookPath("xwd") {
		t.Skip("Xvfb and xwd are not here; `go run ./cmd/dev test` installs them")
	}
	t.Setenv("FORKWEAR_DEV_PLAYS_PROGRAM", "1")
	t.Setenv("WAYLAND_DISPLAY", "wayland-7")
	self, err := os.Executable()
	if err != nil {
		t.Fatal(err)
	}
	var out bytes.Buffer
	w := &workshop{machine: m, out: &shared{to: &out}, opts: options{size: size{400, 320}, scale: 1.5, dark: true}}
	dir := t.TempDir()
	shots, err := w.walk(t.Context(), self, dir)
	for _, want := range []string{"exit status 3", "empty-desk has only 1 colours"} {
		if err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("error %v, want %q", err, want)
		}
	}
	if want := fmt.Sprintf("args [tour --out %s --size 400x320 --scale 1.5 --dark] 1.5 dark \n", dir); !strings.Contains(out.String(), want) {
		t.Errorf("output %q, want %q", out.String(), want)
	}
	if !strings.Contains(out.String(), "answer ok") {
		t.Errorf("no answer: %q", out.String())
	}
	if len(shots) != 1 || shots[0].img.Rect != image.Rect(0, 0, 600, 480) {
		t.Errorf("%d shots", len(shots))
	}
	if _, err := os.Stat(filepath.Join(dir, "empty-desk.png")); err != nil {
		t.Error(err)
	}
}

func TestStepsGoOnAfterAFailure(t *testing.T) {
	var out bytes.Buffer
	clock := time.Unix(0, 0)
	s := &steps{out: &out, now: func() time.Time { clock = clock.Add(1500 * time.Millisecond); return clock }}
	s.run("first", func() error { return errors.New("it rained") })
	s.run("second", func() error { return leftOut("no sun") })
	s.run("third", func() error { return nil })
	err := s.summary()
	if err == nil || err.Error() != "1 of 3 steps failed: first" {
		t.Errorf("summary %v", err)
	}
	for _, want := range []string{"it rained", "1.5s  FAILED", "1.5s  left out: no sun", "1.5s  ok"} {
		if !strings.Contains(out.String(), want) {
			t.Errorf("%q is not in\n%s", want, out.String())
		}
	}
}

func TestSharing(t *testing.T) {
	got := sharing("forkwear/media/vault [os sync]\nforkwear/media/scale [math]\nforkwear/store [sync]\n" +
		"forkwear/ui [sync]\nforkwear/inspect/shop [context sync/atomic time]\nforkwear/inspect/x [golang.org/x/sync/errgroup]\nforkwear/inspect/y [my/sync2]\n")
	if want := []string{"forkwear/media/vault", "forkwear/inspect/shop", "forkwear/inspect/x"}; !slices.Equal(got, want) {
		t.Errorf("%v, want %v", got, want)
	}
}

func TestFitting(t *testing.T) {
	for text, want := range map[string]int{"": 1, "MemTotal: 9 kB\nMemAvailable:    6100000 kB\n": 4, "MemAvailable: 10 kB\n": 1} {
		if got := fitting(text); got != want {
			t.Errorf("%q: %d, want %d", text, got, want)
		}
	}
}

func TestUnformatted(t *testing.T) {
	dir := t.TempDir()
	write := func(name, text string) {
		t.Helper()
		path := filepath.Join(dir, name)
		if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(path, []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	write("good.go", "package a\n")
	write("testdata/odd.go", "package   a")
	if err := unformatted(dir); err != nil {
		t.Error(err)
	}
	write("sub/bad.go", "package   a\n")
	write("sub/broken.go", "pack age\n")
	err := unformatted(dir)
	if err == nil || !strings.Contains(err.Error(), "bad.go: not formatted") || !strings.Contains(err.Error(), "broken.go:") {
		t.Errorf("error %v", err)
	}
}
