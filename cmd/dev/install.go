package main

import (
	"bufio"
	"context"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"strings"
)

var errNoRoot = errors.New("no go.mod of forkwear here or above: run this inside the repository")

// words for systems whose tools a program should not install on its own.
const (
	macWords = "a C compiler is missing. Install Apple's command line tools with `xcode-select --install`, then try again; nothing else is needed"
	winWords = "a C compiler is missing. Install MSYS2, then in its 'MinGW x64' window run `pacman -S mingw-w64-x86_64-gcc`, put its mingw64\\bin folder on the PATH, then try again; nothing else is needed"
)

// plan is what install would do.
type plan struct {
	lacks    []string
	commands [][]string
	refuse   string // why nothing can be done; the words name the way out
	ask      bool
}

func (p plan) lines() string {
	var b strings.Builder
	for _, c := range p.commands {
		b.WriteString("  " + strings.Join(c, " ") + "\n")
	}
	return b.String()
}

// makePlan decides how the needs can be met: as root; through sudo without a
// password when nobody can be asked; through sudo with one when somebody can.
func makePlan(m machine, yes bool, needs []need) plan {
	var p plan
	if m.goos == "darwin" || m.goos == "windows" {
		if m.compiler() == "" {
			p.refuse = map[string]string{"darwin": macWords, "windows": winWords}[m.goos]
		}
		return p
	}
	lack := missing(m, needs...)
	if len(lack) == 0 {
		return p
	}
	for _, n := range lack {
		p.lacks = append(p.lacks, n.what)
	}
	names := strings.Join(p.lacks, ", ")
	manager := m.manager()
	if manager == "" {
		p.refuse = fmt.Sprintf("missing: %s, and none of apt-get, dnf, pacman, zypper is here. Install them by hand; on Debian they are %s",
			names, strings.Join(packagesFor("apt-get", lack), " "))
		return p
	}
	p.commands = installCommands(manager, packagesFor(manager, lack))
	p.ask = !yes && m.terminal
	if m.root {
		return p
	}
	sudo := []string{"sudo"}
	if !m.terminal {
		sudo = []string{"sudo", "-n"}
	}
	asRoot := m.lookPath("sudo") && (m.terminal || m.runs("sudo", "-n", "true"))
	if !asRoot {
		p.refuse = fmt.Sprintf("missing: %s. Run this as administrator, then try again:\n%s", names, p.lines())
		p.commands = nil
		return p
	}
	for i, c := range p.commands {
		p.commands[i] = append(append([]string{}, sudo...), c...)
	}
	return p
}

// ensure meets the needs or says what the user has to do.
func (w *workshop) ensure(ctx context.Context, needs ...need) error {
	p := makePlan(w.machine, w.opts.yes, needs)
	if p.refuse != "" {
		return errors.New(p.refuse)
	}
	if len(p.commands) == 0 {
		return nil
	}
	fmt.Fprintf(w.out, "Missing: %s. To install:\n%s", strings.Join(p.lacks, ", "), p.lines())
	if p.ask && !w.agreed() {
		return errors.New("nothing was installed. Type the commands above yourself, or run this again with -y")
	}
	for i, c := range p.commands {
		cmd := exec.CommandContext(ctx, c[0], c[1:]...)
		cmd.Stdin, cmd.Stdout, cmd.Stderr = os.Stdin, w.out, os.Stderr
		if err := cmd.Run(); err != nil && i == len(p.commands)-1 {
			return fmt.Errorf("`%s` failed (%w). Is there a network? Otherwise install them by hand", strings.Join(c, " "), err)
		}
	}
	if lack := missing(w.machine, needs...); len(lack) > 0 {
		return fmt.Errorf("%s is still missing after the installation. Look at the lines above", lack[0].what)
	}
	return nil
}

// agreed asks; no answer at all (end of input) is no.
func (w *workshop) agreed() bool {
	fmt.Fprint(w.out, "Install now? [y/N] ")
	line, _ := bufio.NewReader(os.Stdin).ReadString('\n')
	return strings.EqualFold(strings.TrimSpace(line), "y") || strings.EqualFold(strings.TrimSpace(line), "yes")
}
