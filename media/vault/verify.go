package vault

import (
	"context"
	"encoding/hex"
	"errors"
	"fmt"
	"hash"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
)

// verifying hashes what passes and compares at the end.
type verifying struct {
	file *os.File
	want string
	hash hash.Hash
	seen int64
}

func (r *verifying) Read(p []byte) (int, error) {
	n, err := r.file.Read(p)
	r.hash.Write(p[:n])
	r.seen += int64(n)
	if r.seen > MaxBytes {
		return n, r.corrupt()
	}
	if err == io.EOF && hex.EncodeToString(r.hash.Sum(nil)) != r.want {
		return n, r.corrupt()
	}
	return n, err
}

func (r *verifying) Close() error { return r.file.Close() }

func (r *verifying) corrupt() error {
	return fmt.Errorf("photo %s: %w: take it in again from the camera or fetch %s from a backup",
		r.want[:12], ErrCorrupt, filepath.Base(r.file.Name()))
}

type contextReader struct {
	ctx context.Context
	r   io.Reader
}

func withContext(ctx context.Context, r io.Reader) io.Reader { return contextReader{ctx, r} }

func (c contextReader) Read(p []byte) (int, error) {
	if err := c.ctx.Err(); err != nil {
		return 0, err
	}
	return c.r.Read(p)
}

// Fault is one thing that Check found wrong.
type Fault struct {
	Path string // of the file in the vault
	Err  error  // wraps ErrCorrupt for changed bytes
}

// Check reads every original and compares it with its sum. It goes on after a
// fault and gives all of them; progress (may be nil) hears of each file. The
// error is that of a cancelled context or an unreadable folder.
func (v *Vault) Check(ctx context.Context, progress func(done int, name string)) (checked int, faults []Fault, err error) {
	root := filepath.Join(v.dir, "originals")
	err = filepath.WalkDir(root, func(path string, d fs.DirEntry, err error) error {
		if ctx.Err() != nil {
			return ctx.Err()
		}
		if err != nil {
			faults = append(faults, Fault{path, inWords("read "+path, err)})
			return nil
		}
		if d.IsDir() {
			return nil
		}
		sum := filepath.Base(filepath.Dir(path)) + strings.TrimSuffix(d.Name(), filepath.Ext(d.Name()))
		if !isSum(sum) {
			faults = append(faults, Fault{path, fmt.Errorf("%s is not named by a photo's sum: it does not belong here", path)})
			return nil
		}
		checked++
		if _, err := v.Read(ctx, sum); err != nil {
			if ctx.Err() != nil {
				return ctx.Err()
			}
			faults = append(faults, Fault{path, err})
		}
		if progress != nil {
			progress(checked, d.Name())
		}
		return nil
	})
	if err != nil && !errors.Is(err, context.Canceled) && !errors.Is(err, context.DeadlineExceeded) {
		err = inWords("check the photos in "+root, err)
	}
	return checked, faults, err
}
