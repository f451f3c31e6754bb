package store_test

import (
	"encoding/json"
	"os"
	"path/filepath"
	"testing"

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
