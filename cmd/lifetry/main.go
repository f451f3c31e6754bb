package main

import (
	"fmt"
	"os"

	"github.com/spf13/cobra"
)

func main() {
	r := &cobra.Command{Use: "calc", SilenceUsage: true, SilenceErrors: true}
	r.AddCommand(lifeCommands()...)
	if err := r.Execute(); err != nil {
		fmt.Fprintln(os.Stderr, err)
		os.Exit(1)
	}
}
