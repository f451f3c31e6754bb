package main

import (
	"bytes"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"strings"
)

// machine tells what is installed. Its look-ups are fields so that tests can
// describe machines that are not there.
type machine struct {
	goos     string
	root     bool                      // the user is the administrator
	terminal bool                      // somebody can answer a question
	env      func(string) string       // environment variable
	lookPath func(string) bool         // is a program of this name on the path
	headers  func(cc, hs string) bool  // does the compiler find this header
	runs     func(args ...string) bool // does this command end with success
}

// thisMachine looks at the computer it runs on.
func thisMachine() machine {
	return machine{
		goos:     runtime.GOOS,
		root:     os.Geteuid() == 0,
		terminal: isTerminal(os.Stdin),
		env:      os.Getenv,
		lookPath: func(name string) bool { _, err := exec.LookPath(name); return err == nil },
		headers:  compilerFinds,
		runs:     func(args ...string) bool { return exec.Command(args[0], args[1:]...).Run() == nil },
	}
}

// isTerminal is true for a character device other than the null device.
func isTerminal(f *os.File) bool {
	st, err := f.Stat()
	if err != nil || st.Mode()&os.ModeCharDevice == 0 {
		return false
	}
	null, err := os.Stat(os.DevNull)
	return err != nil || !os.SameFile(st, null)
}

// compilerFinds asks the compiler itself, as header folders differ by system.
func compilerFinds(cc, header string) bool {
	cmd := exec.Command(cc, "-E", "-x", "c", "-")
	cmd.Stdin = bytes.NewBufferString("#include <X11/Xlib.h>\n#include <" + header + ">\n")
	if strings.HasPrefix(header, "GL/") {
		cmd.Stdin = bytes.NewBufferString("#include <" + header + ">\n")
	}
	return cmd.Run() == nil
}

// compiler is the C compiler that cgo will use, or "" when there is none.
func (m machine) compiler() string {
	if cc := m.env("CC"); cc != "" {
		if name := strings.Fields(cc); len(name) > 0 && m.lookPath(name[0]) {
			return name[0]
		}
		return ""
	}
	for _, cc := range []string{"gcc", "clang"} {
		if m.lookPath(cc) {
			return cc
		}
	}
	return ""
}

// hasDisplay says whether a window can be opened.
func (m machine) hasDisplay() bool {
	if m.goos == "windows" || m.goos == "darwin" {
		return true
	}
	return m.env("DISPLAY") != "" || m.env("WAYLAND_DISPLAY") != ""
}

// manager is the package manager found, or "".
func (m machine) manager() string {
	if m.goos != "linux" {
		return ""
	}
	for _, name := range []string{"apt-get", "dnf", "pacman", "zypper"} {
		if m.lookPath(name) {
			return name
		}
	}
	return ""
}

// findRoot walks up from the working folder to the module's go.mod.
func findRoot() (string, error) {
	dir, err := os.Getwd()
	if err != nil {
		return "", err
	}
	for {
		text, err := os.ReadFile(filepath.Join(dir, "go.mod"))
		if err == nil && bytes.HasPrefix(text, []byte("module forkwear")) {
			return dir, nil
		}
		up := filepath.Dir(dir)
		if up == dir {
			return "", errNoRoot
		}
		dir = up
	}
}
