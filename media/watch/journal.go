package watch

import (
	"bufio"
	"encoding/json"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"sync"
	"time"
)

// Journal remembers what was delivered. It is a text file, one JSON object a
// line; a line that cannot be read, such as half a last one, is passed over:
// then a photo comes once more, which the vault notices by its sum.
type Journal struct {
	mu    sync.Mutex
	path  string
	sums  map[string]bool
	files map[string]entry
}

type entry struct {
	Sum   string    `json:"sha256"`
	Path  string    `json:"path"`
	Size  int64     `json:"size"`
	Dated time.Time `json:"dated"`
}

// OpenJournal reads the journal at path; one that is not there begins empty.
func OpenJournal(path string) (*Journal, error) {
	j := &Journal{path: path, sums: map[string]bool{}, files: map[string]entry{}}
	f, err := os.Open(path)
	if errors.Is(err, fs.ErrNotExist) {
		return j, nil
	}
	if err != nil {
		return nil, fmt.Errorf("read which photos were taken from the watched folder: %w", err)
	}
	defer f.Close()
	lines := bufio.NewScanner(f)
	lines.Buffer(nil, 1<<20)
	for lines.Scan() {
		var e entry
		if json.Unmarshal(lines.Bytes(), &e) == nil && len(e.Sum) == 64 {
			j.sums[e.Sum], j.files[e.Path] = true, e
		}
	}
	if err := lines.Err(); err != nil && !errors.Is(err, bufio.ErrTooLong) {
		return nil, fmt.Errorf("read which photos were taken from the watched folder: %w", err)
	}
	return j, nil
}

// Seen tells whether a file with this sum was delivered.
func (j *Journal) Seen(sum string) bool {
	j.mu.Lock()
	defer j.mu.Unlock()
	return j.sums[sum]
}

// unchanged tells without reading the file whether it was delivered as it is.
func (j *Journal) unchanged(path string, st fs.FileInfo) bool {
	j.mu.Lock()
	defer j.mu.Unlock()
	e, ok := j.files[path]
	return ok && e.Size == st.Size() && e.Dated.Equal(st.ModTime())
}

func (j *Journal) add(sum, path string, st fs.FileInfo) error {
	j.mu.Lock()
	defer j.mu.Unlock()
	e := entry{sum, path, st.Size(), st.ModTime()}
	j.sums[sum], j.files[path] = true, e
	if j.path == "" {
		return nil
	}
	line, err := json.Marshal(e)
	if err == nil {
		err = os.MkdirAll(filepath.Dir(j.path), 0o700)
	}
	if err != nil {
		return err
	}
	f, err := os.OpenFile(j.path, os.O_WRONLY|os.O_APPEND|os.O_CREATE, 0o600)
	if err != nil {
		return err
	}
	_, err = f.Write(append(append([]byte{'\n'}, line...), '\n')) // the newline before ends half a line of a crash
	return errors.Join(err, f.Close())
}
