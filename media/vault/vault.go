package vault

import (
	"bytes"
	"context"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"sync"

	"forkwear/media/format"
)

// MaxBytes is the largest file that is taken in as a photo.
const MaxBytes = 100 << 20

// The errors that a caller can act upon; those returned wrap one of them.
var (
	// ErrCorrupt: the bytes on the disk no longer give the sum they are kept under.
	ErrCorrupt = errors.New("the kept photo is damaged")
	// ErrMissing: no original with this sum is kept.
	ErrMissing = errors.New("the photo is not in the library")
	// ErrTooLarge: the file has more than MaxBytes.
	ErrTooLarge = errors.New("the file is larger than 100 MB")
	// ErrNotPhoto: the first bytes are those of no picture format.
	ErrNotPhoto = errors.New("the file is not a photo")
	// ErrFull: the disk of the library has no room left.
	ErrFull = errors.New("the disk is full")
	// ErrReadOnly: the library's folder cannot be written.
	ErrReadOnly = errors.New("the folder cannot be written")
	// ErrSum: the text given as a photo's name is not a SHA-256 sum.
	ErrSum = errors.New("not a photo's SHA-256 sum")
)

// Original names one kept photo file.
type Original struct {
	SHA256 string        // 64 lower-case hexadecimal digits
	Format format.Format // by its content
	Bytes  int64         // size of the file
}

// Vault is the folder of originals and previews. It may be used by many
// goroutines at once, and by several programs on the same folder.
type Vault struct {
	dir string
	mu  sync.Mutex // between "is it there?" and the rename
}

// Open makes the folders that are missing and gives the vault in dir. Leftover
// temporary files of an earlier, interrupted run are ignored and harmless.
func Open(dir string) (*Vault, error) {
	if dir == "" {
		return nil, fmt.Errorf("open the photo folder: no folder given: name the library's folder")
	}
	for _, d := range []string{"originals", "previews", "tmp"} {
		if err := os.MkdirAll(filepath.Join(dir, d), 0o700); err != nil {
			return nil, inWords("make the photo folder "+filepath.Join(dir, d), err)
		}
	}
	return &Vault{dir: dir}, nil
}

// OpenToRead gives the vault in dir as it is and makes nothing: for a backup on
// a disk that cannot be written.
func OpenToRead(dir string) *Vault { return &Vault{dir: dir} }

// Dir is the folder of the vault.
func (v *Vault) Dir() string { return v.dir }

// Add takes the file at path in and says whether its bytes were kept already.
// The file itself is only read. A kept copy found damaged is replaced by the
// good bytes. Errors wrap ErrTooLarge, ErrNotPhoto, ErrFull or ErrReadOnly
// where one of these is the reason.
func (v *Vault) Add(ctx context.Context, path string) (o Original, existed bool, err error) {
	data, err := Load(ctx, path)
	if err != nil {
		return Original{}, false, err
	}
	o, existed, err = v.Put(ctx, data)
	if err != nil {
		return o, existed, fmt.Errorf("keep the photo %s: %w", path, err)
	}
	return o, existed, nil
}

// Put takes a photo's bytes in; see Add.
func (v *Vault) Put(ctx context.Context, data []byte) (o Original, existed bool, err error) {
	sum := sha256.Sum256(data)
	return v.PutSummed(ctx, data, hex.EncodeToString(sum[:]))
}

// PutSummed is Put for bytes whose SHA-256 the caller has computed. A wrong sum
// would be found on the first reading, as a damaged photo.
func (v *Vault) PutSummed(ctx context.Context, data []byte, sum string) (o Original, existed bool, err error) {
	if !isSum(sum) {
		return o, false, fmt.Errorf("keep photo %.80q: %w", sum, ErrSum)
	}
	if len(data) > MaxBytes {
		return o, false, ErrTooLarge
	}
	f := format.Sniff(data[:min(len(data), format.SniffLen)])
	if f == format.Unknown {
		return o, false, ErrNotPhoto
	}
	o = Original{SHA256: sum, Format: f, Bytes: int64(len(data))}
	final := v.originalPath(o.SHA256, f)
	state, err := v.state(ctx, o.SHA256)
	if err != nil {
		return o, false, err
	}
	if state == whole {
		return o, true, nil
	}
	tmp, err := writeTemp(ctx, filepath.Join(v.dir, "tmp"), data)
	if err != nil {
		return o, false, err
	}
	defer os.Remove(tmp) // nothing there after the rename

	v.mu.Lock()
	defer v.mu.Unlock()
	if state == absent { // another goroutine may have been faster
		if _, err := os.Lstat(final); err == nil {
			return o, true, nil
		}
	}
	return o, state == damaged, publish(tmp, final)
}

type keptState int

const (
	absent keptState = iota
	whole
	damaged
)

func (v *Vault) state(ctx context.Context, sum string) (keptState, error) {
	_, err := v.Read(ctx, sum)
	switch {
	case err == nil:
		return whole, nil
	case errors.Is(err, ErrMissing):
		return absent, nil
	case errors.Is(err, ErrCorrupt):
		return damaged, nil
	}
	return absent, err
}

// Find gives the format and size of a kept original without reading it.
func (v *Vault) Find(sum string) (Original, error) {
	if !isSum(sum) {
		return Original{}, fmt.Errorf("find photo %.80q: %w: it has 64 hexadecimal digits", sum, ErrSum)
	}
	for _, f := range format.All() {
		st, err := os.Stat(v.originalPath(sum, f))
		if err == nil {
			return Original{SHA256: sum, Format: f, Bytes: st.Size()}, nil
		}
		if !errors.Is(err, os.ErrNotExist) {
			return Original{}, inWords("look for photo "+sum[:12], err)
		}
	}
	return Original{}, fmt.Errorf("photo %s: %w: it may lie in a backup or on the camera", sum[:12], ErrMissing)
}

// Path is where the original lies, for showing it in another program. Nobody
// may write there.
func (v *Vault) Path(sum string) (string, error) {
	o, err := v.Find(sum)
	if err != nil {
		return "", err
	}
	return v.originalPath(o.SHA256, o.Format), nil
}

// Read gives the original's bytes after checking them against its sum; bytes
// that do not fit are never returned (ErrCorrupt).
func (v *Vault) Read(ctx context.Context, sum string) ([]byte, error) {
	r, err := v.Open(sum)
	if err != nil {
		return nil, err
	}
	defer r.Close()
	var buf bytes.Buffer
	if _, err := io.Copy(&buf, withContext(ctx, r)); err != nil {
		if errors.Is(err, ErrCorrupt) || ctx.Err() != nil {
			return nil, err
		}
		return nil, inWords("read photo "+sum[:12], err)
	}
	return buf.Bytes(), nil
}

// Open gives a reader over the original that reports ErrCorrupt in place of
// the end of the file when the bytes read do not give the sum. What came
// before that error must then be thrown away.
func (v *Vault) Open(sum string) (io.ReadCloser, error) {
	path, err := v.Path(sum)
	if err != nil {
		return nil, err
	}
	f, err := os.Open(path)
	if err != nil {
		return nil, inWords("open photo "+sum[:12], err)
	}
	return &verifying{file: f, want: sum, hash: sha256.New()}, nil
}
