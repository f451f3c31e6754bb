package main

import (
	"bytes"
	"context"
	"encoding/csv"
	"encoding/json"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"forkwear/inspect"
	"forkwear/inspect/shop"
)

const realPhotos = "../../testdata/photos"

// forkwear runs the command line and returns its exit code and output.
func forkwear(t *testing.T, args ...string) (int, string) {
	t.Helper()
	root := rootCommand()
	var out bytes.Buffer
	root.SetOut(&out)
	root.SetErr(&out)
	root.SetArgs(args)
	err := root.ExecuteContext(context.Background())
	if err != nil {
		out.WriteString(err.Error())
	}
	return exitCode(err), out.String()
}

// visitIn makes a library with one open visit and closes it again.
func visitIn(t *testing.T, dir string) inspect.Visit {
	t.Helper()
	ctx := context.Background()
	l, err := openLibrary(ctx, dir)
	if err != nil {
		t.Fatal(err)
	}
	v, err := l.desk.TakeIn(ctx, shop.Intake{Customer: inspect.Customer{Name: "Runa Oakmoor", Phone: "0170 555 1000"},
		Fork:  inspect.Fork{Maker: "Aldermoor", Model: "Slate 34", Sheet: "generic_34_air_bladder", Tag: "F001"},
		Hours: 120, HoursU: 10, Visit: inspect.Visit{Level: "lowers"}})
	if err != nil {
		t.Fatal(err)
	}
	if err := l.Close(); err != nil {
		t.Fatal(err)
	}
	return v
}

// TestIntake_RealPhotos takes every real and every broken file through the
// command line and holds the records against exiftool 12.57's reading of the
// same files (testdata/photos/exiftool_expected.csv; files and licences in
// SOURCES.md). Broken files get words, and the others are all there.
func TestIntake_RealPhotos(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "library")
	v := visitIn(t, dir)
	files, err := filepath.Glob(filepath.Join(realPhotos, "*.*"))
	if err != nil {
		t.Fatal(err)
	}
	args := []string{"--library", dir, "add", "1"}
	given := 0
	for _, f := range files {
		if e := filepath.Ext(f); e != ".md" && e != ".csv" {
			args = append(args, f)
			given++
		}
	}
	code, out := forkwear(t, args...)
	if code != 1 {
		t.Errorf("exit code %d, want 1: some files are broken on purpose\n%s", code, out)
	}
	kept := photosOf(t, dir, v.ID)
	refused := strings.Count(out, "not taken in:")
	if refused == 0 || len(kept)+refused != given {
		t.Errorf("%d kept and %d refused of %d files: every file is told once\n%s", len(kept), refused, given, out)
	}
	checked := 0
	for name, want := range expected(t) {
		p, ok := kept[name]
		if !ok {
			continue
		}
		checked++
		wall := strings.Replace(strings.Replace(want["date_time_original"], ":", "-", 2), " ", "T", 1)
		if wall == "" && p.DateSource != "file time" {
			t.Errorf("%s has no camera date and is filed by %q", name, p.DateSource)
		}
		if wall != "" && (p.WallTime != wall || p.DateSource != "exif") {
			t.Errorf("%s: taken %q (%s), exiftool %q", name, p.WallTime, p.DateSource, wall)
		}
		if want["offset"] != "" && (p.Offset != want["offset"] || p.OffsetSource != "exif") {
			t.Errorf("%s: offset %q from %q, exiftool %q", name, p.Offset, p.OffsetSource, want["offset"])
		}
		if p.Make != want["make"] || p.Model != want["model"] {
			t.Errorf("%s: camera %q %q, exiftool %q %q", name, p.Make, p.Model, want["make"], want["model"])
		}
	}
	if checked < 20 {
		t.Errorf("only %d files were held against exiftool's reading", checked)
	}
	if code, out := forkwear(t, "--library", dir, "verify"); code != 0 {
		t.Errorf("verify after the intake: %d\n%s", code, out)
	}
}

// The same bytes twice are kept once and told.
func TestIntake_SameBytesTwice(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "library")
	v := visitIn(t, dir)
	file := filepath.Join(realPhotos, "test_exif_canon.jpg")
	copied := filepath.Join(t.TempDir(), "copy.jpg")
	data, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(copied, data, 0o600); err != nil {
		t.Fatal(err)
	}
	if code, out := forkwear(t, "--library", dir, "add", "1", file); code != 0 {
		t.Fatal(out)
	}
	code, out := forkwear(t, "--library", dir, "add", "1", copied)
	if code != 0 || !strings.Contains(out, "known already") {
		t.Errorf("exit %d: %s", code, out)
	}
	if n := len(photosOf(t, dir, v.ID)); n != 1 {
		t.Errorf("%d photos kept, want 1", n)
	}
}

