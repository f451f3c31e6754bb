package main

import (
	"bufio"
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"

	"fyne.io/fyne/v2"
	"github.com/spf13/cobra"

	"forkwear/cmd/forkwear/sample"
	"forkwear/inspect"
	"forkwear/ui/place"
)

// tourForks are enough for every screen to have something to show.
const tourForks = 16

// tourCommand walks the main job in the real window on a sample shop of its
// own. 'go run ./cmd/dev tour' starts it and takes the pictures that it asks
// for on standard output; cmd/dev/doc.go has the protocol.
func tourCommand() *cobra.Command {
	var out, size string
	var scale float64
	var dark bool
	c := &cobra.Command{Use: "tour", Short: "Walk through every screen on a sample shop, asking for pictures", Args: cobra.NoArgs, Hidden: true,
		RunE: func(cmd *cobra.Command, _ []string) error {
			var w, h float32
			if _, err := fmt.Sscanf(size, "%fx%f", &w, &h); err != nil || w < 200 || h < 200 {
				return usageError{fmt.Errorf("--size %q is not like 1280x800", size)}
			}
			g := &guide{out: out, ask: cmd.OutOrStdout(), answers: bufio.NewScanner(cmd.InOrStdin()), size: fyne.NewSize(w, h)}
			return g.run(cmd.Context())
		}}
	c.Flags().StringVar(&out, "out", ".", "folder for the reports")
	c.Flags().StringVar(&size, "size", "1280x800", "size of the window")
	c.Flags().Float64Var(&scale, "scale", 1, "scale; set with FYNE_SCALE by the caller")
	c.Flags().BoolVar(&dark, "dark", false, "dark; set with FYNE_THEME by the caller")
	return withLanguage(c)
}

// guide leads the tour.
type guide struct {
	out     string
	ask     io.Writer
	answers *bufio.Scanner
	size    fyne.Size
	lib     *library
	win     shownWindow
}

func (g *guide) run(ctx context.Context) (err error) {
	dir, err := os.MkdirTemp("", "forkwear-tour")
	if err != nil {
		return err
	}
	defer func() { err = errors.Join(err, os.RemoveAll(dir), os.RemoveAll(filepath.Join(g.out, "sample"))) }()
	if g.lib, err = openLibrary(ctx, filepath.Join(dir, "empty")); err != nil {
		return err
	}
	g.win = newWindow(ctx, g.lib)
	g.win.win.Resize(g.size)
	g.win.win.SetFixedSize(true)
	g.win.frame.Go(place.Where{Name: place.Bench})
	var walked error
	g.win.app.Lifecycle().SetOnStarted(func() {
		go func() {
			walked = g.walk(ctx)
			g.win.runner.Tell(g.win.app.Quit)
		}()
	})
	g.win.win.ShowAndRun()
	g.win.runner.Close()
	return errors.Join(walked, g.lib.Close())
}

// walk is the main job from an empty library to the hand-back.
func (g *guide) walk(ctx context.Context) error {
	if err := g.shot("bench-empty"); err != nil {
		return err
	}
	if err := g.fill(ctx); err != nil {
		return err
	}
	for _, step := range []func(context.Context) error{g.overview, g.settings, g.tray, g.takeIn, g.inspectFork, g.evidence, g.decide, g.serve, g.afterwards} {
		if err := step(ctx); err != nil {
			return err
		}
	}
	return nil
}

func (g *guide) fill(ctx context.Context) error {
	keep := g.lib.keeper(g.out)
	f := sample.Filler{Lib: g.lib.db, Catalog: g.lib.desk.Catalog, Keep: keep, Seed: sampleSeed, Until: sampleToday(), Forks: tourForks}
	return f.Fill(ctx, nil)
}

// do runs f on the window's goroutine and waits for it and for all the work it
// started.
func (g *guide) do(f func()) {
	done := make(chan struct{})
	g.win.runner.Tell(func() { f(); close(done) })
	<-done
	g.settle()
}

func (g *guide) settle() { settle(g.win.runner.Busy) }

// shot asks for a picture of the window as it stands.
func (g *guide) shot(name string) error {
	g.settle()
	if _, err := fmt.Fprintf(g.ask, "SHOT %s\n", name); err != nil {
		return err
	}
	if !g.answers.Scan() {
		return errors.New("nobody takes the pictures any more")
	}
	return nil
}

// visit opens a place and takes its picture.
func (g *guide) visit(name string, w place.Where) error {
	g.do(func() { g.win.frame.Go(w) })
	return g.shot(name)
}

func (g *guide) overview(ctx context.Context) error {
	for _, p := range []struct {
		name  string
		where place.Name
	}{{"bench", place.Bench}, {"forks", place.Forks}, {"due", place.Due}, {"patterns", place.Patterns}, {"sums", place.Sums}, {"settings", place.Settings}} {
		if err := g.visit(p.name, place.Where{Name: p.where}); err != nil {
			return err
		}
	}
	rows, err := g.lib.db.FindForks(ctx, "", 100)
	if err != nil {
		return err
	}
	best := rows[0]
	for _, r := range rows {
		if r.Visits > best.Visits {
			best = r
		}
	}
	return g.visit("fork-life", place.Where{Name: place.ForkLife, Fork: best.Fork.ID})
}

// returning is a fork that was here before and is not here now.
func (g *guide) returning(ctx context.Context) (inspect.VisitRow, error) {
	visits, err := g.lib.db.Visits(ctx, inspect.VisitFilter{})
	if err != nil {
		return inspect.VisitRow{}, err
	}
	here, times := map[inspect.ID]bool{}, map[inspect.ID]int{}
	for _, v := range visits {
		here[v.Fork.ID] = here[v.Fork.ID] || !v.Visit.Closed()
		times[v.Fork.ID]++
	}
	for _, v := range visits {
		if !here[v.Fork.ID] && times[v.Fork.ID] >= 3 {
			return v, nil
		}
	}
	return inspect.VisitRow{}, errors.New("the sample shop has no fork that could come again")
}
