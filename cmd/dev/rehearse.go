package main

import (
	"bufio"
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"time"
)

// rehearseLimit ends a rehearsal that hangs.
const rehearseLimit = 8 * time.Minute

// rehearse works in the real window from outside: whole visits with the keys of
// a keyboard and with a pointer, both as the X server hands them to any
// program. What was entered is then looked for by the command line.
func (w *workshop) rehearse(ctx context.Context) error {
	if !w.hasVirtual() {
		return leftOut("keys and pointer are sent through a virtual X display")
	}
	if err := w.ensure(ctx, append(append([]need{}, tourNeeds...), rehearseNeeds...)...); err != nil {
		return err
	}
	bin := w.opts.program
	if bin == "" {
		if err := w.ensure(ctx, buildNeeds...); err != nil {
			return err
		}
		var err error
		if bin, err = w.build(ctx); err != nil {
			return err
		}
	}
	var bad []error
	for _, v := range []struct {
		name string
		play func(*actor) error
	}{{"keyboard only", keyboardVisit}, {"pointer", pointerVisit}} {
		if err := w.play(ctx, bin, v.name, v.play); err != nil {
			bad = append(bad, fmt.Errorf("a visit by %s: %w", v.name, err))
		}
	}
	return errors.Join(bad...)
}

// play takes one visit in a window of its own and checks the library after.
func (w *workshop) play(ctx context.Context, bin, name string, visit func(*actor) error) error {
	ctx, cancel := context.WithTimeout(ctx, rehearseLimit)
	defer cancel()
	data, err := os.MkdirTemp("", "forkwear-rehearsal-")
	if err != nil {
		return err
	}
	defer os.RemoveAll(data)
	d, err := startDisplay(ctx, w.opts.size)
	if err != nil {
		return err
	}
	defer d.stop()
	a := &actor{ctx: ctx, bin: bin, library: filepath.Join(data, "library"), display: d, env: d.environment(os.Environ(), data), log: w.out, name: name}
	if err := a.open(w.opts.size); err != nil {
		return err
	}
	err = visit(a)
	if err != nil {
		a.picture(w.opts.out)
	}
	return errors.Join(err, a.close())
}

// actor types and clicks in the window, and asks it where things are.
type actor struct {
	ctx     context.Context
	name    string
	bin     string
	library string
	display *virtualDisplay
	env     []string
	log     io.Writer

	cmd     *exec.Cmd
	ask     io.WriteCloser
	answers *bufio.Scanner

	Keys, Clicks int // sent
}

func (a *actor) open(s size) error {
	a.cmd = exec.CommandContext(a.ctx, a.bin, "--library", a.library, "rehearse", "--size", s.String())
	a.cmd.Env = append(a.env, "FYNE_SCALE=1", "FYNE_THEME=light")
	a.cmd.WaitDelay = 5 * time.Second
	a.cmd.Stderr = a.log
	ask, err := a.cmd.StdinPipe()
	if err != nil {
		return err
	}
	answers, err := a.cmd.StdoutPipe()
	if err != nil {
		return err
	}
	a.ask, a.answers = ask, bufio.NewScanner(answers)
	a.answers.Buffer(nil, 1<<20)
	if err := a.cmd.Start(); err != nil {
		return fmt.Errorf("the window did not open: %w", err)
	}
	return a.expect("bench")
}

func (a *actor) close() error {
	a.ask.Close()
	if err := a.cmd.Wait(); err != nil {
		return fmt.Errorf("the window did not close well: %w", err)
	}
	return nil
}

// question is answered by the window in one line.
func (a *actor) question(q string) (string, error) {
	if _, err := fmt.Fprintln(a.ask, q); err != nil {
		return "", fmt.Errorf("the window went away: %w", err)
	}
	if !a.answers.Scan() {
		return "", errors.Join(errors.New("the window went away"), a.answers.Err())
	}
	return a.answers.Text(), nil
}

// expect waits for a place.
func (a *actor) expect(place string) error {
	got, err := "", error(nil)
	for range 20 {
		if got, err = a.question("place"); err != nil || got == place {
			return err
		}
		time.Sleep(250 * time.Millisecond)
	}
	status, _ := a.question("status")
	return fmt.Errorf("the window is at %q and not at %q; it says %q", got, place, status)
}

// target is a thing in the window that can be reached.
type target struct {
	x, y, w, h int
	word       string
}

