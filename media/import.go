package media

import (
	"context"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"runtime"
	"sort"
	"strings"
	"sync"
	"time"

	"forkwear/media/decode"
	"forkwear/media/vault"
)

// The pixel sizes, along the longer side, of the previews that an import makes.
const (
	PreviewSmall = 512
	PreviewLarge = 1600
)

// Result is what became of one file of an import.
type Result struct {
	Path    string
	Photo   Photo
	Existed bool  // the same bytes were in the vault already
	Err     error // why it was not taken in; the file itself is untouched
}

// Importer takes photo files into a vault.
type Importer struct {
	Vault   *vault.Vault
	Zone    *time.Location // the shop's zone for wall times without offset; nil leaves them without
	Workers int            // 0: one for each processor core
}

// Import takes files and whole folders in with all cores; see Importer.Import.
func Import(ctx context.Context, v *vault.Vault, paths []string, progress func(done, total int, name string)) []Result {
	return Importer{Vault: v}.Import(ctx, paths, progress)
}

// Import copies each photo into the vault, reads what it says about itself and
// makes its previews. Folders are walked through; hidden files and unfinished
// downloads in them are passed over. There is one Result for each file, in
// the order of paths and by name inside a folder, with an error where it could
// not be taken in: one bad file never stops the others. After a cancel the
// files not begun carry the context's error. progress (may be nil) is called
// once for each finished file, never twice at the same time.
func (im Importer) Import(ctx context.Context, paths []string, progress func(done, total int, name string)) []Result {
	results := expand(ctx, paths)
	workers := im.Workers
	if workers <= 0 {
		workers = runtime.GOMAXPROCS(0)
	}
	var (
		next = make(chan int)
		wg   sync.WaitGroup
		mu   sync.Mutex
		done int
	)
	for range min(workers, max(1, len(results))) {
		wg.Go(func() {
			for i := range next {
				im.one(ctx, &results[i])
				mu.Lock()
				done++
				if progress != nil {
					progress(done, len(results), results[i].Path)
				}
				mu.Unlock()
			}
		})
	}
	for i := range results {
		next <- i
	}
	close(next)
	wg.Wait()
	return results
}

func (im Importer) one(ctx context.Context, r *Result) {
	if r.Err != nil {
		return
	}
	if ctx.Err() != nil {
		r.Err = fmt.Errorf("take in %s: stopped before it was begun: %w", r.Path, ctx.Err())
		return
	}
	data, err := vault.Load(ctx, r.Path)
	if err != nil {
		r.Err = err
		return
	}
	photo, previews, err := read(ctx, data, im.Zone, im.missingPreviews(data))
	if err != nil {
		r.Err = fmt.Errorf("take in %s: %w", r.Path, err)
		return
	}
	_, existed, err := im.Vault.Put(ctx, data)
	if err != nil {
		r.Err = fmt.Errorf("take in %s: %w", r.Path, err)
		return
	}
	r.Photo, r.Existed = photo, existed
	for _, pv := range previews {
		// A preview that cannot be kept is made again when it is asked for.
		_ = im.keepPreview(ctx, photo.SHA256, pv)
	}
}

// missingPreviews gives the sizes that are not in the cache yet: taking a whole
// card in again must not make them all once more.
func (im Importer) missingPreviews(data []byte) []int {
	sum := sha256.Sum256(data)
	name := hex.EncodeToString(sum[:])
	var missing []int
	for _, px := range []int{PreviewSmall, PreviewLarge} {
		if _, ok := im.Vault.Preview(name, px); !ok {
			missing = append(missing, px)
		}
	}
	return missing
}

func (im Importer) keepPreview(ctx context.Context, sum string, pv decode.Preview) error {
	jpeg, err := pv.JPEG()
	if err != nil {
		return err
	}
	return im.Vault.PutPreview(ctx, sum, pv.Size, jpeg)
}

// Preview gives the JPEG preview of a kept photo, px along its longer side;
// it comes from the cache or is made from the original and put there.
func Preview(ctx context.Context, v *vault.Vault, sum string, px int) ([]byte, error) {
	if jpeg, ok := v.Preview(sum, px); ok {
		return jpeg, nil
	}
	data, err := v.Read(ctx, sum)
	if err != nil {
		return nil, err
	}
	_, previews, err := read(ctx, data, nil, []int{px})
	if err != nil {
		return nil, fmt.Errorf("make a preview of photo %s: %w", sum[:12], err)
	}
	if len(previews) == 0 {
		return nil, fmt.Errorf("make a preview of photo %s: %w", sum[:12], decode.ErrNoDecoder)
	}
	jpeg, err := previews[0].JPEG()
	if err != nil {
		return nil, fmt.Errorf("make a preview of photo %s: %w", sum[:12], err)
	}
	_ = v.PutPreview(ctx, sum, px, jpeg) // a full disk must not hide the photo
	return jpeg, nil
}

// expand lists the files behind paths, each once, as Results to be filled.
func expand(ctx context.Context, paths []string) []Result {
	var out []Result
	seen := map[string]bool{}
	add := func(path string, err error) {
		key := filepath.Clean(path)
		if !seen[key] {
			seen[key] = true
			out = append(out, Result{Path: path, Err: err})
		}
	}
	for _, p := range paths {
		st, err := os.Stat(p)
		switch {
		case err != nil && errors.Is(err, fs.ErrNotExist):
			add(p, fmt.Errorf("take in %s: it is not there: check the name, and that the card or network drive is connected (%w)", p, err))
		case err != nil:
			add(p, fmt.Errorf("take in %s: %w", p, err))
		case st.IsDir():
			walkFolder(ctx, p, add)
		default:
			add(p, nil)
		}
	}
	return out
}

func walkFolder(ctx context.Context, dir string, add func(string, error)) {
	var files []string
	_ = filepath.WalkDir(dir, func(path string, d fs.DirEntry, err error) error {
		switch {
		case ctx.Err() != nil:
			return ctx.Err()
		case err != nil:
			add(path, fmt.Errorf("look into %s: %w", path, err))
			if d != nil && d.IsDir() {
				return fs.SkipDir
			}
		case path != dir && unfinished(d.Name()):
			if d.IsDir() {
				return fs.SkipDir
			}
		case d.Type().IsRegular() || d.Type()&fs.ModeSymlink != 0:
			files = append(files, path)
		}
		return nil
	})
	sort.Strings(files)
	for _, f := range files {
		if st, err := os.Stat(f); err == nil && st.IsDir() {
			continue // a link to a folder: walking it could go round in a circle
		}
		add(f, nil)
	}
}

// unfinished knows hidden files and the endings that browsers and phones give
// a file until it is complete.
func unfinished(name string) bool {
	lower := strings.ToLower(name)
	for _, end := range []string{".tmp", ".part", ".crdownload", ".partial"} {
		if strings.HasSuffix(lower, end) {
			return true
		}
	}
	return strings.HasPrefix(name, ".")
}
