package main

import (
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"os/exec"
	"slices"
	"strings"
	"testing"
)

// pkg is what `go list -json` says about a package of this module.
type pkg struct {
	ImportPath   string
	Imports      []string // of the package itself
	TestImports  []string
	XTestImports []string
	Deps         []string // everything it is linked with
	Error        *struct{ Err string }
}

// rule says what the packages of one layer may know. A nil allow list allows
// everything that is not banned.
type rule struct {
	layer   string   // "inspect": the package and all below
	own     []string // layers of this module it may reach, directly or through others
	banned  []string // may not be reached, directly or through others
	direct  []string // may not be imported by the package itself
	modules []string // outside modules it may import; nil: any
}

const fyneModule = "fyne.io/fyne/v2"

// rules are those of DEVELOPERS.md, "Who may know whom".
var rules = []rule{
	{layer: "inspect", own: []string{"inspect"}, banned: []string{"fyne.io", "database/sql", "image"},
		direct:  []string{"os", "log", "net", "syscall", "unsafe"},
		modules: []string{"gonum.org/v1/gonum", "github.com/BurntSushi/toml"}},
	{layer: "media", own: []string{"media", "inspect"}, banned: []string{"fyne.io", "database/sql", "modernc.org/sqlite"}},
	{layer: "store", own: []string{"store", "inspect"}, banned: []string{"fyne.io"}},
	{layer: "ui", own: []string{"ui", "inspect", "media"}, banned: []string{module + "/media/vault", "database/sql", "modernc.org/sqlite"}},
	{layer: "ui/report", own: []string{"ui", "inspect", "media"}, banned: []string{"fyne.io"}},
	{layer: "cmd/dev", own: []string{"cmd/dev"}, modules: []string{}, direct: []string{"C"}},
}

// only says which layers alone may import something, tests included.
var only = []struct{ what, layer string }{
	{"database/sql", "store"},
	{"modernc.org/sqlite", "store"},
	{"github.com/rwcarlsen/goexif", "media/exif"},
}

// under is true for a path and everything below it.
func under(path, top string) bool { return path == top || strings.HasPrefix(path, top+"/") }

func underAny(path string, tops []string) bool {
	return slices.ContainsFunc(tops, func(t string) bool { return under(path, t) })
}

// outside is true for packages that are neither ours nor Go's.
func outside(path string) bool {
	first, _, _ := strings.Cut(path, "/")
	return !under(path, module) && strings.Contains(first, ".")
}

// inLayer gives "ui/report" for forkwear/ui/report.
func inLayer(path, layer string) bool { return under(path, module+"/"+layer) }

// broken lists every rule that the packages break. Rules for layers that do not
// exist yet find nothing to break.
func broken(pkgs []pkg) []string {
	var out []string
	say := func(format string, args ...any) { out = append(out, fmt.Sprintf(format, args...)) }
	for _, p := range pkgs {
		for _, r := range rules {
			if inLayer(p.ImportPath, r.layer) {
				checkRule(p, r, say)
			}
		}
		all := slices.Concat(p.Imports, p.TestImports, p.XTestImports)
		for _, o := range only {
			for _, i := range all {
				if under(i, o.what) && !inLayer(p.ImportPath, o.layer) {
					say("%s imports %s, which only %s may", p.ImportPath, i, o.layer)
				}
			}
		}
	}
	slices.Sort(out)
	return slices.Compact(out)
}

func checkRule(p pkg, r rule, say func(string, ...any)) {
	// Conformance suites (package inspect/...test) are run by tests only.
	suite := strings.HasSuffix(p.ImportPath, "test")
	for _, i := range p.Imports {
		if underAny(i, r.direct) {
			say("%s imports %s, which %s may not", p.ImportPath, i, r.layer)
		}
		if r.modules != nil && outside(i) && !underAny(i, r.modules) && !(suite && i == "pgregory.net/rapid") {
			say("%s imports %s, a library that %s may not know", p.ImportPath, i, r.layer)
		}
	}
	for _, d := range slices.Concat(p.Imports, p.Deps) {
		if underAny(d, r.banned) {
			say("%s reaches %s, which %s may not know", p.ImportPath, d, r.layer)
		}
		own := slices.ContainsFunc(r.own, func(o string) bool { return inLayer(d, o) })
		if under(d, module) && !own {
			say("%s reaches %s, which %s may not know", p.ImportPath, d, r.layer)
		}
	}
}

// listed asks the go command about every package of the module.
func listed(t *testing.T) []pkg {
	t.Helper()
	root, err := findRoot()
	if err != nil {
		t.Fatal(err)
	}
	cmd := exec.Command("go", "list", "-e", "-json=ImportPath,Imports,TestImports,XTestImports,Deps,Error", "./...")
	cmd.Dir = root
	text, err := cmd.Output()
	if err != nil {
		t.Fatalf("go list: %v", err)
	}
	var out []pkg
	for dec := json.NewDecoder(strings.NewReader(string(text))); ; {
		var p pkg
		if err := dec.Decode(&p); errors.Is(err, io.EOF) {
			return out
		} else if err != nil {
			t.Fatal(err)
		}
		out = append(out, p)
	}
}

