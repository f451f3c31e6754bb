package media

import (
	"context"
	"errors"
	"fmt"
	"image"
	"io/fs"
	"os"
	"path/filepath"
	"runtime"
	"sort"
	"strings"
	"sync"
	"time"

	"forkwear/media/heic"
	"forkwear/media/quality"
	"forkwear/media/scale"
	"forkwear/media/vault"
)

// The pixel sizes, along the longer side, of the previews that an import makes.
const (
	PreviewSmall = 512
	PreviewLarge = 1600
)

// flushing is how many photos more than cores are worked on: while one waits for
// the disk to flush it, its core reads the next.
const flushing = 2

// Result is what became of one file of an import.
type Result struct {
	Path    string
	Photo   Photo
	Existed bool  // the same bytes were in the vault already
	Err     error // why it was not taken in; the file itself is untouched
}

// Importer takes photo files into a vault. The zero values of all but Vault are
// good.
type Importer struct {
	Vault   *vault.Vault
	Zone    *time.Location // the shop's zone for wall times without offset; nil leaves them without
	Workers int            // 0: two more than there are processor cores
	HEIC    heic.Decoder   // nil: HEIC is kept and not shown
	Subject quality.Subject

	// Fingerprint makes the perceptual hash of an upright picture of
	// PreviewSmall; FindCard looks for a bench card or a plain one in an upright
	// picture of PreviewLarge and gives its corners in that picture, top left
	// first, clockwise, unless it is not wholly in it, and its code, if it has
	// one. Either may be nil.
	Fingerprint func(image.Image) (string, error)
	FindCard    func(context.Context, image.Image) (code string, corners [4]scale.Point, placed bool)
	// Finished (may be nil) is given each Result as soon as it is known, never two
	// at the same time: what is done with it then is not lost when the import is
	// stopped later.
	Finished func(Result)
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
		workers = runtime.GOMAXPROCS(0) + flushing
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
				if im.Finished != nil {
					im.Finished(results[i])
				}
				if progress != nil {
					progress(done, len(results), results[i].Path)
				}
				mu.Unlock()
			}
		})
	}
	for _, i := range order(results) {
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
	if r.Err = im.take(ctx, data, r); r.Err != nil {
		r.Err = fmt.Errorf("take in %s: %w", r.Path, r.Err)
	}
}

// take keeps a photo's bytes and fills in what is known of it. A photo that was
// read before, in this or an earlier run, is not decoded again.
func (im Importer) take(ctx context.Context, data []byte, r *Result) error {
	sum := sumOf(data)
	p, known := im.knownFacts(sum)
	var got reading
	if !known {
		var err error
		if got, err = im.read(ctx, data, sum, im.sizes(sum)); err != nil {
			return err
		}
		p = got.photo
	}
	_, existed, err := im.Vault.PutSummed(ctx, data, sum)
	if err != nil {
		return err
	}
	r.Photo, r.Existed = p, existed
	if !known {
		im.keepPictures(ctx, sum, got)
	}
	return nil
}

// order gives the numbers of results as they are to be worked on: HEIC last,
// because only one is converted at a time and the others need not wait for it.
// A wrong ending costs only the time.
func order(results []Result) []int {
	var first, last []int
	for i, r := range results {
		switch strings.ToLower(filepath.Ext(r.Path)) {
		case ".heic", ".heif", ".hif":
			last = append(last, i)
		default:
			first = append(first, i)
		}
	}
	return append(first, last...)
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
		case path != dir && Unfinished(d.Name()):
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

// Unfinished knows hidden files and the endings that browsers and phones give
// a file until it is complete.
func Unfinished(name string) bool {
	lower := strings.ToLower(name)
	for _, end := range []string{".tmp", ".part", ".crdownload", ".partial"} {
		if strings.HasSuffix(lower, end) {
			return true
		}
	}
	return strings.HasPrefix(name, ".")
}
