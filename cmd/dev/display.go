package main

import (
	"bufio"
	"bytes"
	"context"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"strings"
	"syscall"
	"time"
)

// virtualDisplay is a running Xvfb.
type virtualDisplay struct {
	name   string // ":7"
	cmd    *exec.Cmd
	stderr *bytes.Buffer
}

// startDisplay starts an X server without a screen. The server picks a free
// number itself and writes it to a pipe once it takes clients, so that two runs
// at a time never meet.
func startDisplay(ctx context.Context, s size) (*virtualDisplay, error) {
	read, write, err := os.Pipe()
	if err != nil {
		return nil, err
	}
	defer read.Close()
	d := &virtualDisplay{stderr: &bytes.Buffer{}}
	d.cmd = exec.CommandContext(ctx, "Xvfb", "-displayfd", "3", "-screen", "0", s.String()+"x24",
		"-br", "+extension", "GLX", "-nolisten", "tcp")
	d.cmd.Cancel = func() error { return d.cmd.Process.Signal(syscall.SIGTERM) } // it removes its lock file
	d.cmd.WaitDelay = 5 * time.Second
	d.cmd.ExtraFiles = []*os.File{write}
	d.cmd.Stderr = d.stderr
	err = d.cmd.Start()
	write.Close()
	if err != nil {
		return nil, fmt.Errorf("the virtual display did not start: %w", err)
	}
	_ = read.SetReadDeadline(time.Now().Add(30 * time.Second))
	number, err := bufio.NewReader(read).ReadString('\n')
	if err != nil {
		d.stop()
		return nil, fmt.Errorf("the virtual display did not come up (%w): %s", err, strings.TrimSpace(d.stderr.String()))
	}
	d.name = ":" + strings.TrimSpace(number)
	return d, nil
}

// stop ends the server that was started here and waits for its end.
func (d *virtualDisplay) stop() {
	_ = d.cmd.Process.Signal(syscall.SIGTERM)
	_ = d.cmd.Wait()
}

// environment gives a program's environment on this display: drawn in software,
// native Wayland out of reach, its data and settings in a folder of their own.
func (d *virtualDisplay) environment(base []string, data string) []string {
	out := without(base, "WAYLAND_DISPLAY", "XAUTHORITY")
	return append(out, "DISPLAY="+d.name, "LIBGL_ALWAYS_SOFTWARE=1", "LANG=en_US.UTF-8",
		"XDG_DATA_HOME="+data, "XDG_CONFIG_HOME="+data)
}

// without leaves variables out of an environment.
func without(env []string, names ...string) []string {
	var out []string
next:
	for _, e := range env {
		for _, n := range names {
			if strings.HasPrefix(e, n+"=") {
				continue next
			}
		}
		out = append(out, e)
	}
	return out
}

// picture takes the root window as xwd writes it.
func (d *virtualDisplay) picture(ctx context.Context) ([]byte, error) {
	var errText bytes.Buffer
	cmd := exec.CommandContext(ctx, "xwd", "-root", "-silent", "-display", d.name)
	cmd.Stderr = &errText
	out, err := cmd.Output()
	if err != nil {
		return nil, fmt.Errorf("xwd took no picture (%w): %s", err, strings.TrimSpace(errText.String()))
	}
	return out, nil
}

// settled takes pictures until two in a row are the same, for at most two
// seconds, and gives the last one.
func settled(ctx context.Context, take func(context.Context) ([]byte, error)) ([]byte, error) {
	const pause, tries = 100 * time.Millisecond, 20
	last, err := take(ctx)
	for i := 0; err == nil && i < tries; i++ {
		select {
		case <-ctx.Done():
			return nil, errors.Join(ctx.Err(), err)
		case <-time.After(pause):
		}
		var next []byte
		if next, err = take(ctx); err == nil && bytes.Equal(last, next) {
			return next, nil
		}
		last = next
	}
	return last, err
}
