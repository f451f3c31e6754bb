package media

import (
	"bytes"
	"context"
	"errors"
	"image"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"forkwear/media/decode"
	"forkwear/media/heic"
	"forkwear/media/quality"
	"forkwear/media/scale"
)

// failing is a HEIC decoder that cannot.
type failing struct{ err error }

func (f failing) JPEG(context.Context, []byte) ([]byte, error) { return nil, f.err }

// TestHEIC: size by exiftool 12.57 (testdata/photos/exiftool_expected.csv); the
// original stays, pixels come from the working copy.
func TestHEIC(t *testing.T) {
	if testing.Short() {
		t.Skip("no goroutines of its own to race; long under the detector")
	}
	im := Importer{Vault: newVault(t), HEIC: heic.Direct{}}
	r := im.Import(t.Context(), []string{photos + "test8.heic"}, nil)[0]
	if r.Err != nil || !r.Photo.PixelsRead || r.Photo.Width != 512 || r.Photo.Height != 512 || r.Photo.Sharpness <= 0 {
		t.Fatalf("%+v", r)
	}
	want, _ := os.ReadFile(photos + "test8.heic")
	if got, err := im.Vault.Read(t.Context(), r.Photo.SHA256); err != nil || !bytes.Equal(got, want) {
		t.Errorf("the original is not as it was: %v", err)
	}
	if _, ok := im.Vault.Preview(r.Photo.SHA256, PreviewSmall); !ok {
		t.Error("no preview")
	}
	// without the previews the working copy serves, and no decoder is needed
	if full, err := (Importer{Vault: im.Vault}).Full(t.Context(), r.Photo.SHA256); err != nil || full.Rect != image.Rect(0, 0, 512, 512) {
		t.Errorf("in full: %v", err)
	}
	if p, err := (Importer{HEIC: heic.Direct{}}).Read(t.Context(), photos+"test8.heic"); err != nil || p.Sharpness != r.Photo.Sharpness {
		t.Errorf("%v %v", p.Sharpness, err)
	}
}

// TestHEICNotShown: whatever the converter does, the photo is kept with words;
// only half a file is refused.
func TestHEICNotShown(t *testing.T) {
	for _, c := range []struct {
		decoder heic.Decoder
		says    string
	}{
		{nil, "this version cannot show"}, {failing{heic.ErrNoChild}, heic.ErrNoChild.Error()}, {failing{heic.ErrTooSlow}, heic.ErrTooSlow.Error()},
		{failing{heic.ErrTooLarge}, heic.ErrTooLarge.Error()}, {failing{heic.ErrDamaged}, heic.ErrDamaged.Error()},
	} {
		im := Importer{Vault: newVault(t), HEIC: c.decoder}
		r := im.Import(t.Context(), []string{photos + "test8.heic"}, nil)[0]
		if r.Err != nil || r.Photo.PixelsRead || r.Photo.Usable || !strings.Contains(strings.Join(r.Photo.Remarks, " "), c.says) {
			t.Errorf("%v: %+v", c.decoder, r)
		}
		if _, err := im.Preview(t.Context(), r.Photo.SHA256, 512); !errors.Is(err, decode.ErrNoDecoder) {
			t.Errorf("%v: preview: %v", c.decoder, err)
		}
	}
	im := Importer{Vault: newVault(t), HEIC: failing{heic.ErrDamaged}}
	r := im.Import(t.Context(), []string{photos + "iphone-xs-cut.heic"}, nil)[0]
	if !errors.Is(r.Err, decode.ErrDamaged) || !strings.Contains(r.Err.Error(), "iphone-xs-cut.heic") {
		t.Errorf("half a file: %v", r.Err)
	}
}

// TestRecordOfFile: exiftool -n -GPSDateTime -FocalLengthIn35mmFormat, 12.57, of
// the same files.
func TestRecordOfFile(t *testing.T) {
	for name, want := range map[string]struct {
		gps   string
		focal int
	}{"gps.jpg": {"2018-04-29T01:22:57Z", 28}, "iphone-xs-small.jpg": {"", 26}, "iphone-xs-cut.heic": {"", 26}, "canon-5d3-small.jpg": {"", 0}} {
		p, err := Read(t.Context(), photos+name, nil)
		if err != nil || p.GPSTime != want.gps || p.FocalLength35 != want.focal {
			t.Errorf("%s: %q %d %v, exiftool %v", name, p.GPSTime, p.FocalLength35, err, want)
		}
	}
}

