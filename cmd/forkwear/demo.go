package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"time"

	"github.com/spf13/cobra"

	"forkwear/cmd/forkwear/sample"
	"forkwear/inspect"
)

// sampleToday is the sample shop's own today, so that it is the same every time.
func sampleToday() time.Time { return time.Date(2026, 11, 20, 17, 0, 0, 0, time.UTC) }

const sampleSeed = 34

func demoCommand() *cobra.Command {
	var seed uint64
	c := &cobra.Command{Use: "demo DIR", Short: "Make a library of an invented shop in the new folder DIR", Args: cobra.ExactArgs(1),
		RunE: func(cmd *cobra.Command, args []string) error {
			if _, err := os.Stat(filepath.Join(args[0], "history.sqlite")); err == nil {
				return inspect.Refuse(inspect.Conflict, "%s already holds a library: name a new folder for the sample shop", args[0])
			}
			return withLibrary(cmd.Context(), args[0], func(l *library) error {
				tell, end := progressLine(cmd.ErrOrStderr(), "visits of the sample shop")
				err := l.fill(cmd.Context(), seed, tell)
				end()
				if err == nil {
					fmt.Fprintf(cmd.OutOrStdout(), "The sample shop is in %s. Open it with: forkwear --library %s\n", args[0], args[0])
				}
				return err
			})
		}}
	c.Flags().Uint64Var(&seed, "seed", sampleSeed, "the same seed makes the same shop")
	return c
}

// fillWithSample is what an empty library offers.
func (l *library) fillWithSample(ctx context.Context, progress func(done, total int)) error {
	return l.fill(ctx, sampleSeed, progress)
}

func (l *library) fill(ctx context.Context, seed uint64, progress func(done, total int)) error {
	visits, err := l.db.Visits(ctx, inspect.VisitFilter{Limit: 1})
	if err != nil {
		return err
	}
	if len(visits) > 0 {
		return inspect.Refuse(inspect.Conflict, "this library already has visits: the sample shop only goes into an empty one")
	}
	tmp, err := os.MkdirTemp("", "forkwear-sample")
	if err != nil {
		return err
	}
	defer func() { _ = os.RemoveAll(tmp) }()
	f := sample.Filler{Lib: l.db, Catalog: l.desk.Catalog, Keep: l.keeper(tmp), Seed: seed, Until: sampleToday()}
	return f.Fill(ctx, progress)
}

// progressLine tells on w how far a long work is: one line that is written over
// on a terminal, elsewhere a line for each fifth of it. end closes the line.
func progressLine(w io.Writer, what string) (tell func(done, total int), end func()) {
	if f, ok := w.(*os.File); ok {
		if st, err := f.Stat(); err == nil && st.Mode()&os.ModeCharDevice != 0 {
			return func(done, total int) { fmt.Fprintf(w, "\r%d of %d %s", done, total, what) }, func() { fmt.Fprintln(w) }
		}
	}
	told := 0
	return func(done, total int) {
		if part := 5 * done / max(total, 1); part > told {
			told = part
			fmt.Fprintf(w, "%d of %d %s\n", done, total, what)
		}
	}, func() {}
}

// keeper takes drawn pictures in the way that photographs go: as files that
// are imported. They stay in the folder sample below dir. It may be used from
// several goroutines at once.
func (l *library) keeper(dir string) sample.Keeper {
	folder := filepath.Join(dir, "sample")
	return func(ctx context.Context, d sample.Drawing) (inspect.Photo, error) {
		if err := os.MkdirAll(folder, 0o700); err != nil {
			return inspect.Photo{}, err
		}
		file := filepath.Join(folder, d.Name)
		if err := os.WriteFile(file, d.JPEG, 0o600); err != nil {
			return inspect.Photo{}, err
		}
		im := l.photos.importer()
		if im.Workers = 1; !d.Card {
			im.FindCard = nil
		}
		got := im.Import(ctx, []string{file}, nil)
		if len(got) != 1 {
			return inspect.Photo{}, errors.New("the drawn picture " + d.Name + " was not taken in")
		}
		return record(file, got[0].Photo), got[0].Err
	}
}