func parseTarget(line string) (t target, ok bool) {
	f := strings.SplitN(line, " ", 5)
	if len(f) < 4 {
		return t, false
	}
	for i, p := range []*int{&t.x, &t.y, &t.w, &t.h} {
		n, err := strconv.Atoi(f[i])
		if err != nil {
			return t, false
		}
		*p = n
	}
	if len(f) == 5 {
		t.word = f[4]
	}
	return t, true
}

func (a *actor) targets() ([]target, error) {
	line, err := a.question("targets")
	if err != nil {
		return nil, err
	}
	var out []target
	for _, f := range strings.Split(line, "\t") {
		if t, ok := parseTarget(f); ok {
			out = append(out, t)
		}
	}
	return out, nil
}

// find is the n-th target whose word is the text, from 0, or begins with it
// where none is exactly it.
func (a *actor) find(word string, n int) (target, error) {
	ts, err := a.targets()
	if err != nil {
		return target{}, err
	}
	for _, fits := range []func(string) bool{
		func(s string) bool { return s == word },
		func(s string) bool { return strings.HasPrefix(s, word) },
	} {
		k := n
		for _, t := range ts {
			if fits(t.word) {
				if k == 0 {
					return t, nil
				}
				k--
			}
		}
	}
	var words []string
	for _, t := range ts {
		words = append(words, t.word)
	}
	return target{}, fmt.Errorf("nothing in the window is called %q; there are: %s", word, strings.Join(words, " | "))
}

// key sends keys by their X names: "ctrl+n", "Tab", "Return", "3".
func (a *actor) key(names ...string) error {
	a.Keys += len(names)
	return a.xdotool(append([]string{"key", "--clearmodifiers", "--delay", "25"}, names...)...)
}

// write types a text.
func (a *actor) write(text string) error {
	a.Keys += len([]rune(text))
	return a.xdotool("type", "--clearmodifiers", "--delay", "15", text)
}

// click presses the pointer on the middle of the n-th thing with a word.
func (a *actor) click(word string, n int) error {
	t, err := a.find(word, n)
	if err != nil {
		return err
	}
	a.Clicks++
	return a.xdotool("mousemove", strconv.Itoa(t.x+t.w/2), strconv.Itoa(t.y+t.h/2), "sleep", "0.05", "click", "1")
}

// tabTo presses Tab until a thing with that word has the focus.
func (a *actor) tabTo(word string) error {
	var seen []string
	for range 120 {
		if err := a.key("Tab"); err != nil {
			return err
		}
		line, err := a.question("focus")
		if err != nil {
			return err
		}
		t, _ := parseTarget(line)
		if strings.HasPrefix(t.word, word) {
			return nil
		}
		seen = append(seen, t.word)
	}
	return fmt.Errorf("120 times Tab did not reach %q but %s", word, strings.Join(seen, " | "))
}

func (a *actor) xdotool(args ...string) error {
	cmd := exec.CommandContext(a.ctx, "xdotool", args...)
	cmd.Env = a.env
	if out, err := cmd.CombinedOutput(); err != nil {
		return fmt.Errorf("xdotool %s: %w: %s", strings.Join(args, " "), err, out)
	}
	return nil
}

// cli asks the library by the command line.
func (a *actor) cli(args ...string) ([]byte, error) {
	cmd := exec.CommandContext(a.ctx, a.bin, append([]string{"--library", a.library}, args...)...)
	cmd.Env = a.env
	out, err := cmd.Output()
	if err != nil {
		return nil, fmt.Errorf("forkwear %s: %w", strings.Join(args, " "), err)
	}
	return out, nil
}

// picture keeps what the window showed when something failed.
func (a *actor) picture(dir string) {
	raw, err := a.display.picture(a.ctx)
	if err != nil {
		return
	}
	img, err := decodeXWD(raw)
	if err != nil {
		return
	}
	if dir == "" {
		dir = os.TempDir()
	}
	file := filepath.Join(dir, "rehearsal-"+strings.ReplaceAll(a.name, " ", "-")+".png")
	if writePNG(file, img) == nil {
		fmt.Fprintf(a.log, "  the window when it failed: %s\n", file)
	}
}

// rehearseNeeds is what keys and pointer from outside take.
var rehearseNeeds = []need{
	{"keys and pointer from outside", program("xdotool"), map[string][]string{
		"apt-get": {"xdotool"}, "dnf": {"xdotool"}, "pacman": {"xdotool"}, "zypper": {"xdotool"}}},
}
