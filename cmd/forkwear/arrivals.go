package main

import (
	"context"
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"time"

	"forkwear/media"
	"forkwear/media/vault"
	"forkwear/media/watch"
	"forkwear/ui/arrivals"
)

// settleTime is how long a file is left alone. It is short, so that a blurred photo
// is told while the camera is still in the hand; a file that is still being
// copied shows by its container, which is not complete.
const settleTime = 400 * time.Millisecond

// arrivals is what the window's inbox needs of the disk. What was taken from
// the watched folder is noted in the library's own folder, so that no photo is
// taken twice after a restart.
func (l *library) arrivals() arrivals.Source {
	return arrivals.Source{
		Watch: func(ctx context.Context, dir string, since time.Time, said func(string), arrived func(string) error) error {
			journal, err := watch.OpenJournal(filepath.Join(l.dir, "watched.jsonl"))
			if err != nil {
				return err
			}
			return watch.Folder(ctx, dir, watch.Options{Since: since, Journal: journal, Said: said, Settle: settleTime, Again: settleTime / 2}, arrived)
		},
		Files: photoFiles,
		Again: mayComeLater,
	}
}

// mayComeLater tells a full disk or a file that cannot be opened yet from one
// that is no photo or is damaged.
func mayComeLater(err error) bool {
	var onDisk *fs.PathError
	return errors.Is(err, vault.ErrFull) || errors.As(err, &onDisk)
}

// photoFiles lists the files behind files and folders as an import finds them;
// a path that can't be read stays, for the import to say why.
func photoFiles(ctx context.Context, paths []string) []string {
	var out []string
	for _, p := range paths {
		if st, err := os.Stat(p); err != nil || !st.IsDir() {
			out = append(out, p)
			continue
		}
		_ = filepath.WalkDir(p, func(path string, d fs.DirEntry, err error) error {
			switch {
			case ctx.Err() != nil:
				return ctx.Err()
			case err != nil: // one folder that can't be read does not stop the others
				out = append(out, path)
			case path != p && media.Unfinished(d.Name()):
				if d.IsDir() {
					return fs.SkipDir
				}
			case d.Type().IsRegular():
				out = append(out, path)
			}
			return nil
		})
	}
	return out
}
