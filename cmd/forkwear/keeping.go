package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"time"
	"unicode"
	"unicode/utf8"

	"github.com/spf13/cobra"

	"forkwear/inspect"
	"forkwear/media"
	"forkwear/media/vault"
	"forkwear/store"
)

// libraryCommands look after the library as a whole.
func libraryCommands(dir *string) []*cobra.Command {
	return []*cobra.Command{backupCommand(dir), restoreCommand(), verifyCommand(dir), addPhotosCommand(dir)}
}

func backupCommand(dir *string) *cobra.Command {
	return &cobra.Command{Use: "backup FOLDER", Short: "Copy the history, every original photo and the shop's own catalog into a new folder", Args: cobra.ExactArgs(1),
		RunE: func(cmd *cobra.Command, args []string) error {
			return toRead(cmd.Context(), *dir, func(l *library) error {
				return backup(cmd.Context(), l, args[0], cmd.OutOrStdout(), "Backed up")
			})
		}}
}

// backup writes a folder that opens as a library. A photo that is damaged or
// gone is named and left out: it must not keep all others from being safe.
func backup(ctx context.Context, l *library, to string, out io.Writer, did string) error {
	if entries, err := os.ReadDir(to); err == nil && len(entries) > 0 {
		return inspect.Refuse(inspect.Invalid, "the folder %s is not empty: name a new one, a backup never overwrites", to)
	}
	if err := os.MkdirAll(to, 0o700); err != nil {
		return fmt.Errorf("make the folder %s: %w: name another one", to, err)
	}
	if err := copyHistory(ctx, l, filepath.Join(to, "history.sqlite")); err != nil {
		return err
	}
	if err := copyCatalog(l.dir, to); err != nil {
		return err
	}
	photos, lost, err := copyPhotos(ctx, l, to)
	if err != nil {
		return fmt.Errorf("%w; what is in %s so far is no backup: remove it and begin anew", err, to)
	}
	for _, err := range lost {
		fmt.Fprintln(out, err)
	}
	fmt.Fprintf(out, "%s the history and %d photos into %s\n", did, photos, to)
	if len(lost) > 0 {
		return inspect.Refuse(inspect.Damaged, "%d photos could not be copied, all else is in %s: look for them in an older backup", len(lost), to)
	}
	return nil
}

// copyHistory copies the history. From a folder that cannot be written, SQLite
// refuses to; then nobody else writes there either, and with no journal beside
// it the file itself is the whole history.
func copyHistory(ctx context.Context, l *library, to string) error {
	err := l.db.Backup(ctx, to)
	if inspect.CodeOf(err) != inspect.ReadOnly {
		return err
	}
	if st, walErr := os.Stat(l.db.File() + "-wal"); walErr == nil && st.Size() > 0 {
		return err
	}
	data, readErr := os.ReadFile(l.db.File())
	if readErr != nil {
		return err
	}
	if err := vault.Export(ctx, to, data); err != nil {
		return err
	}
	if to, err = filepath.Abs(to); err != nil {
		return err
	}
	return store.CheckFile(ctx, to)
}

// copyPhotos copies the originals that the history names, each once.
func copyPhotos(ctx context.Context, l *library, to string) (photos int, lost []error, err error) {
	dst, err := vault.Open(filepath.Join(to, "photos"))
	if err != nil {
		return 0, nil, err
	}
	all, err := l.db.Photos(ctx, inspect.PhotoFilter{})
	if err != nil {
		return 0, nil, err
	}
	done := map[string]bool{}
	for _, p := range all {
		if done[p.SHA256] {
			continue
		}
		done[p.SHA256] = true
		data, err := l.vault.Read(ctx, p.SHA256)
		switch {
		case errors.Is(err, vault.ErrCorrupt), errors.Is(err, vault.ErrMissing):
			lost = append(lost, fmt.Errorf("%s is not copied: %w", shown(p.FileName), err))
			continue
		case err != nil:
			return photos, lost, err
		}
		if _, _, err := dst.Put(ctx, data); err != nil {
			return photos, lost, err
		}
		photos++
	}
	return photos, lost, nil
}

// copyCatalog takes the shop's own data sheets and checks along: without them
// the history would be read by the shipped ones.
func copyCatalog(from, to string) error {
	src := filepath.Join(from, "catalog")
	if _, err := os.Stat(src); errors.Is(err, fs.ErrNotExist) {
		return nil
	}
	if err := os.CopyFS(filepath.Join(to, "catalog"), os.DirFS(src)); err != nil {
		return fmt.Errorf("copy the shop's own catalog %s: %w", src, err)
	}
	return nil
}

func restoreCommand() *cobra.Command {
	return &cobra.Command{Use: "restore FOLDER DIR", Short: "Make a library in the new folder DIR from a backup", Args: cobra.ExactArgs(2),
		RunE: func(cmd *cobra.Command, args []string) error {
			if _, err := os.Stat(filepath.Join(args[0], "history.sqlite")); err != nil {
				return inspect.Refuse(inspect.NotFound, "%s holds no backup: it has no history.sqlite", args[0])
			}
			return toRead(cmd.Context(), args[0], func(l *library) error {
				return backup(cmd.Context(), l, args[1], cmd.OutOrStdout(), "Restored")
			})
		}}
}

