package heic

import (
	"errors"
	"fmt"
	"io"
	"os"
	"runtime"
	"strconv"
	"time"
)

// Serve is the second process: it reads a HEIC file from in, writes the working
// copy to out, and returns the process's exit code. The limits come from the
// environment that Child sets; without them its defaults hold.
func Serve(in io.Reader, out, words io.Writer) int {
	memory := number(envMemory, DefaultMemoryMB)
	limitProcess(memory, number(envTime, int(DefaultTimeout/time.Second)))
	// The reader prints on standard output, where the picture goes.
	os.Stdout = os.Stderr
	data, err := io.ReadAll(io.LimitReader(in, MaxBytes+1))
	if err == nil {
		var jpeg []byte
		if jpeg, err = convert(data); err == nil {
			if _, err = out.Write(jpeg); err == nil {
				return 0
			}
		}
	}
	fmt.Fprintln(words, err)
	switch {
	case errors.Is(err, ErrDamaged):
		return exitDamaged
	case errors.Is(err, ErrTooLarge):
		return exitTooLarge
	case errors.Is(err, ErrNotHEIC):
		return exitNotHEIC
	}
	return 1
}

func number(name string, otherwise int) int {
	if n, err := strconv.Atoi(os.Getenv(name)); err == nil && n > 0 {
		return n
	}
	return otherwise
}

// limitProcess bounds the own process: by the system where it can, and by a
// watch on the own heap everywhere.
func limitProcess(memoryMB, seconds int) {
	limitBySystem(memoryMB, seconds)
	time.AfterFunc(time.Duration(seconds)*time.Second, func() { os.Exit(exitTooSlow) })
	go func() {
		var m runtime.MemStats
		for range time.Tick(100 * time.Millisecond) {
			runtime.ReadMemStats(&m)
			if m.Sys-m.HeapReleased > uint64(memoryMB)<<20 {
				os.Exit(exitTooLarge)
			}
		}
	}()
}
