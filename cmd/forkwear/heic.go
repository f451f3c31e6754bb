package main

import (
	"os"

	"github.com/spf13/cobra"

	"forkwear/media/heic"
)

// heicCommandName makes this program a HEIC converter; see package heic.
const heicCommandName = "heic-to-jpeg"

// heicCommand reads HEIC on standard input and writes JPEG on standard output.
// It is for the program's own second process and hidden.
func heicCommand() *cobra.Command {
	return &cobra.Command{
		Use:    heicCommandName,
		Short:  "Convert HEIC on standard input to JPEG on standard output",
		Hidden: true,
		Args:   cobra.NoArgs,
		RunE: func(cmd *cobra.Command, _ []string) error {
			if code := heic.Serve(cmd.InOrStdin(), cmd.OutOrStdout(), cmd.ErrOrStderr()); code != 0 {
				os.Exit(code) // the first process reads it; the words are written
			}
			return nil
		},
	}
}

// heicChild is the decoder that starts this program a second time. Where the
// system does not tell which program this is, HEIC is kept and not shown.
func heicChild() heic.Decoder {
	me, err := os.Executable()
	if err != nil {
		return nil
	}
	return heic.Child{Program: me, Args: []string{heicCommandName}}
}