// TestResume: a photo read before is not decoded again; one whose aims changed
// or whose previews went is.
func TestResume(t *testing.T) {
	dir := shots(t, 1, 640, 480)
	v := newVault(t)
	count := 0
	im := Importer{Vault: v, Fingerprint: func(image.Image) (string, error) { count++; return "0123456789abcdef", nil }}
	first := im.Import(t.Context(), []string{dir}, nil)[0]
	if first.Err != nil || count != 1 || first.Photo.Fingerprint == "" {
		t.Fatalf("%d %+v", count, first)
	}
	again := im.Import(t.Context(), []string{dir}, nil)[0]
	if again.Err != nil || !again.Existed || count != 1 {
		t.Errorf("read %d times, %v", count, again.Err)
	}
	a, b := first.Photo, again.Photo
	a.Remarks, b.Remarks = nil, nil
	if strings.Join(first.Photo.Remarks, "|") != strings.Join(again.Photo.Remarks, "|") || a.Sharpness != b.Sharpness || a.WallTime != b.WallTime || a.SHA256 != b.SHA256 {
		t.Errorf("%+v, then %+v", first.Photo, again.Photo)
	}
	im.Subject.Kind = quality.Serial
	im.Import(t.Context(), []string{dir}, nil)
	if count != 2 {
		t.Errorf("read %d times after the aim changed", count)
	}
	if err := v.DropPreviews(); err != nil {
		t.Fatal(err)
	}
	if im.Import(t.Context(), []string{dir}, nil); count != 3 {
		t.Errorf("read %d times after the previews went", count)
	}
}

// TestCardInFullPixels: corners found in the preview are told in pixels of the
// photo; 2000 pixels are shown as 1600, by construction.
func TestCardInFullPixels(t *testing.T) {
	dir := shots(t, 1, 2000, 1500)
	im := Importer{Vault: newVault(t), FindCard: func(_ context.Context, img image.Image) (string, [4]scale.Point, bool) {
		if img.Bounds() != image.Rect(0, 0, 1600, 1200) {
			t.Errorf("looked for in %v", img.Bounds())
		}
		return "code", [4]scale.Point{{X: 160, Y: 120}, {X: 800, Y: 120}, {X: 800, Y: 600}, {X: 160, Y: 600}}, true
	}}
	r := im.Import(t.Context(), []string{dir}, nil)[0]
	want := [4]scale.Point{{X: 200, Y: 150}, {X: 1000, Y: 150}, {X: 1000, Y: 750}, {X: 200, Y: 750}}
	if r.Err != nil || r.Photo.CardCode != "code" || !r.Photo.HasCard || r.Photo.Card != want {
		t.Errorf("%+v", r)
	}
}

// TestQuick: date and thumbnail by exiftool 12.57 (-ThumbnailImage: 160 x 120
// and such); every other sample gives words or nothing, never a panic.
func TestQuick(t *testing.T) {
	dir := shots(t, 1, 800, 600)
	begun := time.Now()
	g, err := Quick(t.Context(), filepath.Join(dir, "IMG_0000.jpg"))
	if err != nil || g.Picture == nil || g.Picture.Rect != image.Rect(0, 0, 160, 120) || g.WallTime != "2026-11-02T09:30:00" || g.Format != "jpeg" {
		t.Errorf("%+v %v", g, err)
	}
	if d := time.Since(begun); d > time.Second {
		t.Errorf("%v", d)
	}
	with := 0
	files, _ := filepath.Glob(photos + "*")
	for _, f := range files {
		g, err := Quick(t.Context(), f)
		if err != nil && (g.Picture != nil || !strings.Contains(err.Error(), f)) {
			t.Errorf("%s: %v", f, err)
		}
		if g.Picture == nil {
			continue
		}
		with++
		p, err := Read(t.Context(), f, nil)
		if err != nil {
			continue
		}
		w, h := p.UprightSize()
		b := g.Picture.Bounds()
		if d := float64(b.Dx())/float64(b.Dy()) - float64(w)/float64(h); math.Abs(d) > 0.06 {
			t.Errorf("%s: thumbnail %v of %d x %d", f, b, w, h)
		}
	}
	if with < 3 {
		t.Errorf("only %d samples have a thumbnail", with)
	}
}

func TestHEICLast(t *testing.T) {
	got := order([]Result{{Path: "a.HEIC"}, {Path: "b.jpg"}, {Path: "c.heif"}, {Path: "d.png"}})
	if len(got) != 4 || got[0] != 1 || got[1] != 3 || got[2] != 0 || got[3] != 2 {
		t.Errorf("%v", got)
	}
}

// turned is a HEIC decoder that gives an upright picture of 30 x 40 pixels.
type turned struct{ jpeg []byte }

func (u turned) JPEG(context.Context, []byte) ([]byte, error) { return u.jpeg, nil }

// TestHEICIsNotTurnedTwice: iphone-xs-cut.heic is stored 4032 x 3024 with
// orientation 6 (exiftool 12.57); its working copy is upright already.
func TestHEICIsNotTurnedTwice(t *testing.T) {
	picture, _ := encoded(t, 600, 800, 1)
	im := Importer{Vault: newVault(t), HEIC: turned{picture}}
	r := im.Import(t.Context(), []string{photos + "iphone-xs-cut.heic"}, nil)[0]
	if w, h := r.Photo.UprightSize(); r.Err != nil || w != 600 || h != 800 || r.Photo.Orientation != 6 || r.Photo.Width != 800 {
		t.Errorf("%d x %d, %+v", w, h, r)
	}
	full, err := im.Full(t.Context(), r.Photo.SHA256)
	if err != nil || full.Rect != image.Rect(0, 0, 600, 800) {
		t.Errorf("%v %v", full, err)
	}
}
