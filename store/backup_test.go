package store_test

import (
	"context"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"forkwear/inspect"
	"forkwear/store"
	"forkwear/store/librarytest"
)

func contextCancelled() (context.Context, context.CancelFunc) {
	c, cancel := context.WithCancel(ctx)
	cancel()
	return c, cancel
}

func TestBackupAndRestore(t *testing.T) {
	dir, file := seeded(t)
	db := mustOpen(t, dir)
	backups := t.TempDir()
	backup := filepath.Join(backups, "copy.sqlite")
	must(t, db.Backup(ctx, backup))
	must(t, db.AddReadings(ctx, librarytest.Reading(1, "later")))
	must(t, store.CheckFile(ctx, backup))

	home := filepath.Join(t.TempDir(), "new")
	must(t, store.Restore(ctx, backup, home))
	back := mustOpen(t, home)
	rs, err := back.Readings(ctx, inspect.ReadingFilter{})
	must(t, err)
	if len(rs) != 1 || rs[0].ID != "r1" {
		t.Errorf("restored: %v", rs)
	}
	if found := back.Verify(ctx); len(found) != 0 {
		t.Error(found)
	}
	must(t, db.Backup(ctx, backup)) // replaces the older one
	refused(t, store.Restore(ctx, backup, home), inspect.Conflict, home)
	refused(t, db.Backup(ctx, file), inspect.Invalid, file)
	refused(t, db.Backup(ctx, filepath.Join(backups, "no", "folder")), inspect.NotFound, "folder")
	refused(t, store.CheckFile(ctx, filepath.Join(backups, "none")), inspect.NotFound, "none")
	gone, cancel := contextCancelled()
	defer cancel()
	if err := db.Backup(gone, filepath.Join(backups, "gone")); err == nil {
		t.Error("a cancelled backup says it is done")
	}
	left, err := os.ReadDir(backups)
	must(t, err)
	if len(left) != 1 {
		t.Errorf("left behind: %v", left)
	}
}

// Verify finds what another program broke, and goes on after each.
func TestVerify(t *testing.T) {
	db := mustOpen(t, t.TempDir())
	for n := 1; n <= 2; n++ {
		_, err := db.StartVisit(ctx, librarytest.DropOff(n))
		must(t, err)
	}
	two := librarytest.Reading(1, "r2")
	must(t, db.AddReadings(ctx, librarytest.Reading(1, "r1"), two))
	p := inspect.Photo{ID: "p1", SHA256: "s1", VisitID: "visit-2", AddedAt: two.At}
	_, err := db.AddPhoto(ctx, p)
	must(t, err)
	p.ID, p.VisitID = "p0", ""
	_, err = db.AddPhoto(ctx, p)
	must(t, err)
	must(t, db.AddPhotoMeasure(ctx, inspect.PhotoMeasure{ID: "size-1", PhotoID: "p1", Kind: "length", Line: make([]inspect.Spot, 2), Unit: "mm", At: two.At}))
	run(t, raw(t, db.File()), `PRAGMA foreign_keys = 0;
		DROP TRIGGER photo_measure_stays;
		UPDATE photo_measure SET reading_id = 'r1';
		DROP TRIGGER reading_stays; DROP TRIGGER change_log_kept;
		UPDATE complaint SET visit_id = 'gone' WHERE id = 'complaint-2';
		UPDATE fitting SET fork_id = 'fork-2', leg = 'right' WHERE id = 'fitting-1';
		DELETE FROM change_log WHERE seq = 2;
		DELETE FROM fork_search WHERE fork_id = 'fork-1'`)
	var all strings.Builder
	for _, err := range db.Verify(ctx) {
		all.WriteString(string(inspect.CodeOf(err)) + ": " + err.Error() + "\n")
	}
	for _, want := range []string{
		"damaged: " + db.File() + ": complaint row 2 names a missing visit",
		"conflict: ticket 1, stripped, check bushing_play left upper/front has 2 readings in force",
		"reading r1 is of a part of another fork", "fitting fitting-1 names a visit of another fork",
		"change log of machine bench has a gap", "fork fork-1 can't be searched for",
		"the size size-1 on a photo names a reading of another visit", "photo p0 waits for its visit",
	} {
		if !strings.Contains(all.String(), want) {
			t.Errorf("missing %q in\n%s", want, all.String())
		}
	}
	must(t, db.Reindex(ctx))
	for _, err := range db.Verify(ctx) {
		if strings.Contains(err.Error(), "searched") {
			t.Error(err)
		}
	}
}
