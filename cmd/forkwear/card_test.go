package main

import (
	"bytes"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
)

// TestCard: the sheet of a visit, by ticket and by id.
func TestCard(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "library")
	v := visitIn(t, dir)
	for _, name := range []string{strconv.Itoa(v.Ticket), string(v.ID)} {
		file := filepath.Join(t.TempDir(), "card.pdf")
		if code, out := forkwear(t, "--library", dir, "card", name, "--out", file, "--copies", "2", "--paper", "Letter"); code != 0 || !strings.Contains(out, "Wrote "+file) {
			t.Fatalf("exit %d: %s", code, out)
		}
		b, err := os.ReadFile(file)
		if err != nil || !bytes.HasPrefix(b, []byte("%PDF-")) || bytes.Contains(b, []byte("Oakmoor")) {
			t.Errorf("%.20q, %v", b, err)
		}
	}
}

func TestCardRefused(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "library")
	v := visitIn(t, dir)
	ticket, folder := strconv.Itoa(v.Ticket), t.TempDir()
	for _, k := range []struct {
		code int
		says string
		args []string
	}{
		{1, "ends in .pdf", []string{"card", ticket, "--out", filepath.Join(folder, "card.png")}},
		{1, "print 1 to 6", []string{"card", ticket, "--out", filepath.Join(folder, "card.pdf"), "--copies", "7"}},
		{1, "choose A4 or Letter", []string{"card", ticket, "--out", filepath.Join(folder, "card.pdf"), "--paper", "A3"}},
		{1, "folder", []string{"card", ticket, "--out", filepath.Join(folder, "none", "card.pdf")}},
		{1, "", []string{"card", "99999", "--out", filepath.Join(folder, "card.pdf")}},
		{2, "out", []string{"card", ticket}},
	} {
		if code, out := forkwear(t, append([]string{"--library", dir}, k.args...)...); code != k.code || !strings.Contains(out, k.says) {
			t.Errorf("%v: exit %d, %s", k.args, code, out)
		}
	}
	if left, _ := os.ReadDir(folder); len(left) != 0 {
		t.Errorf("files are left: %v", left)
	}
}
