package main

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"go/format"
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"runtime"
	"strconv"
	"strings"
	"time"
)

// test runs every check. One failure does not hide the others.
func (w *workshop) test(ctx context.Context) error {
	s := &steps{out: w.out, now: time.Now}
	s.run("what the tests need", func() error {
		needs := append(append([]need{}, buildNeeds...), w.tourNeeds()...)
		if w.hasVirtual() {
			needs = append(needs, rehearseNeeds...)
		}
		return w.ensure(ctx, needs...)
	})
	s.run("gofmt", func() error { return unformatted(w.root) })
	s.run("go vet", func() error { return w.goTool(ctx, "vet", "./...") })
	s.run("staticcheck", func() error { return w.staticcheck(ctx) })
	s.run("all tests", func() error {
		return w.goTool(ctx, "test", "-p", strconv.Itoa(parallel()), "-timeout", "15m", "./...")
	})
	s.run("race detector", func() error { return w.race(ctx) })
	s.run("real window", func() error { return w.windowCheck(ctx) })
	s.run("whole visits", func() error { return w.rehearse(ctx) })
	return s.summary()
}

// parallel is how many packages are compiled and tested at once: as many as
// there are cores, fewer when memory is short (compiling the database or the
// window takes about 1.5 GB).
func parallel() int {
	n := runtime.GOMAXPROCS(0)
	text, err := os.ReadFile("/proc/meminfo")
	if err != nil {
		return n
	}
	return min(n, fitting(string(text)))
}

var memAvailable = regexp.MustCompile(`(?m)^MemAvailable:\s+(\d+) kB`)

// fitting is how many compilations fit into the memory that a Linux meminfo
// text calls available, at least one.
func fitting(meminfo string) int {
	m := memAvailable.FindStringSubmatch(meminfo)
	if m == nil {
		return 1
	}
	kb, err := strconv.Atoi(m[1])
	if err != nil {
		return 1
	}
	return max(1, kb/1_500_000)
}

// unformatted names the Go files below root that gofmt would change.
func unformatted(root string) error {
	var bad []error
	err := filepath.WalkDir(root, func(path string, d fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		name := d.Name()
		if d.IsDir() {
			if path != root && (strings.HasPrefix(name, ".") || name == "testdata") {
				return filepath.SkipDir
			}
			return nil
		}
		if filepath.Ext(name) != ".go" {
			return nil
		}
		text, err := os.ReadFile(path)
		if err != nil {
			return err
		}
		rel, _ := filepath.Rel(root, path)
		if good, err := format.Source(text); err != nil {
			bad = append(bad, fmt.Errorf("%s: %w", rel, err))
		} else if !bytes.Equal(good, text) {
			bad = append(bad, fmt.Errorf("%s: not formatted; run gofmt -w %s", rel, rel))
		}
		return nil
	})
	return errors.Join(append(bad, err)...)
}

const staticcheckPath = "honnef.co/go/tools/cmd/staticcheck"

// staticcheck runs the version that go.mod pins as a tool.
func (w *workshop) staticcheck(ctx context.Context) error {
	mod, err := os.ReadFile(filepath.Join(w.root, "go.mod"))
	if err != nil {
		return err
	}
	if bytes.Contains(mod, []byte(staticcheckPath)) {
		return w.goTool(ctx, "tool", "staticcheck", "./...")
	}
	return w.goTool(ctx, "run", staticcheckPath, "./...")
}

// race runs the race detector over the packages that share memory between
// goroutines, told by their importing sync. Left out are store, whose database
// compiles for minutes in race mode, and ui, whose test driver runs callbacks on
// the calling goroutine and so reports races that the real program cannot have.
func (w *workshop) race(ctx context.Context) error {
	cmd := exec.CommandContext(ctx, "go", "list", "-f", "{{.ImportPath}} {{.Imports}}", "./...")
	cmd.Dir, cmd.Stderr = w.root, w.out
	list, err := cmd.Output()
	if err != nil {
		return fmt.Errorf("go list: %w", err)
	}
	pkgs := sharing(string(list))
	if len(pkgs) == 0 {
		return leftOut("no package of inspect or media imports sync")
	}
	return w.goTool(ctx, append([]string{"test", "-race", "-short"}, pkgs...)...)
}

var syncImport = regexp.MustCompile(`[\[ ](sync|sync/atomic|golang\.org/x/sync/\w+)[\] ]`)

// sharing picks the packages worth the race detector from lines of
// "package [imports]".
func sharing(list string) []string {
	var out []string
	for line := range strings.Lines(list) {
		pkg, imports, _ := strings.Cut(strings.TrimSpace(line), " ")
		mine := strings.HasPrefix(pkg, module+"/inspect") || strings.HasPrefix(pkg, module+"/media")
		if mine && syncImport.MatchString(imports) {
			out = append(out, pkg)
		}
	}
	return out
}

const module = "forkwear"
