// Command forkwear is the workshop's window, and its command line: without an
// argument it opens the window, a subcommand works without one.
package main

import (
	_ "forkwear/cmd/forkwear/locale" // before the toolkit reads the environment

	"context"
	"fmt"
	"os"
	"os/signal"
	"syscall"
)

func main() {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	err := rootCommand().ExecuteContext(ctx)
	stop()
	if err != nil {
		fmt.Fprintln(os.Stderr, "forkwear:", err)
	}
	os.Exit(exitCode(err))
}
