//go:build unix

package vault

import (
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
)

// TestExportLeavesWhatIsNoFile: a pipe, a device or a folder under the name of
// the copy stays what it is.
func TestExportLeavesWhatIsNoFile(t *testing.T) {
	dir := t.TempDir()
	pipe := filepath.Join(dir, "pipe")
	if err := syscall.Mkfifo(pipe, 0o600); err != nil {
		t.Skip(err)
	}
	for _, path := range []string{pipe, dir, ""} {
		if err := Export(t.Context(), path, []byte("picture")); err == nil || !strings.Contains(err.Error(), "name") {
			t.Errorf("%q: %v", path, err)
		}
	}
	if st, err := os.Lstat(pipe); err != nil || st.Mode()&fs.ModeNamedPipe == 0 {
		t.Errorf("the pipe became %v, %v", st.Mode(), err)
	}
	left, err := os.ReadDir(dir)
	if err != nil || len(left) != 1 {
		t.Errorf("left behind: %v %v", left, err)
	}
}

// TestUnreadable: words about reading, not about writing, and never a wait.
func TestUnreadable(t *testing.T) {
	dir := t.TempDir()
	loop, pipe, link := filepath.Join(dir, "loop.jpg"), filepath.Join(dir, "pipe.jpg"), filepath.Join(dir, "link.jpg")
	if err := errors.Join(os.Symlink("loop.jpg", loop), syscall.Mkfifo(pipe, 0o600), os.Symlink("pipe.jpg", link)); err != nil {
		t.Skip(err)
	}
	for path, says := range map[string]string{loop: "leads back to itself", pipe: "a folder or a device", link: "a folder or a device"} {
		if _, err := Load(t.Context(), path); err == nil || !strings.Contains(err.Error(), says) || !strings.Contains(err.Error(), path) {
			t.Errorf("%v", err)
		}
	}
	err := unread("/card/a.jpg", &os.PathError{Op: "open", Path: "/card/a.jpg", Err: syscall.EACCES})
	if !errors.Is(err, fs.ErrPermission) || errors.Is(err, ErrReadOnly) || !strings.Contains(err.Error(), "may not read it") {
		t.Error(err)
	}
}
