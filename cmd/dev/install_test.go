package main

import (
	"slices"
	"strings"
	"testing"
)

// invented describes a machine that has these programs and headers.
func invented(goos string, programs, headers string) machine {
	has := func(list, one string) bool { return slices.Contains(strings.Fields(list), one) }
	return machine{
		goos:     goos,
		env:      func(string) string { return "" },
		lookPath: func(p string) bool { return has(programs, p) },
		headers:  func(cc, h string) bool { return has(programs, cc) && has(headers, h) },
		runs:     func(...string) bool { return false },
	}
}

const allHeaders = "GL/gl.h X11/Xlib.h X11/Xcursor/Xcursor.h X11/extensions/Xrandr.h X11/extensions/Xinerama.h " +
	"X11/extensions/XInput2.h X11/extensions/xf86vmode.h X11/XKBlib.h"

func asRoot(m machine) machine     { m.root = true; return m }
func atTerminal(m machine) machine { m.terminal = true; return m }
func freeSudo(m machine) machine {
	m.runs = func(args ...string) bool { return strings.Join(args, " ") == "sudo -n true" }
	return m
}

// Package names: common practice of Debian, Fedora, Arch and openSUSE; those of
// Debian were installed and compiled with.
func TestMakePlan(t *testing.T) {
	all := append(slices.Clone(buildNeeds), tourNeeds...)
	tests := []struct {
		name   string
		m      machine
		yes    bool
		lines  string // the commands, joined by " ; "
		refuse string
		ask    bool
	}{
		{name: "nothing is missing", m: invented("linux", "apt-get gcc pkg-config Xvfb xwd", allHeaders)},
		{name: "clang will do", m: invented("linux", "clang pkg-config Xvfb xwd", allHeaders)},
		{name: "bare Debian, root, nobody there", m: asRoot(invented("linux", "apt-get", "")),
			lines: "env DEBIAN_FRONTEND=noninteractive apt-get -q update ; env DEBIAN_FRONTEND=noninteractive apt-get -q -y --no-install-recommends install " +
				"gcc libc6-dev pkg-config libgl1-mesa-dev xorg-dev libxkbcommon-dev xvfb libgl1-mesa-dri x11-apps"},
		{name: "only the display is missing", m: asRoot(invented("linux", "dnf gcc pkg-config xwd", allHeaders)),
			lines: "dnf -q -y install xorg-x11-server-Xvfb mesa-dri-drivers"},
		{name: "one X11 header is missing", m: asRoot(invented("linux", "zypper gcc pkg-config Xvfb xwd", strings.Replace(allHeaders, "X11/XKBlib.h", "", 1))),
			lines: "zypper -n install libX11-devel libXcursor-devel libXrandr-devel libXinerama-devel libXi-devel libXxf86vm-devel libxkbcommon-devel"},
		{name: "root at a terminal is asked", m: asRoot(atTerminal(invented("linux", "pacman gcc pkg-config Xvfb", allHeaders))),
			lines: "pacman -Sy ; pacman --noconfirm --needed -S xorg-xwd", ask: true},
		{name: "-y is not asked", m: asRoot(atTerminal(invented("linux", "pacman gcc pkg-config Xvfb", allHeaders))), yes: true,
			lines: "pacman -Sy ; pacman --noconfirm --needed -S xorg-xwd"},
		{name: "a user at a terminal types the password", m: atTerminal(invented("linux", "dnf sudo gcc pkg-config Xvfb", allHeaders)),
			lines: "sudo dnf -q -y install xwd", ask: true},
		{name: "nobody there, sudo without password", m: freeSudo(invented("linux", "dnf sudo gcc pkg-config Xvfb", allHeaders)),
			lines: "sudo -n dnf -q -y install xwd"},
		{name: "nobody there, sudo wants a password", m: invented("linux", "dnf sudo gcc pkg-config Xvfb", allHeaders), refuse: "dnf -q -y install xwd"},
		{name: "a user without sudo", m: atTerminal(invented("linux", "dnf gcc pkg-config Xvfb", allHeaders)), yes: true, refuse: "as administrator"},
		{name: "no manager known", m: asRoot(invented("linux", "apk gcc pkg-config Xvfb", allHeaders)), refuse: "x11-apps"},
		{name: "a BSD", m: asRoot(invented("freebsd", "apt-get gcc pkg-config Xvfb", allHeaders)), refuse: "by hand"},
		{name: "a Mac with its tools", m: invented("darwin", "clang", "")},
		{name: "a Mac without", m: atTerminal(invented("darwin", "", "")), refuse: "xcode-select --install"},
		{name: "Windows without", m: invented("windows", "", ""), refuse: "MSYS2"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			p := makePlan(tt.m, tt.yes, all)
			var lines []string
			for _, c := range p.commands {
				lines = append(lines, strings.Join(c, " "))
			}
			if got := strings.Join(lines, " ; "); got != tt.lines {
				t.Errorf("commands\n%q, want\n%q", got, tt.lines)
			}
			if (tt.refuse == "") != (p.refuse == "") || !strings.Contains(p.refuse, tt.refuse) {
				t.Errorf("refuses with %q, want %q", p.refuse, tt.refuse)
			}
			if p.ask != tt.ask {
				t.Errorf("ask %v, want %v", p.ask, tt.ask)
			}
		})
	}
}

func TestEveryNeedHasAPackageEverywhere(t *testing.T) {
	for _, n := range append(slices.Clone(buildNeeds), tourNeeds...) {
		for _, manager := range []string{"apt-get", "dnf", "pacman", "zypper"} {
			if len(n.packages[manager]) == 0 {
				t.Errorf("%s: no package for %s", n.what, manager)
			}
		}
	}
}

func TestCompilerFollowsCC(t *testing.T) {
	m := invented("linux", "gcc mycc", "")
	m.env = func(k string) string { return map[string]string{"CC": "mycc -m64"}[k] }
	if got := m.compiler(); got != "mycc" {
		t.Errorf("compiler %q, want mycc", got)
	}
	m.env = func(k string) string { return map[string]string{"CC": "gone"}[k] }
	if got := m.compiler(); got != "" {
		t.Errorf("compiler %q, want none: cgo would not take another one", got)
	}
}

func TestHasDisplay(t *testing.T) {
	for _, tt := range []struct {
		goos, name string
		want       bool
	}{{"linux", "", false}, {"linux", "DISPLAY", true}, {"linux", "WAYLAND_DISPLAY", true}, {"darwin", "", true}, {"windows", "", true}} {
		m := invented(tt.goos, "", "")
		m.env = func(k string) string { return map[string]string{tt.name: ":0"}[k] }
		if got := m.hasDisplay(); got != tt.want {
			t.Errorf("%s %s: %v", tt.goos, tt.name, got)
		}
	}
}
