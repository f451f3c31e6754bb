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
	"regexp"
	"strconv"
	"strings"
	"time"
)

// tourLimit ends a tour that hangs.
const tourLimit = 10 * time.Minute

// tourNeeds leaves the virtual display out where it is not used.
func (w *workshop) tourNeeds() []need {
	if w.opts.here || !w.hasVirtual() {
		return nil
	}
	return tourNeeds
}

func (w *workshop) hasVirtual() bool {
	return w.machine.goos != "darwin" && w.machine.goos != "windows"
}

// tour walks through the window, takes its pictures and names the folder.
func (w *workshop) tour(ctx context.Context) error {
	out, err := w.tourFolder()
	if err != nil {
		return err
	}
	if err := w.ensure(ctx, w.tourNeeds()...); err != nil {
		return err
	}
	bin := w.opts.program
	if bin == "" {
		if err := w.ensure(ctx, buildNeeds...); err != nil {
			return err
		}
		if bin, err = w.build(ctx); err != nil {
			return err
		}
	}
	shots, err := w.walk(ctx, bin, out)
	fmt.Fprintf(w.out, "%d pictures and the reports are in %s\n", len(shots), out)
	return err
}

// windowCheck is the tour as a test: one folder, emptied before.
func (w *workshop) windowCheck(ctx context.Context) error {
	if !w.hasVirtual() {
		return leftOut("a virtual display is an X11 thing; run the tour with --here and look")
	}
	return w.tour(ctx)
}

// tourFolder gives the folder for the pictures. The own one is emptied; one
// that was named keeps what is in it, except for pictures of the same name.
func (w *workshop) tourFolder() (string, error) {
	if w.opts.out != "" {
		dir, err := filepath.Abs(w.opts.out)
		if err != nil {
			return "", err
		}
		return dir, os.MkdirAll(dir, 0o755)
	}
	cache, err := w.cacheDir()
	if err != nil {
		return "", err
	}
	dir := filepath.Join(cache, "tour")
	if err := os.RemoveAll(dir); err != nil {
		return "", err
	}
	return dir, os.MkdirAll(dir, 0o755)
}

// walk runs the program's tour and judges its pictures.
func (w *workshop) walk(ctx context.Context, bin, out string) ([]shot, error) {
	ctx, cancel := context.WithTimeout(ctx, tourLimit)
	defer cancel()
	data, err := os.MkdirTemp("", "forkwear-tour-")
	if err != nil {
		return nil, err
	}
	defer os.RemoveAll(data)
	if w.opts.here || !w.hasVirtual() {
		camera := func(context.Context, string) error { return errors.New("pictures are taken on a virtual display only") }
		env := append(os.Environ(), "XDG_DATA_HOME="+data, "XDG_CONFIG_HOME="+data)
		return nil, w.guide(ctx, bin, out, env, camera)
	}
	d, err := startDisplay(ctx, w.opts.size.scaled(w.opts.scale))
	if err != nil {
		return nil, err
	}
	defer d.stop()
	var shots []shot
	camera := func(ctx context.Context, name string) error {
		file := filepath.Join(out, name+".png")
		raw, err := settled(ctx, d.picture)
		if err != nil {
			return err
		}
		img, err := decodeXWD(raw)
		if err != nil {
			return err
		}
		shots = append(shots, shot{name, file, img})
		fmt.Fprintf(w.out, "  picture %s\n", file)
		return writePNG(file, img)
	}
	err = w.guide(ctx, bin, out, d.environment(os.Environ(), data), camera)
	return shots, errors.Join(err, judge(shots))
}

// tourArgs is the command line of the program's own tour.
func (w *workshop) tourArgs(out string) []string {
	args := []string{"tour", "--out", out, "--size", w.opts.size.String(), "--scale", w.scaleText()}
	if w.opts.dark {
		args = append(args, "--dark")
	}
	return args
}

func (w *workshop) scaleText() string { return strconv.FormatFloat(w.opts.scale, 'g', -1, 64) }

// guide starts the program and answers its requests for pictures.
func (w *workshop) guide(ctx context.Context, bin, out string, env []string, camera func(context.Context, string) error) error {
	cmd := exec.CommandContext(ctx, bin, w.tourArgs(out)...)
	cmd.WaitDelay = 5 * time.Second
	variant := "light"
	if w.opts.dark {
		variant = "dark"
	}
	cmd.Env = append(env, "FYNE_SCALE="+w.scaleText(), "FYNE_THEME="+variant)
	cmd.Stderr = w.out
	answers, err := cmd.StdinPipe()
	if err != nil {
		return err
	}
	requests, err := cmd.StdoutPipe()
	if err != nil {
		return err
	}
	if err := cmd.Start(); err != nil {
		return fmt.Errorf("the program's tour did not start: %w", err)
	}
	refused := serve(ctx, requests, answers, w.out, camera, !w.opts.here && w.hasVirtual())
	answers.Close()
	_, _ = io.Copy(io.Discard, requests) // a program that still writes must not hang
	ended := cmd.Wait()
	if errors.Is(ctx.Err(), context.DeadlineExceeded) {
		return fmt.Errorf("the tour was stopped after %v", tourLimit)
	}
	if ctx.Err() != nil {
		return errors.New("the tour was stopped")
	}
	if ended != nil {
		ended = fmt.Errorf("the program's tour failed: %w", ended)
	}
	return errors.Join(refused, ended)
}

var shotName = regexp.MustCompile(`^[a-z0-9-]{1,64}$`)

// serve reads the program's lines to their end. `SHOT name` is answered with
// `ok` or `no REASON`; other lines are passed on. What was refused comes back
// as errors when refusing is an error (must).
func serve(ctx context.Context, requests io.Reader, answers, pass io.Writer,
	camera func(context.Context, string) error, must bool) error {
	var bad []error
	seen := map[string]bool{}
	in := bufio.NewScanner(requests)
	in.Buffer(nil, 1<<20)
	for in.Scan() {
		name, asked := strings.CutPrefix(strings.TrimRight(in.Text(), "\r"), "SHOT ")
		if !asked {
			fmt.Fprintln(pass, "  "+in.Text())
			continue
		}
		err := nameError(name, seen)
		if err == nil {
			seen[name] = true
			err = camera(ctx, name)
		}
		answer := "ok"
		if err != nil {
			answer = "no " + strings.ReplaceAll(err.Error(), "\n", " ")
			if must {
				bad = append(bad, fmt.Errorf("picture %q was not taken: %w", name, err))
			}
		}
		if _, err := fmt.Fprintln(answers, answer); err != nil {
			bad = append(bad, fmt.Errorf("the program went away while %q was taken: %w", name, err))
			break
		}
	}
	return errors.Join(append(bad, in.Err())...)
}

func nameError(name string, seen map[string]bool) error {
	if !shotName.MatchString(name) {
		return fmt.Errorf("the name %.80q is not 1 to 64 of a-z, 0-9 and '-'", name)
	}
	if seen[name] {
		return fmt.Errorf("the name %q was used before", name)
	}
	return nil
}
