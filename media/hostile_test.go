package media

import (
	"bytes"
	"errors"
	"fmt"
	"image"
	"image/png"
	"os"
	"path/filepath"
	"strings"
	"sync/atomic"
	"testing"
	"time"

	"golang.org/x/sync/semaphore"

	"forkwear/media/decode"
)

// TestWebPCutBehindItsPicture: the pixels of this sample end at 81 % of the
// file; what follows is the camera data, so a cut there loses the date.
func TestWebPCutBehindItsPicture(t *testing.T) {
	whole, err := os.ReadFile(photos + "webp-orientation-6.webp")
	if err != nil {
		t.Fatal(err)
	}
	path := filepath.Join(t.TempDir(), "cut.webp")
	for percent := 0; percent < 100; percent += 3 {
		if err := os.WriteFile(path, whole[:len(whole)*percent/100], 0o600); err != nil {
			t.Fatal(err)
		}
		if _, err := Read(t.Context(), path, nil); err == nil || !strings.Contains(err.Error(), path) {
			t.Errorf("%d %% of the file: %v", percent, err)
		}
	}
	if _, err := Read(t.Context(), path, nil); !errors.Is(err, decode.ErrDamaged) {
		t.Errorf("99 %%: %v", err)
	}
	if p, err := Read(t.Context(), photos+"webp-orientation-6.webp", nil); err != nil || p.Orientation != 6 {
		t.Errorf("whole: %+v, %v", p, err)
	}
}

// TestLargeOnesOneByOne: pictures of together more pixels than allowed are not
// held in memory at the same time, however many workers there are. The bound is
// lowered here, so that small pictures show it.
func TestLargeOnesOneByOne(t *testing.T) {
	before := atOnce
	atOnce = semaphore.NewWeighted(3000)
	defer func() { atOnce = before }()
	dir := t.TempDir()
	for i := range 4 {
		img := image.NewGray(image.Rect(0, 0, 50, 40)) // 2,000 pixels
		img.Pix[i] = 200
		var buf bytes.Buffer
		if err := png.Encode(&buf, img); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(filepath.Join(dir, fmt.Sprintf("%d.png", i)), buf.Bytes(), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	var now, most atomic.Int32
	im := Importer{Vault: newVault(t), Workers: 4, Fingerprint: func(image.Image) (string, error) {
		n := now.Add(1)
		for m := most.Load(); n > m && !most.CompareAndSwap(m, n); m = most.Load() {
		}
		time.Sleep(50 * time.Millisecond)
		now.Add(-1)
		return "0000000000000000", nil
	}}
	for _, r := range im.Import(t.Context(), []string{dir}, nil) {
		if r.Err != nil {
			t.Error(r.Err)
		}
	}
	if most.Load() != 1 {
		t.Errorf("%d pictures were in memory at once", most.Load())
	}
}

// TestFinished: each result is told once, as soon as it is there.
func TestFinished(t *testing.T) {
	told := map[string]int{}
	im := Importer{Vault: newVault(t), Finished: func(r Result) { told[filepath.Base(r.Path)]++ }}
	results := im.Import(t.Context(), []string{photos + "a1.jpg", photos + "text.jpg", photos + "none.jpg", photos + "test.webp"}, nil)
	if len(told) != 4 || len(results) != 4 || told["text.jpg"] != 1 || told["none.jpg"] != 1 {
		t.Errorf("%v", told)
	}
}
