//go:build unix

package media

import (
	"errors"
	"os"
	"path/filepath"
	"syscall"
	"testing"
	"time"

	"forkwear/media/decode"
)

// TestQuickDoesNotWaitForAPipe: nobody ever writes into this one.
func TestQuickDoesNotWaitForAPipe(t *testing.T) {
	pipe := filepath.Join(t.TempDir(), "pipe.jpg")
	if err := syscall.Mkfifo(pipe, 0o600); err != nil {
		t.Skip(err)
	}
	done := make(chan error, 1)
	go func() {
		_, err := Quick(t.Context(), pipe)
		done <- err
	}()
	select {
	case err := <-done:
		if !errors.Is(err, decode.ErrNotPhoto) {
			t.Error(err)
		}
	case <-time.After(3 * time.Second):
		t.Error("still waiting")
		if f, err := os.OpenFile(pipe, os.O_WRONLY|syscall.O_NONBLOCK, 0); err == nil { // lets it go
			_ = f.Close()
		}
	}
}
