package clean

import (
	"bytes"
	"errors"
	"image"
	"os"
	"path/filepath"
	"testing"

	"forkwear/media/decode"
	"forkwear/media/exif"
	"forkwear/media/format"
)

const photos = "../../testdata/photos/"

func load(t testing.TB, name string) []byte {
	t.Helper()
	data, err := os.ReadFile(photos + name)
	if err != nil {
		t.Fatal(err)
	}
	return data
}

func pixels(t *testing.T, data []byte) *image.RGBA {
	t.Helper()
	pic, err := decode.Decode(t.Context(), data, 1)
	if err != nil {
		t.Fatal(err)
	}
	return pic.Upright()
}

// TestNothingTold: over all readable samples the copy shows the same pixels,
// keeps the orientation and tells nothing else.
func TestNothingTold(t *testing.T) {
	files, _ := filepath.Glob(photos + "*")
	lossless := 0
	for _, f := range files {
		data := load(t, filepath.Base(f))
		if _, err := decode.Decode(t.Context(), data, 1); err != nil {
			continue
		}
		c, err := Clean(t.Context(), data)
		if err != nil {
			t.Errorf("%s: %v", f, err)
			continue
		}
		before, _ := exif.Read(bytes.NewReader(data), int64(len(data)))
		after, _ := exif.Read(bytes.NewReader(c.Data), int64(len(c.Data)))
		if after.Make+after.Model+after.BodySerial+after.WallTime+after.ChangeTime != "" || after.HasPosition || after.Thumbnail != nil {
			t.Errorf("%s: still tells %+v", f, after)
		}
		for _, word := range []string{"http://ns.adobe.com", "Photoshop 3.0", "GPS", "Apple", "samsung", "NIKON", "Canon"} {
			if bytes.Contains(c.Data, []byte(word)) {
				t.Errorf("%s: the copy still holds %q", f, word)
			}
		}
		if !c.Lossless {
			if c.Format != format.JPEG {
				t.Errorf("%s: encoded anew as %s", f, c.Format)
			}
			continue
		}
		lossless++
		if max(1, before.Orientation) != max(1, after.Orientation) {
			t.Errorf("%s: orientation %d became %d", f, before.Orientation, after.Orientation)
		}
		if !bytes.Equal(pixels(t, data).Pix, pixels(t, c.Data).Pix) {
			t.Errorf("%s: other pixels", f)
		}
		again, err := Clean(t.Context(), c.Data)
		if err != nil || !bytes.Equal(again.Data, c.Data) {
			t.Errorf("%s: cleaning the clean copy changes it: %v", f, err)
		}
	}
	if lossless < 25 {
		t.Errorf("only %d lossless copies", lossless)
	}
}

// TestTrailer: what phones hang behind the picture is cut off.
func TestTrailer(t *testing.T) {
	data := append(load(t, "samsung-small.jpg"), "a short film with voices"...)
	c, err := Clean(t.Context(), data)
	if err != nil || !c.Lossless || bytes.Contains(c.Data, []byte("voices")) {
		t.Errorf("lossless %v, %v", c.Lossless, err)
	}
}

func TestTIFFAnew(t *testing.T) {
	c, err := Clean(t.Context(), load(t, "canon-r5-small.tif"))
	if err != nil || c.Lossless || c.Format != format.JPEG {
		t.Errorf("%v %v %v", c.Format, c.Lossless, err)
	}
}

func TestRefused(t *testing.T) {
	for name, want := range map[string]error{
		"truncated.jpg": decode.ErrDamaged, "text.jpg": decode.ErrNotPhoto,
		"test8.heic": decode.ErrNoDecoder, "png-bomb-header.png": decode.ErrTooLarge,
	} {
		if c, err := Clean(t.Context(), load(t, name)); !errors.Is(err, want) {
			t.Errorf("%s: %v, want %v (%d bytes, lossless %v)", name, err, want, len(c.Data), c.Lossless)
		}
	}
}

func FuzzClean(f *testing.F) {
	for _, name := range []string{"test_exif_canon.jpg", "png-8bit.png", "test.webp", "xmp-before-exif.jpg"} {
		f.Add(load(f, name))
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		if _, w, h, err := decode.Config(data); err != nil || w*h > 1<<20 {
			return
		}
		c, err := Clean(t.Context(), data)
		if err != nil {
			return
		}
		if info, _ := exif.Read(bytes.NewReader(c.Data), int64(len(c.Data))); info.Make != "" || info.WallTime != "" || info.HasPosition {
			t.Errorf("still tells %+v", info)
		}
	})
}

// TestJFIFThumbnail: the small picture inside a JFIF segment stays behind; the
// pixels stay the same.
func TestJFIFThumbnail(t *testing.T) {
	plain := load(t, "Landscape_1.jpg")
	if string(plain[6:11]) != "JFIF\x00" {
		t.Fatal("the sample does not begin with JFIF")
	}
	next := 4 + int(plain[4])<<8 + int(plain[5])
	// 2 x 1 pixels of three bytes behind the 14 of the segment (JFIF 1.02, from memory)
	jfif := []byte("\xff\xd8\xff\xe0\x00\x16JFIF\x00\x01\x02\x00\x00\x01\x00\x01\x02\x01secret")
	in := append(bytes.Clone(jfif), plain[next:]...)
	if !bytes.Equal(pixels(t, in).Pix, pixels(t, plain).Pix) {
		t.Fatal("not the same picture")
	}
	c, err := Clean(t.Context(), in)
	if err != nil || !c.Lossless || bytes.Contains(c.Data, []byte("secret")) {
		t.Fatalf("lossless %v, %v", c.Lossless, err)
	}
	if !bytes.Equal(pixels(t, c.Data).Pix, pixels(t, plain).Pix) {
		t.Error("other pixels")
	}
}

// TestSegmentsKept: T.81, table B.1, from memory: SOF, DHT, SOS, DQT, DNL, DRI,
// DHP, EXP are needed; JPG extensions, RES and COM are not.
func TestSegmentsKept(t *testing.T) {
	for marker, want := range map[byte]bool{0xC0: true, 0xC2: true, 0xC4: true, 0xCC: true, 0xDA: true, 0xDB: true, 0xDC: true, 0xDD: true, 0xDF: true,
		0x02: false, 0xBF: false, 0xC8: false, 0xE1: false, 0xED: false, 0xF0: false, 0xFD: false, 0xFE: false} {
		if got := keepSegment(marker, []byte("text")); got != want {
			t.Errorf("%02X: %v", marker, got)
		}
	}
}
