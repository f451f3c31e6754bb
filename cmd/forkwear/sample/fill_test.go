package sample_test

import (
	"context"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"testing"
	"time"

	"forkwear/cmd/forkwear/sample"
	"forkwear/inspect"
	"forkwear/inspect/catalog"
	"forkwear/media/exif"
	"forkwear/store"

	"bytes"
)

func keep(_ context.Context, jpeg []byte, name string) (inspect.Photo, error) {
	sum := sha256.Sum256(jpeg)
	info, err := exif.Read(bytes.NewReader(jpeg), int64(len(jpeg)))
	return inspect.Photo{SHA256: hex.EncodeToString(sum[:]), Format: "jpeg", Bytes: int64(len(jpeg)), Width: 960, Height: 720,
		WallTime: info.WallTime, Offset: info.Offset, Make: info.Make, DateSource: "exif", FileName: name}, err
}

func filled(t *testing.T, seed uint64, forks int) *store.DB {
	t.Helper()
	ctx := context.Background()
	at := time.Date(2026, 11, 20, 17, 0, 0, 0, time.UTC)
	db, err := store.Open(ctx, t.TempDir(), store.Options{Clock: func() time.Time { return at }, NewID: func() inspect.ID { return "0" }})
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { _ = db.Close() })
	cat, err := catalog.Embedded()
	if err != nil {
		t.Fatal(err)
	}
	f := sample.Filler{Lib: db, Catalog: cat, Keep: keep, Seed: seed, Until: at, Forks: forks}
	if err := f.Fill(ctx, nil); err != nil {
		t.Fatal(err)
	}
	return db
}

func TestFill(t *testing.T) {
	ctx := context.Background()
	db := filled(t, 34, 0)
	forks, err := db.FindForks(ctx, "", 100)
	if err != nil || len(forks) < 25 {
		t.Fatalf("%d forks, want at least 25 (%v)", len(forks), err)
	}
	many := 0
	for _, f := range forks {
		if f.Visits >= 3 && f.Visits <= 5 {
			many++
		}
	}
	if many < 15 {
		t.Errorf("%d forks with three to five visits, want at least 15", many)
	}
	visits, err := db.Visits(ctx, inspect.VisitFilter{})
	if err != nil {
		t.Fatal(err)
	}
	span := visits[0].Visit.DroppedOff.Sub(visits[len(visits)-1].Visit.DroppedOff)
	if span < 2*365*24*time.Hour {
		t.Errorf("the visits span %v, want about three years", span)
	}
	counts := map[inspect.Verdict]int{}
	ends := map[inspect.EndReason]int{}
	for _, v := range visits {
		as, err := db.LatestAssessments(ctx, v.Visit.ID)
		if err != nil {
			t.Fatal(err)
		}
		for _, a := range as {
			if !a.NotOpened {
				counts[a.InForce()]++
			}
		}
	}
	fits, err := db.Fittings(ctx, inspect.FittingFilter{})
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range fits {
		ends[f.End]++
	}
	if counts[inspect.Reuse] == 0 || counts[inspect.Replace] == 0 || ends[inspect.EndWorn] == 0 {
		t.Errorf("a sample shop shows every verdict and worn parts: %v, ends %v", counts, ends)
	}
	t.Logf("%d visits, verdicts %v, ends %v", len(visits), counts, ends)
	photos, err := db.Photos(ctx, inspect.PhotoFilter{})
	if err != nil || len(photos) < 100 {
		t.Fatalf("%d photos (%v)", len(photos), err)
	}
	for _, p := range photos {
		if !p.Drawn || p.WallTime == "" || p.Offset != "+00:00" || p.Make != "Drawn" {
			t.Fatalf("photo %s: drawn %v, date %q %q, camera %q", p.FileName, p.Drawn, p.WallTime, p.Offset, p.Make)
		}
	}
	if faults := db.Verify(ctx); len(faults) > 0 {
		t.Errorf("verify: %v", faults)
	}
}

// The same seed makes the same shop; another seed another one.
func TestFill_SameSeed(t *testing.T) {
	text := func(seed uint64) string {
		ctx := context.Background()
		db := filled(t, seed, 4)
		rs, err := db.Readings(ctx, inspect.ReadingFilter{})
		if err != nil {
			t.Fatal(err)
		}
		ps, err := db.Photos(ctx, inspect.PhotoFilter{})
		if err != nil {
			t.Fatal(err)
		}
		b, err := json.Marshal(map[string]any{"readings": rs, "photos": ps})
		if err != nil {
			t.Fatal(err)
		}
		return string(b)
	}
	first := text(5)
	if first != text(5) {
		t.Error("two fillings of one seed differ")
	}
	if first == text(6) {
		t.Error("two seeds made the same shop")
	}
}
