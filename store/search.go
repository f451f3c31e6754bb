package store

import (
	"context"
	"database/sql"
	"strconv"
	"strings"
	"unicode"

	"forkwear/inspect"

	"golang.org/x/text/unicode/norm"
)

// Search works on normalised words, stored with a space before and after each:
// small letters without accents. A word of letters is found by its beginning, a
// number of three or more figures anywhere in a word, since serials and phones
// are asked for by their last figures.

var spelledOut = strings.NewReplacer("ß", "ss", "ø", "o", "æ", "ae", "œ", "oe", "ł", "l", "đ", "d", "ð", "d", "þ", "th")

// fold turns text into small letters without accents.
func fold(s string) string {
	var b strings.Builder
	for _, r := range norm.NFKD.String(strings.ToLower(s)) {
		if !unicode.Is(unicode.Mn, r) {
			b.WriteRune(r)
		}
	}
	return spelledOut.Replace(b.String())
}

// wordsOf splits text into words, and adds what is written with marks inside
// ("A-17") as one word too ("a17").
func wordsOf(texts ...string) []string {
	var out []string
	for _, s := range texts {
		for _, chunk := range strings.Fields(fold(s)) {
			parts := strings.FieldsFunc(chunk, func(r rune) bool { return !unicode.IsLetter(r) && !unicode.IsDigit(r) })
			out = append(out, parts...)
			if len(parts) > 1 {
				out = append(out, strings.Join(parts, ""))
			}
		}
	}
	return out
}

// phoneDigits returns the figures of a phone number without the "(0)" that is
// not dialled from abroad; "" where the text is none.
func phoneDigits(s string) string {
	var b strings.Builder
	for _, r := range strings.ReplaceAll(s, "(0)", "") {
		switch {
		case r >= '0' && r <= '9':
			b.WriteRune(r)
		case !strings.ContainsRune(" +-/().", r):
			return ""
		}
	}
	return b.String()
}

func stored(words []string) string { return " " + strings.Join(words, " ") + " " }

// matching is the condition on the column words that a search text makes: every
// word must be found, or the whole text is part of a phone number.
func matching(text string) (condition string, args []any) {
	var all []string
	for _, chunk := range strings.Fields(fold(text)) {
		parts := strings.FieldsFunc(chunk, func(r rune) bool { return !unicode.IsLetter(r) && !unicode.IsDigit(r) })
		for _, p := range parts {
			all = append(all, "instr(words, ?) > 0")
			args = append(args, asked(p))
		}
	}
	if len(all) == 0 {
		return "1", nil
	}
	condition = "(" + strings.Join(all, " AND ") + ")"
	// the country code replaces the leading noughts: leave them out
	if digits := strings.TrimLeft(phoneDigits(strings.TrimSpace(text)), "0"); len(digits) >= 3 {
		condition = "(" + condition + " OR instr(words, ?) > 0)"
		args = append(args, digits)
	}
	return condition, args
}

func asked(word string) string {
	if len(word) >= 3 && strings.ContainsFunc(word, unicode.IsDigit) {
		return word
	}
	return " " + word
}

func customerWords(c inspect.Customer) []string {
	return append(wordsOf(c.Name, c.Email), phoneDigits(c.Phone))
}

// indexCustomer renews the words of a customer and of all their forks.
func indexCustomer(ctx context.Context, tx *sql.Tx, c inspect.Customer) error {
	const q = `INSERT INTO customer_search (customer_id, name, words) VALUES (?, ?, ?)
		ON CONFLICT (customer_id) DO UPDATE SET name = excluded.name, words = excluded.words`
	if _, err := tx.ExecContext(ctx, q, string(c.ID), fold(c.Name), stored(customerWords(c))); err != nil {
		return err
	}
	forks, err := gather(ctx, tx, forkColumns, "FROM fork WHERE customer_id = ?", string(c.ID))
	if err != nil {
		return err
	}
	for _, f := range forks {
		if err := indexFork(ctx, tx, f.ID); err != nil {
			return err
		}
	}
	return nil
}

// indexFork renews the words of one fork and the time of its last visit.
func indexFork(ctx context.Context, tx *sql.Tx, id inspect.ID) error {
	return indexForks(ctx, tx, "WHERE f.id = ?", string(id))
}

func indexForks(ctx context.Context, tx *sql.Tx, rest string, args ...any) error {
	type row struct {
		fork     inspect.Fork
		customer inspect.Customer
		last     string
	}
	rows, err := gather(ctx, tx, func(r *row) columns {
		cs := append(forkColumns(&r.fork).of("f"), customerColumns(&r.customer).of("c")...)
		return append(cs, text("coalesce((SELECT max(v.dropped_off) FROM visit v WHERE v.fork_id = f.id), '')", &r.last))
	}, "FROM fork f JOIN customer c ON c.id = f.customer_id "+rest, args...)
	if err != nil {
		return err
	}
	put, err := tx.PrepareContext(ctx, `INSERT INTO fork_search (fork_id, last_visit, words) VALUES (?, ?, ?)
		ON CONFLICT (fork_id) DO UPDATE SET last_visit = excluded.last_visit, words = excluded.words`)
	if err != nil {
		return err
	}
	defer put.Close()
	for _, r := range rows {
		words := append(wordsOf(r.fork.Maker, r.fork.Model, r.fork.Serial, r.fork.Tag), customerWords(r.customer)...)
		if r.fork.Year > 0 {
			words = append(words, strconv.Itoa(r.fork.Year))
		}
		if _, err := put.ExecContext(ctx, string(r.fork.ID), r.last, stored(words)); err != nil {
			return err
		}
	}
	return nil
}

// Reindex makes all search words anew, as after a change of their rules.
func (db *DB) Reindex(ctx context.Context) error {
	return db.write(ctx, func(tx *sql.Tx) error { return reindex(ctx, tx) })
}

func reindex(ctx context.Context, tx *sql.Tx) error {
	if _, err := tx.ExecContext(ctx, "DELETE FROM customer_search; DELETE FROM fork_search"); err != nil {
		return err
	}
	customers, err := gather(ctx, tx, customerColumns, "FROM customer")
	if err != nil {
		return err
	}
	put, err := tx.PrepareContext(ctx, "INSERT INTO customer_search (customer_id, name, words) VALUES (?, ?, ?)")
	if err != nil {
		return err
	}
	defer put.Close()
	for _, c := range customers {
		if _, err := put.ExecContext(ctx, string(c.ID), fold(c.Name), stored(customerWords(c))); err != nil {
			return err
		}
	}
	return indexForks(ctx, tx, "")
}