func photosOf(t *testing.T, dir string, visit inspect.ID) map[string]inspect.Photo {
	t.Helper()
	l, err := openLibrary(context.Background(), dir)
	if err != nil {
		t.Fatal(err)
	}
	defer func() { _ = l.Close() }()
	ps, err := l.db.Photos(context.Background(), inspect.PhotoFilter{VisitID: visit})
	if err != nil {
		t.Fatal(err)
	}
	byName := map[string]inspect.Photo{}
	for _, p := range ps {
		byName[p.FileName] = p
	}
	return byName
}

func expected(t *testing.T) map[string]map[string]string {
	t.Helper()
	f, err := os.Open(filepath.Join(realPhotos, "exiftool_expected.csv"))
	if err != nil {
		t.Fatal(err)
	}
	defer func() { _ = f.Close() }()
	rows, err := csv.NewReader(f).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	out := map[string]map[string]string{}
	for _, r := range rows[1:] {
		m := map[string]string{}
		for i, h := range rows[0] {
			m[h] = r[i]
		}
		out[m["file"]] = m
	}
	return out
}

// The main job by command line: what the window wrote is listed, assessed and
// reported, and wrong calls have the exit codes of the command line's contract.
func TestCommandLine(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "library")
	v := visitIn(t, dir)
	code, out := forkwear(t, "--library", dir, "visits", "--json")
	var rows []inspect.VisitRow
	if code != 0 || json.Unmarshal([]byte(out), &rows) != nil || len(rows) != 1 || rows[0].Visit.ID != v.ID {
		t.Errorf("visits: exit %d, %s", code, out)
	}
	code, out = forkwear(t, "--library", dir, "assess", "1", "--json")
	var as []inspect.Assessment
	if code != 0 || json.Unmarshal([]byte(out), &as) != nil || len(as) == 0 {
		t.Errorf("assess: exit %d, %.200s", code, out)
	}
	for _, c := range []struct {
		args []string
		code int
		says string
	}{
		{[]string{"assess", "99"}, 1, "99"},
		{[]string{"assess"}, 2, "ticket number"},
		{[]string{"report", "1"}, 2, "out"},
		{[]string{"report", "1", "--out", filepath.Join(dir, "r.pdf")}, 1, "not decided"},
		{[]string{"nonsense"}, 2, "unknown command"},
		{[]string{"visits", "--nonsense"}, 2, "nonsense"},
		{[]string{"add", "1", filepath.Join(dir, "missing.jpg")}, 1, "missing.jpg"},
		{[]string{"demo", dir}, 1, "already holds a library"},
	} {
		code, out := forkwear(t, append([]string{"--library", dir}, c.args...)...)
		if code != c.code || !strings.Contains(out, c.says) {
			t.Errorf("forkwear %v: exit %d, want %d, and %q in\n%s", c.args, code, c.code, c.says, out)
		}
	}
}

// A backup opens as a library and holds the same photos.
func TestBackupAndRestore(t *testing.T) {
	dir := t.TempDir()
	lib, copied, back := filepath.Join(dir, "library"), filepath.Join(dir, "backup"), filepath.Join(dir, "restored")
	v := visitIn(t, lib)
	if code, out := forkwear(t, "--library", lib, "add", "1", filepath.Join(realPhotos, "test_exif_canon.jpg")); code != 0 {
		t.Fatal(out)
	}
	if code, out := forkwear(t, "--library", lib, "backup", copied); code != 0 {
		t.Fatal(out)
	}
	if code, out := forkwear(t, "--library", lib, "backup", copied); code != 1 || !strings.Contains(out, "not empty") {
		t.Errorf("a backup into a full folder: exit %d, %s", code, out)
	}
	if code, out := forkwear(t, "restore", copied, back); code != 0 {
		t.Fatal(out)
	}
	if n := len(photosOf(t, back, v.ID)); n != 1 {
		t.Errorf("%d photos restored, want 1", n)
	}
	if code, out := forkwear(t, "--library", back, "verify"); code != 0 {
		t.Errorf("verify of the restored library: %s", out)
	}
}
