package main

import (
	"bytes"
	"fmt"
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"
)

// call is a use of a function of an imported package: "os.Create" in a file.
type call struct{ file, name string }

// callsIn lists the functions of other packages that a Go file mentions, by
// their real package name even when the import is renamed.
func callsIn(file string, text []byte) ([]call, error) {
	f, err := parser.ParseFile(token.NewFileSet(), file, text, parser.SkipObjectResolution)
	if err != nil {
		return nil, err
	}
	real := map[string]string{}
	for _, i := range f.Imports {
		p, err := strconv.Unquote(i.Path.Value)
		if err != nil {
			return nil, err
		}
		name := path.Base(p)
		if p == fyneModule {
			name = "fyne"
		}
		local := name
		if i.Name != nil {
			local = i.Name.Name
		}
		real[local] = name
	}
	var out []call
	ast.Inspect(f, func(n ast.Node) bool {
		if s, ok := n.(*ast.SelectorExpr); ok {
			if x, ok := s.X.(*ast.Ident); ok && real[x.Name] != "" {
				out = append(out, call{file, real[x.Name] + "." + s.Sel.Name})
			}
		}
		return true
	})
	return out, nil
}

var (
	threadCalls = []string{"fyne.Do", "fyne.DoAndWait"}
	clockCalls  = []string{"time.Now", "time.Since", "time.Until", "time.Sleep", "time.After", "time.NewTimer", "time.Tick"}
	writeCalls  = []string{"os.Create", "os.CreateTemp", "os.WriteFile", "os.OpenFile", "os.Rename"}
)

// writesFiles: the vault writes photo files, the journal of the watched folder a
// list of the sums that were taken in.
func writesFiles(file string) bool {
	return strings.HasPrefix(file, "media/vault/") || file == "media/watch/journal.go"
}

// misplaced lists the calls that stand where the layers do not want them.
func misplaced(calls []call) []string {
	var out, threads []string
	for _, c := range calls {
		switch {
		case slices.Contains(threadCalls, c.name) && !slices.Contains(threads, c.file):
			threads = append(threads, c.file)
			if !strings.HasPrefix(c.file, "ui/") {
				out = append(out, fmt.Sprintf("%s calls %s, which is for one file of ui", c.file, c.name))
			}
		case strings.HasPrefix(c.file, "inspect/") && slices.Contains(clockCalls, c.name):
			out = append(out, fmt.Sprintf("%s asks %s: the clock is handed in", c.file, c.name))
		case strings.HasPrefix(c.file, "media/") && !writesFiles(c.file) && slices.Contains(writeCalls, c.name):
			out = append(out, fmt.Sprintf("%s calls %s: only media/vault writes photo files", c.file, c.name))
		}
	}
	if len(threads) > 1 {
		out = append(out, fmt.Sprintf("%d files go to the window's thread, one may: %s", len(threads), strings.Join(threads, ", ")))
	}
	return out
}

// eachFile hands over every file of the repository that is not hidden by name;
// .ci and other dot files at the top are included, .git is not.
func eachFile(t *testing.T, use func(rel string, text []byte)) {
	t.Helper()
	root, err := findRoot()
	if err != nil {
		t.Fatal(err)
	}
	n := 0
	err = filepath.WalkDir(root, func(p string, d fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		if d.IsDir() {
			if d.Name() == ".git" || filepath.Base(filepath.Dir(p))+"/"+d.Name() == "testdata/failed" {
				return filepath.SkipDir
			}
			return nil
		}
		if !d.Type().IsRegular() {
			return nil
		}
		text, err := os.ReadFile(p)
		if os.IsNotExist(err) { // a temporary file of somebody else, gone again
			return nil
		}
		if err != nil {
			return err
		}
		rel, err := filepath.Rel(root, p)
		n++
		use(filepath.ToSlash(rel), text)
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	if n < 10 {
		t.Fatalf("only %d files seen: the test looks in the wrong place", n)
	}
}

func TestCallsStandWhereTheyMay(t *testing.T) {
	var calls []call
	eachFile(t, func(rel string, text []byte) {
		if path.Ext(rel) != ".go" || strings.HasSuffix(rel, "_test.go") || strings.Contains(rel, "testdata/") {
			return
		}
		found, err := callsIn(rel, text)
		if err != nil {
			t.Error(err)
		}
		calls = append(calls, found...)
	})
	for _, line := range misplaced(calls) {
		t.Error(line)
	}
}

func TestMisplacedCallsAreSeen(t *testing.T) {
	src := func(imports, body string) string {
		return "package p\nimport (" + imports + ")\nfunc f() { " + body + " }\n"
	}
	fyneImport := strconv.Quote(fyneModule)
	tests := []struct {
		name  string
		files map[string]string
		want  string
	}{
		{"one place", map[string]string{"ui/run.go": src(fyneImport, "fyne.Do(nil); fyne.DoAndWait(nil)")}, ""},
		{"two places", map[string]string{"ui/run.go": src(fyneImport, "fyne.Do(nil)"), "ui/screens/a.go": src("toolkit "+fyneImport, "toolkit.Do(nil)")}, "2 files"},
		{"outside ui", map[string]string{"cmd/forkwear/main.go": src(fyneImport, "fyne.Do(nil)")}, "one file of ui"},
		{"another Do", map[string]string{"ui/a.go": src(`"once"`, "once.Do(nil)"), "ui/b.go": src(`"once"`, "once.Do(nil)")}, ""},
		{"the clock in the domain", map[string]string{"inspect/wear/a.go": src(`"time"`, "time.Now()")}, "the clock is handed in"},
		{"durations in the domain", map[string]string{"inspect/wear/a.go": src(`"time"`, "_ = time.Hour")}, ""},
		{"the clock in ui", map[string]string{"ui/a.go": src(`"time"`, "time.Now()")}, ""},
		{"decode writes", map[string]string{"media/decode/a.go": src(`"os"`, `os.WriteFile("", nil, 0)`)}, "only media/vault"},
		{"vault writes", map[string]string{"media/vault/a.go": src(`"os"`, `os.Rename("", "")`)}, ""},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			var calls []call
			for file, text := range tt.files {
				found, err := callsIn(file, []byte(text))
				if err != nil {
					t.Fatal(err)
				}
				calls = append(calls, found...)
			}
			got := strings.Join(misplaced(calls), "\n")
			if (tt.want == "") != (got == "") || !strings.Contains(got, tt.want) {
				t.Errorf("complaints %q, want %q", got, tt.want)
			}
		})
	}
}

