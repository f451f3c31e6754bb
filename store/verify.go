package store

import (
	"context"
	"database/sql"
	"fmt"

	"forkwear/inspect"
)

// Verify looks over the whole library and returns all it found; none is good.
// It goes on after what it finds: bytes, references, conflicts of readings,
// records that belong to two forks, gaps of the change log, missing search words.
func (db *DB) Verify(ctx context.Context) []error {
	found := integrity(ctx, db.reader, db.file)
	found = append(found, db.brokenReferences(ctx)...)
	found = append(found, db.conflicts(ctx)...)
	for _, r := range rules {
		found = append(found, db.check(ctx, r)...)
	}
	return found
}

func integrity(ctx context.Context, h *sql.DB, file string) []error {
	said, err := lines(ctx, h, "PRAGMA integrity_check")
	if err != nil {
		return []error{refuse(file, err)}
	}
	var found []error
	for _, l := range said {
		if l != "ok" {
			found = append(found, inspect.Refuse(inspect.Damaged, "%s is damaged (%s): keep it as it is and restore the newest backup into a new folder", file, l))
		}
	}
	return found
}

func (db *DB) brokenReferences(ctx context.Context) []error {
	said, err := lines(ctx, db.reader, `SELECT "table" || ' row ' || coalesce(rowid, '?') || ' names a missing ' || "parent" FROM pragma_foreign_key_check`)
	if err != nil {
		return []error{refuse(db.file, err)}
	}
	var found []error
	for _, l := range said {
		found = append(found, inspect.Refuse(inspect.Damaged, "%s: %s: restore the newest backup into a new folder", db.file, l))
	}
	return found
}

// conflicts finds the slots where two readings claim to be in force.
func (db *DB) conflicts(ctx context.Context) []error {
	said, err := lines(ctx, db.reader, `SELECT 'ticket ' || v.ticket || ', ' || r.stage || ', check ' || r.check_id || ' ' || r.leg || ' ' || r.point
			|| ' has ' || count(*) || ' readings in force'
		FROM reading r JOIN visit v ON v.id = r.visit_id
		WHERE NOT EXISTS (SELECT 1 FROM reading n WHERE n.supersedes = r.id)
		GROUP BY r.visit_id, r.stage, r.check_id, r.leg, r.point HAVING count(*) > 1 ORDER BY v.ticket`)
	if err != nil {
		return []error{refuse(db.file, err)}
	}
	var found []error
	for _, l := range said {
		found = append(found, inspect.Refuse(inspect.Conflict, "%s: choose one of them", l))
	}
	return found
}

// rule is one thing that must hold between records: query returns the ids of
// those that break it.
type rule struct {
	query, says string
	code        inspect.Code
}

var rules = []rule{
	{`SELECT r.id FROM reading r JOIN visit v ON v.id = r.visit_id JOIN fitting t ON t.id = r.fitting_id WHERE t.fork_id <> v.fork_id`,
		"reading %s is of a part of another fork", inspect.Damaged},
	{`SELECT p.id FROM photo p JOIN visit v ON v.id = p.visit_id JOIN fitting t ON t.id = p.fitting_id WHERE t.fork_id <> v.fork_id`,
		"photo %s is of a part of another fork", inspect.Damaged},
	{`SELECT a.id FROM assessment a JOIN visit v ON v.id = a.visit_id JOIN fitting t ON t.id = a.fitting_id WHERE t.fork_id <> v.fork_id`,
		"assessment %s is of a part of another fork", inspect.Damaged},
	{`SELECT c.id FROM claim c JOIN visit v ON v.id = c.visit_id WHERE c.fork_id <> v.fork_id`,
		"claim %s names a visit of another fork", inspect.Damaged},
	{`SELECT t.id FROM fitting t JOIN visit v ON v.id = t.fitted_visit LEFT JOIN visit e ON e.id = t.end_visit
		WHERE v.fork_id <> t.fork_id OR e.fork_id <> t.fork_id`,
		"fitting %s names a visit of another fork", inspect.Damaged},
	{`SELECT r.id FROM reading r JOIN reading o ON o.id = r.supersedes WHERE (r.visit_id, r.stage, r.check_id, r.leg, r.point)
		<> (o.visit_id, o.stage, o.check_id, o.leg, o.point)`,
		"reading %s corrects one of another place", inspect.Damaged},
	{`SELECT m.id FROM photo_measure m JOIN photo p ON p.id = m.photo_id JOIN reading r ON r.id = m.reading_id WHERE r.visit_id IS NOT p.visit_id`,
		"the size %s on a photo names a reading of another visit", inspect.Damaged},
	{`SELECT u.id FROM photo u JOIN photo p ON p.sha256 = u.sha256 JOIN visit v ON v.id = p.visit_id WHERE u.visit_id IS NULL AND v.collected IS NULL`,
		"photo %s waits for its visit, and the same bytes lie with an open visit already: file it there", inspect.Conflict},
	{`SELECT machine FROM change_log GROUP BY machine HAVING max(seq) <> count(*)`,
		"the change log of machine %s has a gap", inspect.Damaged},
	{`SELECT f.id FROM fork f LEFT JOIN fork_search s ON s.fork_id = f.id WHERE s.fork_id IS NULL`,
		"fork %s can't be searched for: save it again", inspect.Invalid},
	{`SELECT c.id FROM customer c LEFT JOIN customer_search s ON s.customer_id = c.id WHERE s.customer_id IS NULL`,
		"customer %s can't be searched for: save it again", inspect.Invalid},
}

func (db *DB) check(ctx context.Context, r rule) []error {
	ids, err := lines(ctx, db.reader, r.query)
	if err != nil {
		return []error{refuse(db.file, err)}
	}
	var found []error
	for _, id := range ids {
		found = append(found, inspect.Refuse(r.code, "%s: %s", db.file, fmt.Sprintf(r.says, id)))
	}
	return found
}

func lines(ctx context.Context, q querier, query string, args ...any) ([]string, error) {
	rows, err := q.QueryContext(ctx, query, args...)
	if err != nil {
		return nil, err
	}
	defer rows.Close()
	var out []string
	for rows.Next() {
		var s string
		if err := rows.Scan(&s); err != nil {
			return nil, err
		}
		out = append(out, s)
	}
	return out, rows.Err()
}
