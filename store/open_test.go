package store_test

import (
	"database/sql"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"sync"
	"testing"
	"time"

	"forkwear/inspect"
	"forkwear/store"
	"forkwear/store/librarytest"
)

// raw opens the file beside the package, as another program would.
func raw(t testing.TB, file string) *sql.DB {
	t.Helper()
	h, err := sql.Open("sqlite", "file:"+file)
	must(t, err)
	t.Cleanup(func() { h.Close() })
	return h
}

func run(t testing.TB, h *sql.DB, script string) {
	t.Helper()
	if _, err := h.Exec(script); err != nil {
		t.Fatal(err)
	}
}

// refused wants a refusal of this code whose sentence names the file.
func refused(t testing.TB, err error, code inspect.Code, file string) {
	t.Helper()
	if inspect.CodeOf(err) != code {
		t.Fatalf("got %v (%s), want %s", err, inspect.CodeOf(err), code)
	}
	if !strings.Contains(err.Error(), file) {
		t.Errorf("%q does not name %s", err, file)
	}
}

func seeded(t *testing.T) (dir, file string) {
	t.Helper()
	dir = filepath.Join(t.TempDir(), "the shop's 100% library #1?")
	db := mustOpen(t, dir)
	_, err := db.StartVisit(ctx, librarytest.DropOff(1))
	must(t, err)
	must(t, db.AddReadings(ctx, librarytest.Reading(1, "r1")))
	must(t, db.Close())
	return dir, filepath.Join(dir, store.FileName)
}

func TestReopen(t *testing.T) {
	dir, file := seeded(t)
	db := mustOpen(t, dir)
	rs, err := db.Readings(ctx, inspect.ReadingFilter{})
	must(t, err)
	if len(rs) != 1 || rs[0].ID != "r1" || db.File() != file {
		t.Errorf("after opening again: %v in %s", rs, db.File())
	}
}

func TestOwnerOnly(t *testing.T) {
	if runtime.GOOS == "windows" {
		t.Skip("permissions are inherited from the user's folder there")
	}
	dir := filepath.Join(t.TempDir(), "a", "b")
	db := mustOpen(t, dir)
	_, err := db.StartVisit(ctx, librarytest.DropOff(1))
	must(t, err)
	backup := filepath.Join(t.TempDir(), "copy.sqlite")
	must(t, db.Backup(ctx, backup))
	file := filepath.Join(dir, store.FileName)
	for _, path := range []string{dir, file, file + "-wal", file + "-shm", backup} {
		info, err := os.Stat(path)
		must(t, err)
		if info.Mode().Perm()&0o077 != 0 {
			t.Errorf("%s may be read by others: %v", path, info.Mode())
		}
	}
}

// A folder that is somebody's for other things keeps its permissions.
func TestFolderOfOthersStays(t *testing.T) {
	dir := t.TempDir()
	must(t, os.Chmod(dir, 0o755))
	must(t, os.WriteFile(filepath.Join(dir, "letter.txt"), nil, 0o644))
	mustOpen(t, dir)
	info, err := os.Stat(dir)
	must(t, err)
	if runtime.GOOS != "windows" && info.Mode().Perm() != 0o755 {
		t.Errorf("the folder became %v", info.Mode())
	}
}

func TestPragmas(t *testing.T) {
	dir, file := seeded(t)
	db := mustOpen(t, dir)
	for pragma, want := range map[string]string{"synchronous": "2", "foreign_keys": "1", "busy_timeout": "5000"} { // 2 is FULL
		if got, err := db.WriterPragma(ctx, pragma); err != nil || got != want {
			t.Errorf("%s is %s, want %s (%v)", pragma, got, want, err)
		}
	}
	h := raw(t, strings.NewReplacer("%", "%25", "#", "%23", "?", "%3f").Replace(file))
	for pragma, want := range map[string]string{"journal_mode": "wal", "user_version": "3", "application_id": fmt.Sprint(0x466b5772)} {
		var got string
		must(t, h.QueryRow("PRAGMA "+pragma).Scan(&got))
		if got != want {
			t.Errorf("%s is %s, want %s", pragma, got, want)
		}
	}
}

