package main

import (
	"errors"
	"strings"

	"github.com/spf13/cobra"
)

// usageError is a wrong call: exit code 2.
type usageError struct{ error }

func rootCommand() *cobra.Command {
	var dir string
	root := &cobra.Command{
		Use:           "forkwear",
		Short:         "Intake inspection and wear tracking of suspension forks",
		Long:          "Without a subcommand forkwear opens the window.",
		SilenceUsage:  true,
		SilenceErrors: true,
		Args:          cobra.NoArgs,
		RunE:          func(cmd *cobra.Command, _ []string) error { return openWindow(cmd.Context(), dir) },
	}
	root.PersistentFlags().StringVar(&dir, "library", defaultLibrary(), "folder of the workshop's library")
	root.SetFlagErrorFunc(func(_ *cobra.Command, err error) error { return usageError{err} })
	root.AddCommand(photoCommand(), calcCommand(), demoCommand(), tourCommand(), rehearseCommand(&dir))
	root.AddCommand(recordCommands(&dir)...)
	root.AddCommand(libraryCommands(&dir)...)
	root.AddCommand(cardCommand(&dir))
	root.AddCommand(heicCommand())
	return root
}

func calcCommand() *cobra.Command {
	calc := &cobra.Command{Use: "calc", Short: "One calculation on its own: flags or CSV in, a table or JSON out"}
	calc.AddCommand(benchSumCommands()...)
	calc.AddCommand(lifeCommands()...)
	calc.AddCommand(trendCommand())
	return calc
}

// exitCode is 0 for success, 2 for a wrong call, 1 for what was refused or
// failed.
func exitCode(err error) int {
	var usage usageError
	switch {
	case err == nil:
		return 0
	case errors.As(err, &usage), wrongCall(err):
		return 2
	}
	return 1
}

// wrongCall knows the complaints that cobra has no type for.
func wrongCall(err error) bool {
	s := err.Error()
	for _, p := range []string{"unknown command", "unknown flag", "required flag", "accepts ", "requires at least", "flag needs an argument",
		"at least one of the flags in the group", "if any flags in the group"} {
		if strings.HasPrefix(s, p) {
			return true
		}
	}
	return false
}