// topLevel is everything that may lie at the top, beside dot files.
var topLevel = []string{"cmd", "ui", "inspect", "media", "store", "testdata",
	"go.mod", "go.sum", "README.md", "DEVELOPERS.md", "FyneApp.toml"}

// strangers are the names that do not belong at the top.
func strangers(names []string) []string {
	return slices.DeleteFunc(slices.Clone(names), func(n string) bool {
		return strings.HasPrefix(n, ".") || slices.Contains(topLevel, n)
	})
}

func TestTopLevel(t *testing.T) {
	root, err := findRoot()
	if err != nil {
		t.Fatal(err)
	}
	entries, err := os.ReadDir(root)
	if err != nil {
		t.Fatal(err)
	}
	var names []string
	for _, e := range entries {
		names = append(names, e.Name())
	}
	if s := strangers(names); len(s) > 0 {
		t.Errorf("the top level is fixed, and these do not belong there: %v", s)
	}
	for _, must := range []string{"cmd", "go.mod", "go.sum", "README.md", "DEVELOPERS.md", "FyneApp.toml", ".gitignore", ".ci"} {
		if !slices.Contains(names, must) {
			t.Errorf("%s is missing at the top level", must)
		}
	}
	if s := strangers([]string{"cmd", ".ci", "vendor", "main.go", "uis"}); !slices.Equal(s, []string{"vendor", "main.go", "uis"}) {
		t.Errorf("strangers %v: the test does not see them", s)
	}
}

// machineTraces finds folders of one computer and hosts of package registries.
// The pieces are joined here, or this file would find itself.
var machineTraces = regexp.MustCompile(`(?:^|[^\w./~$}-])(/(?:` + `wo` + `rk|ro` + `ot)/|/(?:ho` + `me|Us` + `ers)/[A-Za-z]\w*/)` +
	`|[A-Za-z]:\\` + `Users\\\w` +
	`|(?:proxy|sum|index)\.` + `golang\.org|registry\.` + `npmjs\.org|(?:test\.)?` + `pypi\.org|files\.` + `pythonhosted\.org|` +
	`crates` + `\.io|deb\.` + `debian\.org|archive\.` + `ubuntu\.com`)

func TestNoMachinePaths(t *testing.T) {
	eachFile(t, func(rel string, text []byte) {
		if bytes.IndexByte(text[:min(len(text), 8000)], 0) >= 0 { // pictures, databases
			return
		}
		for i, line := range strings.Split(string(text), "\n") {
			if m := machineTraces.FindString(line); m != "" {
				t.Errorf("%s:%d names a folder or a host of one machine: %q", rel, i+1, m)
			}
		}
	})
}

func TestMachineTracesAreSeen(t *testing.T) {
	for _, bad := range []string{"see /wo" + "rk/main", "\"/ro" + "ot/go\"", "/ho" + "me/ann/x", "(/Us" + "ers/Ann/x)",
		`C:\Us` + `ers\ann`, "GOPROXY=https://proxy." + "golang.org", "pypi" + ".org/simple"} {
		if !machineTraces.MatchString(bad) {
			t.Errorf("%q is not seen", bad)
		}
	}
	for _, good := range []string{"~/.local/share/forkwear", "frame/work/x", "$HOME/ro" + "ot/x", "at the root / home", "golang.org/x/image", "https://example.org/work/a"} {
		if m := machineTraces.FindString(good); m != "" {
			t.Errorf("%q is taken for a machine path: %q", good, m)
		}
	}
}
