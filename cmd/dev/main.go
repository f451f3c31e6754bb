package main

import (
	"context"
	"errors"
	"fmt"
	"os"
	"os/signal"
	"syscall"
)

func main() {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	code := start(ctx, os.Args[1:])
	stop()
	os.Exit(code)
}

// start reads the command line, runs the command and gives the exit code.
func start(ctx context.Context, args []string) int {
	o, err := parse(args)
	if errors.Is(err, errHelp) {
		fmt.Print(usage)
		return 0
	}
	if err != nil {
		fmt.Fprintf(os.Stderr, "dev: %v\n\n%s", err, usage)
		return 2
	}
	root, err := findRoot()
	if err != nil {
		fmt.Fprintln(os.Stderr, "dev:", err)
		return 1
	}
	w := &workshop{root: root, machine: thisMachine(), opts: o, out: &shared{to: os.Stdout}}
	if err := w.do(ctx); err != nil {
		fmt.Fprintln(os.Stderr, "dev:", err)
		return 1
	}
	return 0
}

// do runs the command that was asked for.
func (w *workshop) do(ctx context.Context) error {
	switch w.opts.command {
	case "run":
		return w.open(ctx)
	case "test":
		return w.test(ctx)
	case "tour":
		return w.tour(ctx)
	case "rehearse":
		return w.rehearse(ctx)
	default:
		return w.bench(ctx)
	}
}