// toRead opens a library for its history and photos alone, and leaves it as it
// is: a backup may lie on a disk that cannot be written. Only one of an older
// version is opened for writing, to be brought up to date.
func toRead(ctx context.Context, dir string, do func(*library) error) (err error) {
	db, err := store.Open(ctx, dir, store.Options{Clock: time.Now, NewID: newID, ReadOnly: true})
	if err != nil {
		return withLibrary(ctx, dir, do)
	}
	defer func() {
		if closing := db.Close(); err == nil {
			err = closing
		}
	}()
	return do(&library{dir: dir, db: db, vault: vault.OpenToRead(filepath.Join(dir, "photos"))})
}

func verifyCommand(dir *string) *cobra.Command {
	return &cobra.Command{Use: "verify", Short: "Check the history and every original photo", Args: cobra.NoArgs,
		RunE: func(cmd *cobra.Command, _ []string) error {
			return toRead(cmd.Context(), *dir, func(l *library) error { return verify(cmd.Context(), l, cmd.OutOrStdout()) })
		}}
}

func verify(ctx context.Context, l *library, out io.Writer) error {
	faults := l.db.Verify(ctx)
	n, bad, err := l.vault.Check(ctx, nil)
	if err != nil {
		return err
	}
	for _, f := range bad {
		faults = append(faults, f.Err)
	}
	photos, err := l.db.Photos(ctx, inspect.PhotoFilter{})
	if err != nil {
		return err
	}
	for _, p := range photos {
		if _, err := l.vault.Find(p.SHA256); err != nil {
			faults = append(faults, fmt.Errorf("photo %s of the history: %w", shown(p.FileName), err))
		}
	}
	for _, f := range faults {
		fmt.Fprintln(out, f)
	}
	fmt.Fprintf(out, "%d photos and the history checked, %d faults\n", n, len(faults))
	if len(faults) > 0 {
		return inspect.Refuse(inspect.Damaged, "%d faults found: restore what they name from a backup", len(faults))
	}
	return nil
}

func addPhotosCommand(dir *string) *cobra.Command {
	var place inspect.Photo
	var leg, stage string
	c := &cobra.Command{Use: "add TICKET FILE...", Short: "File photos with a visit: in its tray, or with a check", Args: cobra.MinimumNArgs(2),
		RunE: func(cmd *cobra.Command, args []string) error {
			return withLibrary(cmd.Context(), *dir, func(l *library) error {
				place.Leg, place.Stage = inspect.Leg(leg), inspect.Stage(stage)
				return addPhotos(cmd.Context(), l, args[0], args[1:], place, cmd.OutOrStdout())
			})
		}}
	c.Flags().StringVar(&place.Check, "check", "", "id of the check that the photos show")
	c.Flags().StringVar(&leg, "leg", "", "left or right")
	c.Flags().StringVar(&stage, "stage", string(inspect.Received), "received, stripped or after_work")
	return c
}

// addPhotos files each photo as soon as it is read: what is done by then is not
// lost when the command is stopped, and the same command goes on from there.
func addPhotos(ctx context.Context, l *library, ticket string, paths []string, place inspect.Photo, out io.Writer) error {
	c, err := findVisit(ctx, l, []string{ticket})
	if err != nil {
		return err
	}
	if _, ok := l.desk.Catalog.Check(place.Check); place.Check != "" && !ok {
		return inspect.Refuse(inspect.NotFound, "the check %q is not in the catalog", place.Check)
	}
	done, failed, open := 0, 0, 0
	im := l.photos.importer()
	im.Finished = func(r media.Result) {
		if r.Err != nil && ctx.Err() != nil {
			open++
			return
		}
		var p inspect.Photo
		known, err := false, r.Err
		if err == nil {
			p = record(r.Path, r.Photo)
			p.Check, p.Leg, p.Stage = place.Check, place.Leg, place.Stage
			_, known, err = l.desk.KeepPhoto(context.WithoutCancel(ctx), c, p)
		}
		if n := tellPhoto(out, r.Path, p, known, err); n > 0 {
			failed += n
		} else {
			done++
		}
	}
	im.Import(ctx, paths, nil)
	switch {
	case open > 0:
		return inspect.Refuse(inspect.Invalid, "stopped: %d photos are filed, %d are still to come and %d were not taken in: the same command goes on from there", done, open, failed)
	case failed > 0:
		return inspect.Refuse(inspect.Invalid, "%d files were not taken in; the others were", failed)
	}
	return nil
}

func tellPhoto(out io.Writer, path string, p inspect.Photo, known bool, err error) (failed int) {
	path = shown(path)
	switch {
	case err != nil:
		fmt.Fprintf(out, "%s: not taken in: %v\n", path, err)
		return 1
	case known:
		fmt.Fprintf(out, "%s: known already, kept once\n", path)
	default:
		date := p.WallTime
		if p.DateSource != "exif" {
			date = "no camera date, file time " + p.WallTime
		}
		fmt.Fprintf(out, "%s: %s (%s %s)\n", path, date, p.Make, p.Model)
	}
	return 0
}

// shown gives a file's name for the screen: one with line breaks or other signs
// that steer a terminal is put in quotes with those written out.
func shown(name string) string {
	if strings.ContainsFunc(name, func(r rune) bool { return !unicode.IsPrint(r) || r == utf8.RuneError }) {
		return strconv.Quote(name)
	}
	return name
}
