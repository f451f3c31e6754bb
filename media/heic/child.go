package heic

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"os/exec"
	"strconv"
	"strings"
	"time"

	"golang.org/x/sync/semaphore"
)

// What a Child allows when its fields are 0.
const (
	DefaultTimeout  = 60 * time.Second
	DefaultMemoryMB = 3072
)

// environment of the second process: that it is one, and its limits.
const (
	envChild  = "FORKWEAR_HEIC_CHILD"
	envMemory = "FORKWEAR_HEIC_MEMORY_MB"
	envTime   = "FORKWEAR_HEIC_SECONDS"
)

// The second process's exit codes that say something.
const (
	exitDamaged  = 3
	exitTooLarge = 4
	exitTooSlow  = 5
	exitNotHEIC  = 6
)

// oneAtATime holds for the whole program: one conversion may take a gigabyte.
var oneAtATime = semaphore.NewWeighted(1)

// Child decodes in a second process of a program that calls Serve.
type Child struct {
	Program  string   // mostly os.Executable()
	Args     []string // that make the program call Serve
	Env      []string // beside the own environment
	Timeout  time.Duration
	MemoryMB int
}

// JPEG implements Decoder. It waits until no other conversion runs. The second
// process is ended when ctx is cancelled or the time is over.
func (c Child) JPEG(ctx context.Context, data []byte) ([]byte, error) {
	if err := check(data); err != nil {
		return nil, err
	}
	if os.Getenv(envChild) != "" { // a program that does not call Serve would start itself for ever
		return nil, fmt.Errorf("%w: this process is a converter itself", ErrNoChild)
	}
	if err := oneAtATime.Acquire(ctx, 1); err != nil {
		return nil, err
	}
	defer oneAtATime.Release(1)
	return c.run(ctx, data)
}

func (c Child) run(ctx context.Context, data []byte) ([]byte, error) {
	limit, memory := c.Timeout, c.MemoryMB
	if limit <= 0 {
		limit = DefaultTimeout
	}
	if memory <= 0 {
		memory = DefaultMemoryMB
	}
	timed, stop := context.WithTimeout(ctx, limit)
	defer stop()
	cmd := exec.CommandContext(timed, c.Program, c.Args...)
	cmd.WaitDelay = 2 * time.Second
	cmd.Env = append(append(os.Environ(), c.Env...), envChild+"=1", envMemory+"="+strconv.Itoa(memory),
		// the second process ends itself a little later, should this one be gone by then
		envTime+"="+strconv.Itoa(int(limit/time.Second)+5), "GOMEMLIMIT="+strconv.Itoa(memory*3/4)+"MiB")
	cmd.Stdin = bytes.NewReader(data)
	out, said := bounded{max: MaxBytes}, bounded{max: 8 << 10}
	cmd.Stdout, cmd.Stderr = &out, &said
	if err := cmd.Start(); err != nil {
		return nil, fmt.Errorf("%w (%v)", ErrNoChild, err)
	}
	err := cmd.Wait()
	switch {
	case ctx.Err() != nil:
		return nil, ctx.Err()
	case timed.Err() != nil:
		return nil, tooSlow(limit)
	case out.full:
		return nil, fmt.Errorf("%w: its working copy would have more than 100 MB", ErrTooLarge)
	case err != nil && errors.As(err, new(*exec.ExitError)):
		return nil, ended(cmd.ProcessState.ExitCode(), said.buf.String(), memory, limit)
	case err != nil:
		return nil, fmt.Errorf("convert HEIC: %w", err)
	}
	jpeg := out.buf.Bytes()
	if !bytes.HasPrefix(jpeg, []byte{0xFF, 0xD8, 0xFF}) || !bytes.HasSuffix(jpeg, []byte{0xFF, 0xD9}) {
		return nil, fmt.Errorf("convert HEIC: %w: %s gave no picture", ErrNoChild, c.Program)
	}
	return jpeg, nil
}

// ended says why the second process gave no picture.
func ended(code int, said string, memory int, limit time.Duration) error {
	last := strings.TrimSpace(said)
	if i := strings.LastIndexByte(last, '\n'); i >= 0 {
		last = last[i+1:]
	}
	outOfMemory := strings.Contains(said, "out of memory") || strings.Contains(said, "cannot allocate memory") ||
		strings.Contains(said, "failed to allocate") || strings.Contains(said, "errno=12")
	switch {
	case code == exitTooLarge || outOfMemory && code != exitDamaged:
		return fmt.Errorf("%w: converting it takes more than the %d MB of memory allowed; save it smaller or as JPEG", ErrTooLarge, memory)
	case code == exitTooSlow:
		return tooSlow(limit)
	case code == exitDamaged:
		return toldBy{ErrDamaged, last}
	case code == exitNotHEIC:
		return toldBy{ErrNotHEIC, last}
	}
	return damaged(fmt.Errorf("the converter ended with %d", code))
}

// toldBy is an error that the second process put into words.
type toldBy struct {
	kind  error
	words string
}

func (e toldBy) Error() string { return e.words }
func (e toldBy) Unwrap() error { return e.kind }

func tooSlow(limit time.Duration) error {
	return fmt.Errorf("%w: the conversion was given up after %v; save the photo as JPEG", ErrTooSlow, limit)
}

// bounded keeps what is written up to max bytes; with more it breaks the pipe.
type bounded struct {
	buf  bytes.Buffer
	max  int
	full bool
}

func (b *bounded) Write(p []byte) (int, error) {
	if b.full || b.buf.Len()+len(p) > b.max {
		b.full = true
		if b.max < 1<<20 { // words: the rest is not needed
			return len(p), nil
		}
		return 0, io.ErrShortWrite
	}
	return b.buf.Write(p)
}
