package main

import (
	"context"
	"crypto/sha256"
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"strings"
	"sync"
	"time"
)

// workshop is one call of this program: where, on what, to do which.
type workshop struct {
	root    string
	machine machine
	opts    options
	out     *shared
}

// shared lets the goroutines that pass on a program's two outputs write into one
// place, whole writes at a time.
type shared struct {
	mu sync.Mutex
	to io.Writer
}

func (s *shared) Write(p []byte) (int, error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.to.Write(p)
}

// cacheDir is this checkout's own folder for built programs and pictures.
func (w *workshop) cacheDir() (string, error) {
	base, err := os.UserCacheDir()
	if err != nil {
		base = os.TempDir()
	}
	dir := filepath.Join(base, "forkwear-dev", fmt.Sprintf("%x", sha256.Sum256([]byte(w.root)))[:12])
	return dir, os.MkdirAll(dir, 0o755)
}

// goTool runs the go command at the root, its output passed on as it comes.
func (w *workshop) goTool(ctx context.Context, args ...string) error {
	cmd := exec.CommandContext(ctx, "go", args...)
	cmd.Dir = w.root
	cmd.Env = append(os.Environ(), "LANG=en_US.UTF-8") // Fyne complains about LANG=C
	cmd.Stdout, cmd.Stderr = w.out, w.out
	if err := cmd.Run(); err != nil {
		return fmt.Errorf("go %s: %w", strings.Join(args, " "), err)
	}
	return nil
}

// build compiles the program. Release builds carry the tag migrated_fynedo; the
// version stamp is left out, since a copied tree without git must build too.
func (w *workshop) build(ctx context.Context) (string, error) {
	if _, err := os.Stat(filepath.Join(w.root, "cmd", "forkwear")); err != nil {
		return "", fmt.Errorf("the program cannot be built: %w", err)
	}
	dir, err := w.cacheDir()
	if err != nil {
		return "", err
	}
	bin := filepath.Join(dir, "forkwear")
	if runtime.GOOS == "windows" {
		bin += ".exe"
	}
	fmt.Fprintln(w.out, "Building Forkwear (the first time takes a minute or two) ...")
	return bin, w.goTool(ctx, "build", "-buildvcs=false", "-tags", "migrated_fynedo", "-o", bin, "./cmd/forkwear")
}

// open builds and opens the program, or walks it where no window can open.
func (w *workshop) open(ctx context.Context) error {
	if !w.machine.hasDisplay() {
		fmt.Fprintln(w.out, "There is no display here (DISPLAY and WAYLAND_DISPLAY are empty), so no window can open.")
		fmt.Fprintln(w.out, "Forkwear walks through its window on a virtual display instead.")
		return w.tour(ctx)
	}
	if err := w.ensure(ctx, buildNeeds...); err != nil {
		return err
	}
	bin, err := w.build(ctx)
	if err != nil {
		return err
	}
	cmd := exec.CommandContext(ctx, bin, w.opts.args...)
	cmd.Cancel = func() error { return cmd.Process.Signal(os.Interrupt) } // let it close the library
	cmd.WaitDelay = 10 * time.Second
	cmd.Stdin, cmd.Stdout, cmd.Stderr = os.Stdin, os.Stdout, os.Stderr
	return cmd.Run()
}

// bench runs every benchmark and no test.
func (w *workshop) bench(ctx context.Context) error {
	if err := w.ensure(ctx, buildNeeds...); err != nil {
		return err
	}
	// One package at a time, or they would slow each other down.
	return w.goTool(ctx, "test", "-p", "1", "-run", "^$", "-bench", w.opts.bench, "-benchmem", "./...")
}
