package main

import "slices"

// need is one thing a machine must have, and the package that brings it.
type need struct {
	what     string
	there    func(machine) bool
	packages map[string][]string // by package manager
}

func program(name string) func(machine) bool {
	return func(m machine) bool { return m.lookPath(name) }
}

// header is there when the compiler finds it; without a compiler nobody knows,
// and asking for a package that is installed already does no harm.
func header(names ...string) func(machine) bool {
	return func(m machine) bool {
		cc := m.compiler()
		for _, h := range names {
			if cc == "" || !m.headers(cc, h) {
				return false
			}
		}
		return true
	}
}

// buildNeeds is what compiling the window takes on Linux. The GL bindings find
// the library through pkg-config. The keyboard library is installed along with
// X11's but never asked for on its own: only a native Wayland build needs it.
var buildNeeds = []need{
	{"a C compiler", func(m machine) bool { return m.compiler() != "" }, map[string][]string{
		"apt-get": {"gcc", "libc6-dev"}, "dnf": {"gcc"}, "pacman": {"gcc"}, "zypper": {"gcc"}}},
	{"pkg-config", program("pkg-config"), map[string][]string{
		"apt-get": {"pkg-config"}, "dnf": {"pkgconf-pkg-config"}, "pacman": {"pkgconf"}, "zypper": {"pkg-config"}}},
	{"OpenGL headers", header("GL/gl.h"), map[string][]string{
		"apt-get": {"libgl1-mesa-dev"}, "dnf": {"mesa-libGL-devel"}, "pacman": {"libglvnd", "mesa"}, "zypper": {"Mesa-libGL-devel"}}},
	{"X11 headers", header("X11/Xlib.h", "X11/Xcursor/Xcursor.h", "X11/extensions/Xrandr.h", "X11/extensions/Xinerama.h",
		"X11/extensions/XInput2.h", "X11/extensions/xf86vmode.h", "X11/XKBlib.h"), map[string][]string{
		"apt-get": {"xorg-dev", "libxkbcommon-dev"},
		"dnf":     {"libX11-devel", "libXcursor-devel", "libXrandr-devel", "libXinerama-devel", "libXi-devel", "libXxf86vm-devel", "libxkbcommon-devel"},
		"pacman":  {"libx11", "libxcursor", "libxrandr", "libxinerama", "libxi", "libxxf86vm", "xorgproto", "libxkbcommon"},
		"zypper":  {"libX11-devel", "libXcursor-devel", "libXrandr-devel", "libXinerama-devel", "libXi-devel", "libXxf86vm-devel", "libxkbcommon-devel"}}},
}

// tourNeeds is what a virtual display and its pictures take. xvfb of Debian
// recommends the software drawing that others bring with their GL.
var tourNeeds = []need{
	{"a virtual display", program("Xvfb"), map[string][]string{
		"apt-get": {"xvfb", "libgl1-mesa-dri"}, "dnf": {"xorg-x11-server-Xvfb", "mesa-dri-drivers"},
		"pacman": {"xorg-server-xvfb", "mesa"}, "zypper": {"xorg-x11-server-Xvfb", "Mesa-dri"}}},
	{"pictures of a display", program("xwd"), map[string][]string{
		"apt-get": {"x11-apps"}, "dnf": {"xwd"}, "pacman": {"xorg-xwd"}, "zypper": {"xwd"}}},
}

// missing gives the needs that the machine does not meet.
func missing(m machine, needs ...need) []need {
	var out []need
	for _, n := range needs {
		if !n.there(m) {
			out = append(out, n)
		}
	}
	return out
}

// packagesFor gives the packages for the needs, each once, in order.
func packagesFor(manager string, needs []need) []string {
	var out []string
	for _, n := range needs {
		for _, p := range n.packages[manager] {
			if !slices.Contains(out, p) {
				out = append(out, p)
			}
		}
	}
	return out
}

// installCommands gives the commands of a package manager, to be run as
// administrator. The first may fail (a stale list is better than none).
func installCommands(manager string, packages []string) [][]string {
	var head [][]string
	switch manager {
	case "apt-get":
		quiet := []string{"env", "DEBIAN_FRONTEND=noninteractive", "apt-get"}
		head = [][]string{append(slices.Clone(quiet), "-q", "update"),
			append(slices.Clone(quiet), "-q", "-y", "--no-install-recommends", "install")}
	case "dnf":
		head = [][]string{{"dnf", "-q", "-y", "install"}}
	case "pacman":
		head = [][]string{{"pacman", "-Sy"}, {"pacman", "--noconfirm", "--needed", "-S"}}
	case "zypper":
		head = [][]string{{"zypper", "-n", "install"}}
	default:
		return nil
	}
	last := len(head) - 1
	head[last] = append(head[last], packages...)
	return head
}
