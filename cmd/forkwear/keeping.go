package main

import (
	"context"
	"fmt"
	"io"
	"os"
	"path/filepath"

	"github.com/spf13/cobra"

	"forkwear/inspect"
	"forkwear/media/vault"
)

// libraryCommands look after the library as a whole.
func libraryCommands(dir *string) []*cobra.Command {
	return []*cobra.Command{backupCommand(dir), restoreCommand(), verifyCommand(dir), addPhotosCommand(dir)}
}

func backupCommand(dir *string) *cobra.Command {
	return &cobra.Command{Use: "backup FOLDER", Short: "Copy the history and every original photo into a new folder", Args: cobra.ExactArgs(1),
		RunE: func(cmd *cobra.Command, args []string) error {
			return withLibrary(cmd.Context(), *dir, func(l *library) error {
				n, err := backup(cmd.Context(), l, args[0])
				if err == nil {
					fmt.Fprintf(cmd.OutOrStdout(), "Backed up the history and %d photos into %s\n", n, args[0])
				}
				return err
			})
		}}
}

// backup writes a folder that opens as a library.
func backup(ctx context.Context, l *library, to string) (photos int, err error) {
	if entries, err := os.ReadDir(to); err == nil && len(entries) > 0 {
		return 0, inspect.Refuse(inspect.Invalid, "the folder %s is not empty: name a new one, a backup never overwrites", to)
	}
	if err := os.MkdirAll(to, 0o700); err != nil {
		return 0, err
	}
	if err := l.db.Backup(ctx, filepath.Join(to, "history.sqlite")); err != nil {
		return 0, err
	}
	dst, err := vault.Open(filepath.Join(to, "photos"))
	if err != nil {
		return 0, err
	}
	all, err := l.db.Photos(ctx, inspect.PhotoFilter{})
	if err != nil {
		return 0, err
	}
	done := map[string]bool{}
	for _, p := range all {
		if done[p.SHA256] {
			continue
		}
		data, err := l.vault.Read(ctx, p.SHA256)
		if err != nil {
			return photos, err
		}
		if _, _, err := dst.Put(ctx, data); err != nil {
			return photos, err
		}
		done[p.SHA256] = true
		photos++
	}
	return photos, nil
}

func restoreCommand() *cobra.Command {
	return &cobra.Command{Use: "restore FOLDER DIR", Short: "Make a library in the new folder DIR from a backup", Args: cobra.ExactArgs(2),
		RunE: func(cmd *cobra.Command, args []string) error {
			if _, err := os.Stat(filepath.Join(args[0], "history.sqlite")); err != nil {
				return inspect.Refuse(inspect.NotFound, "%s holds no backup: it has no history.sqlite", args[0])
			}
			return withLibrary(cmd.Context(), args[0], func(l *library) error {
				n, err := backup(cmd.Context(), l, args[1])
				if err == nil {
					fmt.Fprintf(cmd.OutOrStdout(), "Restored the history and %d photos into %s\n", n, args[1])
				}
				return err
			})
		}}
}

func verifyCommand(dir *string) *cobra.Command {
	return &cobra.Command{Use: "verify", Short: "Check the history and every original photo", Args: cobra.NoArgs,
		RunE: func(cmd *cobra.Command, _ []string) error {
			return withLibrary(cmd.Context(), *dir, func(l *library) error { return verify(cmd.Context(), l, cmd.OutOrStdout()) })
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
			faults = append(faults, fmt.Errorf("photo %s of the history: %w", p.FileName, err))
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
	var check, leg, stage string
	c := &cobra.Command{Use: "add TICKET FILE...", Short: "File photos with a visit: in its tray, or with a check", Args: cobra.MinimumNArgs(2),
		RunE: func(cmd *cobra.Command, args []string) error {
			return withLibrary(cmd.Context(), *dir, func(l *library) error {
				c, err := findVisit(cmd.Context(), l, args[:1])
				if err != nil {
					return err
				}
				if _, ok := l.desk.Catalog.Check(check); check != "" && !ok {
					return inspect.Refuse(inspect.NotFound, "the check %q is not in the catalog", check)
				}
				place := inspect.Photo{Check: check, Leg: inspect.Leg(leg), Stage: inspect.Stage(stage)}
				failed := 0
				for _, r := range l.photos.Import(cmd.Context(), args[1:], nil) {
					if r.Err == nil {
						p := r.Photo
						p.Check, p.Leg, p.Stage = place.Check, place.Leg, place.Stage
						_, r.Known, r.Err = l.desk.KeepPhoto(cmd.Context(), c, p)
					}
					failed += tellPhoto(cmd.OutOrStdout(), r.Path, r.Photo, r.Known, r.Err)
				}
				if failed > 0 {
					return inspect.Refuse(inspect.Invalid, "%d files were not taken in; the others were", failed)
				}
				return nil
			})
		}}
	c.Flags().StringVar(&check, "check", "", "id of the check that the photos show")
	c.Flags().StringVar(&leg, "leg", "", "left or right")
	c.Flags().StringVar(&stage, "stage", string(inspect.Received), "received, stripped or after_work")
	return c
}

func tellPhoto(out io.Writer, path string, p inspect.Photo, known bool, err error) (failed int) {
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