func TestNewerLibraryIsRefused(t *testing.T) {
	dir := t.TempDir()
	must(t, mustOpen(t, dir).Close())
	file := filepath.Join(dir, store.FileName)
	run(t, raw(t, file), "PRAGMA user_version = 99")
	for _, opt := range []store.Options{{}, {ReadOnly: true}} {
		_, err := store.Open(ctx, dir, opt)
		refused(t, err, inspect.TooNew, file)
		if !strings.Contains(err.Error(), "99") || !strings.Contains(err.Error(), "install") {
			t.Errorf("%q does not say the version and the way out", err)
		}
	}
}

func TestForeignDatabaseIsRefused(t *testing.T) {
	dir := t.TempDir()
	file := filepath.Join(dir, store.FileName)
	run(t, raw(t, file), "CREATE TABLE recipe (name TEXT)")
	_, err := store.Open(ctx, dir, store.Options{})
	refused(t, err, inspect.Invalid, file)
	var mode string
	must(t, raw(t, file).QueryRow("PRAGMA journal_mode").Scan(&mode))
	if mode == "wal" {
		t.Error("the foreign database was changed")
	}
}

func TestReadOnly(t *testing.T) {
	dir, file := seeded(t)
	db, err := store.Open(ctx, dir, store.Options{ReadOnly: true})
	must(t, err)
	defer db.Close()
	if _, err := db.Visit(ctx, "visit-1"); err != nil {
		t.Error(err)
	}
	refused(t, db.AddReadings(ctx, librarytest.Reading(1, "r2")), inspect.ReadOnly, file)
	if found := db.Verify(ctx); len(found) != 0 {
		t.Error(found)
	}
	must(t, db.Backup(ctx, filepath.Join(t.TempDir(), "b")))
	_, err = store.Open(ctx, t.TempDir(), store.Options{ReadOnly: true})
	refused(t, err, inspect.NotFound, store.FileName)
}

func TestFullDisk(t *testing.T) {
	dir, file := seeded(t)
	db := mustOpen(t, dir)
	must(t, db.LimitPages(ctx, 1)) // SQLite raises it to the present size
	var err error
	kept := 0
	for i := 0; i < 2000 && err == nil; i++ {
		r := librarytest.Reading(1, inspect.ID(fmt.Sprintf("x%04d", i)))
		r.Note = strings.Repeat("long note ", 200)
		if err = db.AddReadings(ctx, r); err == nil {
			kept++
		}
	}
	refused(t, err, inspect.Full, file)
	must(t, db.LimitPages(ctx, 1<<20)) // space again: all goes on, all is there
	must(t, db.AddReadings(ctx, librarytest.Reading(1, "after")))
	rs, err := db.Readings(ctx, inspect.ReadingFilter{})
	must(t, err)
	if len(rs) != kept+2 {
		t.Errorf("%d readings, want %d", len(rs), kept+2)
	}
}

func TestDamagedFile(t *testing.T) {
	for name, harm := range map[string]func(b []byte){
		"header": func(b []byte) { copy(b, "this is no database, it is a letter") },
		"pages": func(b []byte) {
			for i := 4096; i < len(b); i++ {
				b[i] ^= 0xa5
			}
		},
	} {
		t.Run(name, func(t *testing.T) {
			dir, file := seeded(t)
			b, err := os.ReadFile(file)
			must(t, err)
			harm(b)
			must(t, os.WriteFile(file, b, 0o600))
			refused(t, store.CheckFile(ctx, file), inspect.Damaged, file)
			db, err := store.Open(ctx, dir, store.Options{})
			if err == nil {
				defer db.Close()
				_, err = db.Visit(ctx, "visit-1")
				if found := db.Verify(ctx); len(found) == 0 {
					t.Error("Verify found nothing")
				}
			}
			refused(t, err, inspect.Damaged, file)
		})
	}
}