func TestLayers(t *testing.T) {
	pkgs := listed(t)
	if !slices.ContainsFunc(pkgs, func(p pkg) bool { return p.ImportPath == module+"/cmd/dev" && len(p.Deps) > 10 }) {
		t.Fatal("go list does not know this package itself: the test would see nothing")
	}
	for _, p := range pkgs {
		if p.Error != nil { // its imports are unknown, so no rule would see it
			t.Errorf("%s cannot be read: %s", p.ImportPath, p.Error.Err)
		}
	}
	for _, line := range broken(pkgs) {
		t.Error(line)
	}
}

// Invented import lists: each breaks one rule, or none.
func TestLayerRulesBite(t *testing.T) {
	one := func(path string, imports ...string) pkg {
		return pkg{ImportPath: module + "/" + path, Imports: imports}
	}
	far := func(path string, deps ...string) pkg { return pkg{ImportPath: module + "/" + path, Deps: deps} }
	tests := []struct {
		name string
		p    pkg
		want string // part of the complaint; "" for none
	}{
		{"inspect may do sums", one("inspect/stats", "math", "gonum.org/v1/gonum/stat", "github.com/BurntSushi/toml"), ""},
		{"inspect through gonum reaches os", far("inspect/stats", "os", "log", "gonum.org/v1/gonum/mat"), ""},
		{"inspect reads files", one("inspect/catalog", "os"), "imports os"},
		{"inspect reads files another way", one("inspect/catalog", "os/exec"), "imports os/exec"},
		{"inspect logs", one("inspect/wear", "log/slog"), "imports log/slog"},
		{"inspect opens images", far("inspect", "image/png"), "reaches image/png"},
		{"inspect knows SQL", far("inspect/shop", "database/sql"), "reaches database/sql"},
		{"inspect plots", one("inspect/life", "gonum.org/v1/plot"), "a library"},
		{"inspect makes ids", one("inspect", "github.com/google/uuid"), "a library"},
		{"inspect knows media", far("inspect/shop", module+"/media/exif"), "reaches " + module + "/media/exif"},
		{"a suite may use rapid", one("inspect/porttest", "testing", "pgregory.net/rapid"), ""},
		{"the domain may not use rapid", one("inspect/wear", "pgregory.net/rapid"), "a library"},
		{"media decodes", one("media/decode", "image", "os", "golang.org/x/image/webp", module+"/inspect"), ""},
		{"media knows store", far("media/vault", module+"/store"), "reaches " + module + "/store"},
		{"media knows the window", far("media/scale", fyneModule+"/canvas"), "reaches fyne.io"},
		{"store keeps", one("store", "database/sql", "modernc.org/sqlite", module+"/inspect"), ""},
		{"store knows media", far("store", module+"/media/vault"), "reaches " + module + "/media/vault"},
		{"store knows ui", far("store", module+"/ui/words"), "reaches " + module + "/ui/words"},
		{"ui measures pixels", one("ui/screens", fyneModule+"/widget", module+"/media/scale", module+"/inspect/shop"), ""},
		{"ui knows store", one("ui/screens", module+"/store"), "reaches " + module + "/store"},
		{"ui knows store through others", far("ui", module+"/store"), "reaches " + module + "/store"},
		{"ui writes photos", far("ui", module+"/media/vault"), "media/vault"},
		{"a report without a window", far("ui/report", "codeberg.org/go-pdf/fpdf", module+"/ui/words"), ""},
		{"a report with a window", far("ui/report", fyneModule), "reaches " + fyneModule},
		{"a name that only begins like ui", one("uist", module+"/store"), ""},
		{"cmd joins them", one("cmd/forkwear", module+"/store", module+"/ui", module+"/media/vault"), ""},
		{"cmd asks the database", one("cmd/forkwear", "database/sql"), "only store may"},
		{"a test asks the database", pkg{ImportPath: module + "/ui", XTestImports: []string{"database/sql/driver"}}, "only store may"},
		{"exif by the exif package", one("media/exif", "github.com/rwcarlsen/goexif/exif"), ""},
		{"exif elsewhere", one("media/decode", "github.com/rwcarlsen/goexif/exif"), "only media/exif may"},
		{"the chores use a library", one("cmd/dev", "github.com/spf13/cobra"), "a library"},
		{"the chores use cgo", one("cmd/dev", "C"), "imports C"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			got := strings.Join(broken([]pkg{tt.p}), "\n")
			if (tt.want == "") != (got == "") || !strings.Contains(got, tt.want) {
				t.Errorf("complaints %q, want %q", got, tt.want)
			}
		})
	}
}
