package report

import (
	"bytes"
	"context"
	"errors"
	"image"
	"image/jpeg"
	"strings"
	"testing"

	"forkwear/inspect"
)

func greyJPEG(t *testing.T) []byte {
	t.Helper()
	img := image.NewGray(image.Rect(0, 0, 400, 300))
	for i := range img.Pix {
		img.Pix[i] = 90
	}
	var b bytes.Buffer
	if err := jpeg.Encode(&b, img, &jpeg.Options{Quality: 90}); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

func TestMarksAreDrawnOverTheCopy(t *testing.T) {
	kept := greyJPEG(t)
	fail := error(nil)
	source := Source{
		Photo: func(context.Context, string, int) ([]byte, error) { return bytes.Clone(kept), nil },
		Marks: func(_ context.Context, id inspect.ID) ([]inspect.Mark, []inspect.PhotoMeasure, error) {
			if id != "marked" {
				return nil, nil, fail
			}
			return []inspect.Mark{{Kind: inspect.MarkLine, Points: []inspect.Spot{{X: 1000, Y: 1500}, {X: 3000, Y: 1500}}}},
				[]inspect.PhotoMeasure{{Kind: "length", Unit: "mm", Value: 12, Low: 11.5, High: 12.5, Line: []inspect.Spot{{X: 1000, Y: 600}, {X: 2000, Y: 600}}}}, nil
		},
	}
	a := &album{ctx: context.Background(), source: source}
	pic := a.take(inspect.Photo{ID: "marked", SHA256: "one", Width: 4000, Height: 3000}, "Now", nil)
	img, err := jpeg.Decode(bytes.NewReader(pic.JPEG))
	if err != nil {
		t.Fatal(err)
	}
	light := func(x, y int) uint32 { _, g, _, _ := img.At(x, y).RGBA(); return g >> 8 }
	if light(200, 150) < 200 || light(150, 60) < 140 || light(300, 250) > 110 {
		t.Errorf("line %d, measured %d, ground %d", light(200, 150), light(150, 60), light(300, 250))
	}
	if !strings.HasSuffix(pic.Caption, "with the shop's marks") || pic.Width != 400 || pic.Height != 300 {
		t.Errorf("%+v", pic.Caption)
	}
	if again := a.take(inspect.Photo{ID: "marked", SHA256: "one"}, "Then", nil); !strings.HasSuffix(again.Caption, "marks") || again.Number != pic.Number {
		t.Errorf("shown again: %q, %d", again.Caption, again.Number)
	}
	if plain := a.take(inspect.Photo{ID: "other", SHA256: "two"}, "Now", nil); !bytes.Equal(plain.JPEG, kept) || strings.Contains(plain.Caption, "marks") {
		t.Error("a photo without marks is written anew, or called marked")
	}
	fail = errors.New("the library is closed")
	if shown := a.take(inspect.Photo{ID: "third", SHA256: "three"}, "Now", nil); shown.JPEG == nil || len(a.remarks) != 1 || !strings.Contains(a.remarks[0], "the library is closed") {
		t.Errorf("%q", a.remarks)
	}
}
