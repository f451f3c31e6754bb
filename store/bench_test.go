package store_test

import (
	"fmt"
	"strings"
	"testing"

	"forkwear/inspect"
	"forkwear/store"
)

// bigLibrary makes a library of so many visits, on two fifths as many forks,
// with one reading each, in SQL: writing it visit by visit would take minutes.
func bigLibrary(t testing.TB, dir string, visits int) *store.DB {
	t.Helper()
	db := mustOpen(t, dir)
	forks := visits * 2 / 5
	run(t, raw(t, db.File()), fmt.Sprintf(`BEGIN;
	CREATE TEMP TABLE n AS WITH RECURSIVE c(i) AS (SELECT 1 UNION ALL SELECT i + 1 FROM c WHERE i < %[1]d) SELECT i FROM c;
	CREATE TEMP TABLE word AS SELECT column1 AS k, column2 AS first, column3 AS last, column4 AS model FROM (VALUES
		(0, 'Jördis', 'Beispiel', 'Trail'), (1, 'Anna', 'Muster', 'Enduro'), (2, 'Björn', 'Probe', 'Race'), (3, 'Carla', 'Nachweis', 'Tour'),
		(4, 'Dario', 'Vorlage', 'Park'), (5, 'Edda', 'Entwurf', 'Marathon'), (6, 'Falk', 'Versuch', 'City'));
	INSERT INTO customer (id, name, phone, email, reach_by, note) SELECT 'c' || i,
		(SELECT first FROM word WHERE k = i %% 7) || ' ' || (SELECT last FROM word WHERE k = i / 7 %% 7) || ' ' || i,
		printf('+49 170 %%07d', i * 7919 %% 10000000), 'c' || i || '@example.org', 'phone', '' FROM n WHERE i <= %[2]d;
	INSERT INTO fork (id, customer_id, maker, model, year, serial, tag, sheet, note) SELECT 'f' || i, 'c' || i, 'Nordwind',
		(SELECT model FROM word WHERE k = i / 3 %% 7), 2010 + i %% 15, printf('NW%%08d', i * 104729 %% 100000000), 'T' || i, 'generic', '' FROM n WHERE i <= %[2]d;
	INSERT INTO visit (id, fork_id, customer_id, ticket, level, purpose, from_cause, step, waits_for, dropped_off, dropped_off_offset, collected,
		collected_offset, package_minor, package_currency, go_ahead_minor, go_ahead_currency, next_hours, taken_in_by, note)
		SELECT 'v' || i, 'f' || (i %% %[2]d + 1), 'c' || (i %% %[2]d + 1), i, 'full', 'paid', '', 'collected', '',
		strftime('%%Y-%%m-%%dT%%H:%%M:%%S', '2015-01-01', (i * 2) || ' hours') || '.000000000Z', 3600,
		CASE WHEN i < %[1]d - 40 THEN '2026-01-01T00:00:00.000000000Z' END, 0, 0, 'EUR', 0, 'EUR', 0, 'Ada', '' FROM n;
	INSERT INTO claim SELECT 'h' || i, 'f' || (i %% %[2]d + 1), 'v' || i, i / 100.0, 5, 0, 'typed', '', 'Ada', '2026-01-01T00:00:00.000000000Z', 0 FROM n;
	INSERT INTO fitting (id, fork_id, part, leg, fitted_visit, fitted_at, fitted_u, age_known, batch, end_hours, end_u, end_reason)
		SELECT 't' || (i %% %[2]d + 1), 'f' || (i %% %[2]d + 1), 'bushing_upper', 'left', 'v' || i, 0, 5, 1, '', 0, 0, '' FROM n WHERE i <= %[2]d;
	INSERT INTO reading (id, visit_id, fitting_id, check_id, leg, point, stage, answer, value, u, unit, typed, instrument, fields, note, by_whom, at, at_offset, retracted)
		SELECT 'r' || i, 'v' || i, 't' || (i %% %[2]d + 1), 'bushing_play', 'left', '', 'stripped', 'number', 0.1, 0.01, 'mm', '', '', '', '', 'Ada',
		'2026-01-01T00:00:00.000000000Z', 3600, 0 FROM n;
	COMMIT; ANALYZE`, visits, forks))
	must(t, db.Reindex(ctx))
	return db
}

// searches are what is typed at the counter: usual, rare, by phone, by serial,
// by tag, nothing to be found.
var searches = []string{"a", "jordis", "jördis beispiel 1", "0170 123", "+49 170 0007919", "nw 0104", "4729", "t19999", "xyzzy nobody", ""}

func BenchmarkFind(b *testing.B) {
	db := bigLibrary(b, b.TempDir(), 50000)
	for _, text := range searches {
		b.Run("forks/"+text, func(b *testing.B) {
			for b.Loop() {
				if _, err := db.FindForks(ctx, text, 50); err != nil {
					b.Fatal(err)
				}
			}
		})
		b.Run("customers/"+text, func(b *testing.B) {
			for b.Loop() {
				if _, err := db.FindCustomers(ctx, text, 50); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
	b.Run("open visits", func(b *testing.B) {
		for b.Loop() {
			if rows, err := db.Visits(ctx, inspect.VisitFilter{OpenOnly: true}); err != nil || len(rows) == 0 {
				b.Fatal(len(rows), err)
			}
		}
	})
	b.Run("trend rows", func(b *testing.B) {
		for b.Loop() {
			if rows, err := db.TrendRows(ctx, "bushing_play"); err != nil || len(rows) != 50000 {
				b.Fatal(len(rows), err)
			}
		}
	})
}

// What makes the searches fast is not measured here, where other work and the
// race detector change the time, but read from the plan: the words come from a
// covering index in its own order, all other tables are looked up by key, and
// nothing big is sorted. BenchmarkFind tells the time.
func TestFindUsesItsIndexes(t *testing.T) {
	db := bigLibrary(t, t.TempDir(), 1000)
	for _, text := range searches {
		forks, customers, err := db.SearchPlans(ctx, text)
		must(t, err)
		wantPlan(t, text, forks, "SCAN fork_search USING COVERING INDEX fork_search_recent")
		wantPlan(t, text, customers, "SCAN customer_search USING COVERING INDEX customer_search_name")
	}
	rows, err := db.FindForks(ctx, "t399", 0)
	must(t, err)
	if len(rows) != 1 || rows[0].Visits < 2 {
		t.Errorf("tag t399: %v", rows)
	}
}

// wantPlan wants the one scan of words and no scan of a whole other table.
func wantPlan(t *testing.T, text string, steps []string, scan string) {
	t.Helper()
	found, outer := false, false // outer: past the search, at the few rows it gave
	for _, step := range steps {
		found, outer = found || step == scan, outer || step == "SCAN s"
		if strings.HasPrefix(step, "SCAN") && step != scan && step != "SCAN s" { // s: the rows already found
			t.Errorf("%q: %s", text, step)
		}
		if strings.HasPrefix(step, "USE TEMP B-TREE") && !outer {
			t.Errorf("%q sorts all words: %s", text, step)
		}
	}
	if !found {
		t.Errorf("%q does not use its index: %v", text, steps)
	}
}
