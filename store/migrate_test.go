package store_test

import (
	"encoding/json"
	"os"
	"path/filepath"
	"reflect"
	"testing"
	"time"

	"forkwear/inspect"
	"forkwear/store"
	"forkwear/store/librarytest"
)

// oldLibrary makes a library from one of the SQL texts in testdata.
func oldLibrary(t *testing.T, text string) (dir string) {
	t.Helper()
	dir = t.TempDir()
	script, err := os.ReadFile(text)
	must(t, err)
	h := raw(t, filepath.Join(dir, store.FileName))
	run(t, h, string(script))
	must(t, h.Close())
	return dir
}

// Every old version in testdata is brought up to date with all it holds.
func TestMigrateOldVersions(t *testing.T) {
	texts, err := filepath.Glob("testdata/history_v*.sql")
	must(t, err)
	if len(texts) == 0 {
		t.Fatal("no old versions in testdata")
	}
	for _, text := range texts {
		t.Run(filepath.Base(text), func(t *testing.T) {
			dir := oldLibrary(t, text)
			_, err := store.Open(ctx, dir, store.Options{ReadOnly: true})
			refused(t, err, inspect.ReadOnly, dir)
			db := mustOpen(t, dir)
			wantOldRecords(t, db)
			wantOldPhotos(t, db, filepath.Base(text))
			if found := db.Verify(ctx); len(found) != 0 {
				t.Error(found)
			}
			ticket, err := db.StartVisit(ctx, librarytest.DropOff(3))
			if err != nil || ticket != 3 {
				t.Errorf("the next ticket is %d: %v", ticket, err)
			}
			must(t, db.Close())
			wantOldRecords(t, mustOpen(t, dir)) // opened again, nothing runs twice
		})
	}
}

func wantOldRecords(t *testing.T, db *store.DB) {
	t.Helper()
	rows, err := db.FindForks(ctx, "jördis 777001", 10) // found by the words that the migration made
	must(t, err)
	if len(rows) != 1 || rows[0].Fork.ID != "fork-1" || rows[0].Visits != 1 {
		t.Errorf("search after the migration: %v", rows)
	}
	rs, err := db.Readings(ctx, inspect.ReadingFilter{ForkID: "fork-1"})
	must(t, err)
	got, err := json.Marshal(rs)
	must(t, err)
	want, err := json.Marshal([]inspect.Reading{librarytest.Reading(1, "r1")})
	must(t, err)
	if string(got) != string(want) {
		t.Errorf("got  %s\nwant %s", got, want)
	}
	v, err := db.Visit(ctx, "visit-1")
	must(t, err)
	if !v.Closed() || v.Ticket != 1 || v.GoAhead != librarytest.DropOff(1).Visit.GoAhead {
		t.Errorf("visit 1: %+v", v)
	}
}

// wantOldPhotos: version 2 holds three photos, two of them of the same bytes,
// and an answer; the table of photos is made anew by 0003.
func wantOldPhotos(t *testing.T, db *store.DB, text string) {
	t.Helper()
	if text == "history_v1.sql" {
		return
	}
	ps, err := db.Photos(ctx, inspect.PhotoFilter{})
	must(t, err)
	if len(ps) != 3 {
		t.Fatalf("%d photos", len(ps))
	}
	want := inspect.Photo{ID: "p1", SHA256: "s1", Format: "jpeg", Bytes: 123456, Width: 4000, Height: 3000, Orientation: 6,
		WallTime: "2026-05-05T12:01:02", Offset: "+02:00", OffsetSource: "exif", DateSource: "exif", SubSec: "57", Make: "M", Model: "C",
		BodySerial: "9", HasPosition: true, Sharpness: 0.75, Usable: true, Remarks: []string{"a little dark"}, FileName: "a b.jpg",
		VisitID: "visit-1", Check: "stanchions.coating", Leg: inspect.Left, Stage: inspect.Stripped, FittingID: "fitting-1", Role: "evidence",
		AddedBy: "Ada", AddedAt: ps[0].AddedAt}
	if !reflect.DeepEqual(ps[0], want) || ps[0].AddedAt.Format(time.RFC3339) != "2026-05-05T12:30:00+02:00" {
		t.Errorf("got  %+v\nwant %+v", ps[0], want)
	}
	if ps[1].ID != "p2" || ps[1].Remarks != nil || ps[2].ID != "p3" || ps[2].VisitID != "visit-2" {
		t.Errorf("got %+v", ps[1:])
	}
	cs, err := db.Consents(ctx, "visit-2")
	must(t, err)
	if len(cs) != 1 || !cs[0].Accepted || cs[0].Signature != nil {
		t.Errorf("answers: %+v", cs)
	}
	var log int
	must(t, raw(t, db.File()).QueryRow("SELECT count(*) FROM change_log WHERE row_id IN ('p1', 'p2', 'p3', 'k1') AND what = 'add'").Scan(&log))
	if log != 4 {
		t.Errorf("%d lines of the change log are left, want 4", log)
	}
}

// A migration that fails leaves the old version as it was.
func TestMigrationIsAllOrNothing(t *testing.T) {
	dir := oldLibrary(t, "testdata/history_v1.sql")
	file := filepath.Join(dir, store.FileName)
	h := raw(t, file)
	run(t, h, "CREATE TABLE fork_search (in_the_way TEXT)") // the second table of 0002
	_, err := store.Open(ctx, dir, store.Options{})
	refused(t, err, inspect.Internal, file)
	var version, tables int
	must(t, h.QueryRow("SELECT user_version FROM pragma_user_version").Scan(&version))
	must(t, h.QueryRow("SELECT count(*) FROM sqlite_schema WHERE name = 'customer_search'").Scan(&tables))
	if version != 1 || tables != 0 {
		t.Errorf("version %d, %d tables of the failed migration", version, tables)
	}
	run(t, h, "DROP TABLE fork_search")
	wantOldRecords(t, mustOpen(t, dir))
}
