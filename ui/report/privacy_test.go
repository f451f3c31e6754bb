package report

import (
	"bytes"
	"context"
	"image/jpeg"
	"os"
	"testing"

	"forkwear/inspect"
	"forkwear/media/exif"
)

// The camera's own files tell where they were taken, and with which body
// (testdata/photos/exiftool_expected.csv: gps.jpg has a position,
// canon-5d3-small.jpg a serial number, Landscape_6.jpg lies on its side). None of
// it is in what the customer gets, with marks or without; pixels stay.
func TestPhotosTellNothingOfTheirMaking(t *testing.T) {
	for _, name := range []string{"gps.jpg", "canon-5d3-small.jpg", "iphone-xs-small.jpg", "Landscape_6.jpg"} {
		original, err := os.ReadFile("../../testdata/photos/" + name)
		if err != nil {
			t.Fatal(err)
		}
		if !bytes.Contains(original, []byte("Exif\x00\x00")) {
			t.Fatalf("%s has nothing to hide", name)
		}
		for _, marked := range []bool{false, true} {
			source := Source{Photo: func(context.Context, string, int) ([]byte, error) { return bytes.Clone(original), nil },
				Marks: func(context.Context, inspect.ID) ([]inspect.Mark, []inspect.PhotoMeasure, error) {
					if !marked {
						return nil, nil, nil
					}
					return []inspect.Mark{{Kind: inspect.MarkLine, Points: []inspect.Spot{{X: 1, Y: 1}, {X: 90, Y: 90}}}}, nil, nil
				}}
			a := &album{ctx: context.Background(), source: source}
			pic := a.take(inspect.Photo{ID: "one", SHA256: "one"}, "Now", nil)
			if pic.JPEG == nil || pic.Marked != marked {
				t.Fatalf("%s: %+v", name, pic.Missing)
			}
			for _, tell := range []string{"Exif", "http://ns.adobe.com", "Photoshop", "Canon", "Apple"} {
				if bytes.Contains(pic.JPEG, []byte(tell)) {
					t.Errorf("%s, marked %v: %q is in the copy", name, marked, tell)
				}
			}
			info, _ := exif.Read(bytes.NewReader(pic.JPEG), int64(len(pic.JPEG)))
			if info.Make != "" || info.BodySerial != "" || info.HasPosition || info.WallTime != "" {
				t.Errorf("%s, marked %v: %+v", name, marked, info)
			}
			if _, err := jpeg.Decode(bytes.NewReader(pic.JPEG)); err != nil {
				t.Errorf("%s: %v", name, err)
			}
		}
	}
}
