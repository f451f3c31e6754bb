package vault

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"runtime"
	"syscall"

	"forkwear/media/format"
)

// Load reads a photo file of at most MaxBytes into memory. Folders, devices,
// empty and larger files give an error that names the file.
func Load(ctx context.Context, path string) ([]byte, error) {
	st, err := os.Stat(path)
	if err != nil {
		return nil, unread(path, err)
	}
	switch {
	case !st.Mode().IsRegular():
		return nil, fmt.Errorf("read the photo %s: %w: it is a folder or a device", path, ErrNotPhoto)
	case st.Size() == 0:
		return nil, fmt.Errorf("read the photo %s: %w: the file is empty; it may not have been copied to the end", path, ErrNotPhoto)
	case st.Size() > MaxBytes:
		return nil, fmt.Errorf("read the photo %s: %w (%d MB): save it smaller, as JPEG", path, ErrTooLarge, st.Size()>>20)
	}
	f, err := os.Open(path)
	if err != nil {
		return nil, unread(path, err)
	}
	defer f.Close()
	data := bytes.NewBuffer(make([]byte, 0, st.Size()+bytes.MinRead))
	if _, err := io.Copy(data, withContext(ctx, io.LimitReader(f, MaxBytes+1))); err != nil {
		if ctx.Err() != nil {
			return nil, fmt.Errorf("read the photo %s: %w", path, ctx.Err())
		}
		return nil, unread(path, err)
	}
	if data.Len() > MaxBytes { // it grew meanwhile
		return nil, fmt.Errorf("read the photo %s: %w", path, ErrTooLarge)
	}
	return data.Bytes(), nil
}

// unread is inWords for a photo outside the vault, which is only read.
func unread(path string, err error) error {
	switch {
	case errors.Is(err, fs.ErrPermission):
		return fmt.Errorf("read the photo %s: this user may not read it; change its permissions or copy it to another folder (%w)", path, err)
	case errors.Is(err, syscall.ELOOP):
		return fmt.Errorf("read the photo %s: it is a link that leads back to itself; name the photo that it should lead to (%w)", path, err)
	}
	return inWords("read the photo "+path, err)
}

func (v *Vault) originalPath(sum string, f format.Format) string {
	return filepath.Join(v.dir, "originals", sum[:2], sum[2:]+f.Ext())
}

// writeTemp writes data to a new file in dir, which must be on the disk of the
// final place, so that the rename is one step, and flushes it.
func writeTemp(ctx context.Context, dir string, data []byte) (name string, err error) {
	return writeNew(ctx, dir, data, true)
}

// writeNew is writeTemp with the flush left to choose: what can be made again
// need not outlive a power cut.
func writeNew(ctx context.Context, dir string, data []byte, flush bool) (name string, err error) {
	f, err := os.CreateTemp(dir, ".photo-*.part")
	if err != nil {
		return "", inWords("write into "+dir, err)
	}
	defer func() {
		if closeErr := f.Close(); err == nil && closeErr != nil {
			err = inWords("write into "+dir, closeErr)
		}
		if err != nil {
			os.Remove(f.Name())
		}
	}()
	if _, err := io.Copy(f, withContext(ctx, bytes.NewReader(data))); err != nil {
		if ctx.Err() != nil {
			return "", ctx.Err()
		}
		return "", inWords("write into "+dir, err)
	}
	if !flush {
		return f.Name(), nil
	}
	if err := f.Sync(); err != nil {
		return "", inWords("write into "+dir, err)
	}
	return f.Name(), nil
}

// publish gives the flushed file its final name and flushes the folder, so
// that the name outlives a power cut too.
func publish(tmp, final string) error {
	dir := filepath.Dir(final)
	if err := place(tmp, final); err != nil {
		return err
	}
	if runtime.GOOS == "windows" { // folders cannot be flushed there
		return nil
	}
	d, err := os.Open(dir)
	if err != nil {
		return inWords("open the folder "+dir, err)
	}
	defer d.Close()
	if err := d.Sync(); err != nil && !errors.Is(err, syscall.EINVAL) && !errors.Is(err, syscall.ENOTSUP) {
		return inWords("flush the folder "+dir, err)
	}
	return nil
}

// place gives a file its final name.
func place(tmp, final string) error {
	dir := filepath.Dir(final)
	if err := os.MkdirAll(dir, 0o700); err != nil {
		return inWords("make the folder "+dir, err)
	}
	if err := os.Rename(tmp, final); err != nil {
		return inWords("write into "+dir, err)
	}
	return nil
}

// Export writes a photo's bytes to a file outside the vault, whole or not at
// all; a file of that name is replaced. A folder or a device of that name stays
// as it is.
func Export(ctx context.Context, path string, data []byte) error {
	if path == "" {
		return errors.New("write the copy: no file is named: name one")
	}
	if st, err := os.Stat(path); err == nil && !st.Mode().IsRegular() {
		return fmt.Errorf("write %s: there is a folder or a device of that name; name a file", path)
	}
	tmp, err := writeTemp(ctx, filepath.Dir(path), data)
	if err != nil {
		return err
	}
	defer os.Remove(tmp)
	return publish(tmp, path)
}

func isSum(s string) bool {
	if len(s) != 64 {
		return false
	}
	for _, c := range s {
		if (c < '0' || c > '9') && (c < 'a' || c > 'f') {
			return false
		}
	}
	return true
}

// inWords says what a failed file operation means for the person and the way
// out of it.
func inWords(doing string, err error) error {
	switch {
	case isFull(err):
		return fmt.Errorf("%s: %w: make room on it or move the library to another disk (%v)", doing, ErrFull, err)
	case errors.Is(err, syscall.EROFS):
		return fmt.Errorf("%s: %w: the disk is read-only; take off its write protection or choose another folder", doing, ErrReadOnly)
	case errors.Is(err, fs.ErrPermission):
		return fmt.Errorf("%s: %w: this user may not go there; change the folder's permissions or choose another folder (%v)", doing, ErrReadOnly, err)
	case errors.Is(err, fs.ErrNotExist):
		return fmt.Errorf("%s: it is not there: check the name, and that the card or network drive is connected (%w)", doing, err)
	}
	return fmt.Errorf("%s: %w", doing, err)
}

// isFull knows a full disk and a used-up quota, on Windows by the numbers
// ERROR_DISK_FULL and ERROR_HANDLE_DISK_FULL (Windows system error codes, from
// memory), which mean other things elsewhere.
func isFull(err error) bool {
	if runtime.GOOS == "windows" {
		return errors.Is(err, syscall.Errno(112)) || errors.Is(err, syscall.Errno(39))
	}
	return errors.Is(err, syscall.ENOSPC) || errors.Is(err, syscall.Errno(edquot))
}
