package main

import (
	"bufio"
	"context"
	"errors"
	"fmt"
	"io"
	"strings"
	"time"

	"fyne.io/fyne/v2"
	"github.com/spf13/cobra"

	"forkwear/ui/place"
	"forkwear/ui/widgets"
)

// rehearseCommand opens the window as always and answers, line by line, where
// things are in it, for a rehearsal that types and clicks from outside:
// 'go run ./cmd/dev rehearse'. It touches nothing itself; cmd/dev/doc.go has
// the protocol.
func rehearseCommand(dir *string) *cobra.Command {
	var size string
	c := &cobra.Command{Use: "rehearse", Short: "Open the window and tell a rehearsal where things are", Args: cobra.NoArgs, Hidden: true,
		RunE: func(cmd *cobra.Command, _ []string) error {
			var w, h float32
			if _, err := fmt.Sscanf(size, "%fx%f", &w, &h); err != nil || w < 200 || h < 200 {
				return usageError{fmt.Errorf("--size %q is not like 1280x800", size)}
			}
			p := prompter{in: bufio.NewScanner(cmd.InOrStdin()), out: cmd.OutOrStdout()}
			return p.run(cmd.Context(), *dir, fyne.NewSize(w, h))
		}}
	c.Flags().StringVar(&size, "size", "1280x800", "size of the window")
	return withLanguage(c)
}

// prompter answers a rehearsal.
type prompter struct {
	in  *bufio.Scanner
	out io.Writer
	win shownWindow
}

func (p *prompter) run(ctx context.Context, dir string, size fyne.Size) error {
	lib, err := openLibrary(ctx, dir)
	if err != nil {
		return err
	}
	p.win = newWindow(ctx, lib)
	p.win.win.Resize(size)
	p.win.win.SetFixedSize(true)
	p.win.frame.Go(place.Where{Name: place.Bench})
	p.win.app.Lifecycle().SetOnStarted(func() {
		go func() {
			for p.in.Scan() {
				fmt.Fprintln(p.out, p.answer(p.in.Text()))
			}
			p.win.runner.Tell(p.win.app.Quit)
		}()
	})
	p.win.win.ShowAndRun()
	p.win.runner.Close()
	return errors.Join(p.in.Err(), lib.Close())
}

// answer is one line; every question is first waited for, until nothing runs
// beside the window.
func (p *prompter) answer(question string) string {
	settle(p.win.runner.Busy)
	got := make(chan string, 1)
	p.win.runner.Tell(func() {
		switch question {
		case "place":
			got <- string(p.win.frame.Where().Name)
		case "status":
			got <- oneLine(p.win.frame.Status())
		case "check":
			got <- p.check()
		case "focus":
			got <- p.focused()
		case "targets":
			got <- strings.Join(p.targets(), "\t")
		default:
			got <- "what is " + question + "?"
		}
	})
	select {
	case a := <-got:
		return a
	case <-time.After(20 * time.Second):
		return "the window does not answer"
	}
}

// check is "kind unit id" of the check at work, "none" where no check waits.
func (p *prompter) check() string {
	w, ok := p.win.frame.Screen().(interface {
		Ended() bool
		AtWork() (check, kind, unit string)
	})
	if !ok || w.Ended() {
		return "none"
	}
	id, kind, unit := w.AtWork()
	if unit == "" {
		unit = "-"
	}
	return kind + " " + strings.ReplaceAll(unit, " ", "_") + " " + id
}

// focused tells what has the focus.
func (p *prompter) focused() string {
	o, ok := p.win.win.Canvas().Focused().(fyne.CanvasObject)
	if !ok {
		return "nothing"
	}
	return p.target(o)
}

// target is "x y width height word" in pixels of the screen's picture.
func (p *prompter) target(o fyne.CanvasObject) string {
	c := p.win.win.Canvas()
	pos, k := p.win.app.Driver().AbsolutePositionForObject(o), c.Scale()
	return fmt.Sprintf("%.0f %.0f %.0f %.0f %s", pos.X*k, pos.Y*k, o.Size().Width*k, o.Size().Height*k, oneLine(widgets.WordOf(o)))
}

// targets are all things that can be reached with the Tab key, in its order.
// The focus is walked once round and put back; only then it is told where they
// are, as a page scrolls to what has the focus.
func (p *prompter) targets() []string {
	c := p.win.win.Canvas()
	before := c.Focused()
	c.Unfocus()
	var all []fyne.CanvasObject
	var first fyne.Focusable
	for range 2000 {
		c.FocusNext()
		f := c.Focused()
		if f == nil || f == first {
			break
		}
		if first == nil {
			first = f
		}
		if o, ok := f.(fyne.CanvasObject); ok {
			all = append(all, o)
		}
	}
	if before != nil {
		c.Focus(before)
	} else {
		c.Unfocus()
	}
	out := make([]string, len(all))
	for i, o := range all {
		out[i] = p.target(o)
	}
	return out
}

func oneLine(s string) string { return strings.Join(strings.Fields(s), " ") }

// settle waits until nothing has run beside the window for a while.
func settle(busy func() int) {
	calm := 0
	for i := 0; i < 1200 && calm < 4; i++ {
		time.Sleep(50 * time.Millisecond)
		if busy() == 0 {
			calm++
		} else {
			calm = 0
		}
	}
}