// Two programs make and use one library at the same time; every ticket is given
// once.
func TestTwoPrograms(t *testing.T) {
	dir := t.TempDir()
	var all sync.WaitGroup
	var mu sync.Mutex
	tickets := map[int]bool{}
	for p := range 2 {
		all.Go(func() {
			db, err := store.Open(ctx, dir, store.Options{Machine: fmt.Sprint("bench ", p)})
			if err != nil {
				t.Error(err)
				return
			}
			defer db.Close()
			for i := range 15 {
				ticket, err := db.StartVisit(ctx, librarytest.DropOff(p*100+i))
				if err != nil {
					t.Error(err)
				}
				mu.Lock()
				tickets[ticket] = true
				mu.Unlock()
				if _, err := db.Visits(ctx, inspect.VisitFilter{}); err != nil {
					t.Error(err)
				}
			}
		})
	}
	all.Wait()
	if len(tickets) != 30 || !tickets[1] || !tickets[30] {
		t.Errorf("tickets: %v", tickets)
	}
	if found := mustOpen(t, dir).Verify(ctx); len(found) != 0 {
		t.Error(found)
	}
}

func TestChangeLog(t *testing.T) {
	dir := t.TempDir()
	at := time.Date(2026, 1, 2, 3, 4, 5, 6, time.FixedZone("", -5400))
	db, err := store.Open(ctx, dir, store.Options{Machine: "bench", Clock: func() time.Time { return at }})
	must(t, err)
	defer db.Close()
	must(t, db.PutPreference(ctx, "units", "metric"))
	must(t, db.PutPreference(ctx, "units", "other"))
	_ = db.SaveFork(ctx, inspect.Fork{ID: "f", CustomerID: "none"}) // refused: leaves no line
	must(t, db.SaveCustomer(ctx, inspect.Customer{ID: "c"}))
	rows, err := raw(t, db.File()).Query("SELECT machine || seq || table_name || row_id || what || at || at_offset FROM change_log ORDER BY seq")
	must(t, err)
	defer rows.Close()
	var got []string
	for rows.Next() {
		var s string
		must(t, rows.Scan(&s))
		got = append(got, s)
	}
	// 03:04:05 at an hour and a half west of Greenwich is 04:34:05 there
	const when = "2026-01-02T04:34:05.000000006Z-5400"
	want := []string{"bench1preferenceunitsadd" + when, "bench2preferenceunitschange" + when, "bench3customercadd" + when}
	if fmt.Sprint(got) != fmt.Sprint(want) {
		t.Errorf("got  %v\nwant %v", got, want)
	}
}

// What is kept for ever is kept also from another program with SQL.
func TestKeptForEver(t *testing.T) {
	dir := t.TempDir()
	db := mustOpen(t, dir)
	d := librarytest.DropOff(1)
	_, err := db.StartVisit(ctx, d)
	must(t, err)
	must(t, db.AddReadings(ctx, librarytest.Reading(1, "r1")))
	must(t, db.Amend(ctx, inspect.Amendment{ID: "m", VisitID: d.Visit.ID, What: "x", At: d.Visit.DroppedOff}))
	must(t, db.AddAssessments(ctx, inspect.Assessment{ID: "a", VisitID: d.Visit.ID, Part: "p", At: d.Visit.DroppedOff,
		Override: &inspect.Override{ID: "o", Verdict: inspect.Reuse, Reason: "x", At: d.Visit.DroppedOff}}))
	must(t, db.AddConsents(ctx, inspect.Consent{ID: "c", VisitID: d.Visit.ID, At: d.Visit.DroppedOff}))
	must(t, db.Collect(ctx, d.Visit.ID, d.Visit.DroppedOff, "Ada"))
	h := raw(t, db.File())
	for _, table := range []string{"reading", "claim", "assessment", "override", "consent", "amendment"} {
		for _, q := range []string{"UPDATE " + table + " SET by_whom = 'x'", "DELETE FROM " + table} {
			if _, err := h.Exec(q); err == nil || !strings.Contains(err.Error(), "is never") {
				t.Errorf("%s: %v", q, err)
			}
		}
	}
	if _, err := h.Exec("UPDATE visit SET collected = NULL"); err == nil {
		t.Error("a collected visit was opened again")
	}
}

func TestCancelled(t *testing.T) {
	db := mustOpen(t, t.TempDir())
	gone, cancel := contextCancelled()
	defer cancel()
	if err := db.PutPreference(gone, "a", "b"); !errors.Is(err, gone.Err()) {
		t.Errorf("got %v", err)
	}
}
