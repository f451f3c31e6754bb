package main

import (
	"context"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"

	"github.com/spf13/cobra"

	"forkwear/inspect"
	"forkwear/inspect/shop"
	"forkwear/ui/report"
)

// benchCards gives the sheet of a visit. The day is the shop's own.
func (l *library) benchCards(ctx context.Context, c *shop.Case, copies int, paper string) (report.BenchCards, error) {
	zone, err := l.zone(ctx)
	if err != nil {
		return report.BenchCards{}, err
	}
	return report.BenchCards{Visit: c.Visit.ID, Ticket: c.Visit.Ticket, Tag: c.Fork.Tag, DroppedOff: c.Visit.DroppedOff.In(zone),
		Copies: copies, Paper: paper, Made: l.desk.Clock()}, nil
}

// writeBenchCards writes the sheet beside file and then moves it there, so
// that an older one is whole or replaced.
func (l *library) writeBenchCards(ctx context.Context, c *shop.Case, file string, copies int, paper string) (err error) {
	if !strings.EqualFold(filepath.Ext(file), ".pdf") {
		return inspect.Refuse(inspect.Invalid, "a bench card can't be written as %.20q: choose a name that ends in .pdf", filepath.Base(file))
	}
	b, err := l.benchCards(ctx, c, copies, paper)
	if err != nil {
		return err
	}
	tmp, err := os.CreateTemp(filepath.Dir(file), ".benchcard-*")
	if err != nil {
		return fmt.Errorf("no file can be made in the folder of %s: choose another folder: %w", file, err)
	}
	defer func() {
		if err != nil {
			err = errors.Join(err, os.Remove(tmp.Name()))
		}
	}()
	if err = report.BenchCardPDF(ctx, tmp, b); err != nil {
		return errors.Join(err, tmp.Close())
	}
	if err = errors.Join(tmp.Chmod(0o644), tmp.Sync(), tmp.Close()); err != nil {
		return fmt.Errorf("the bench card %s can't be written: is the disk full? %w", file, err)
	}
	if err = os.Rename(tmp.Name(), file); err != nil {
		return fmt.Errorf("the bench card can't be moved to %s: is it open elsewhere? %w", file, err)
	}
	return nil
}

func cardCommand(dir *string) *cobra.Command {
	var out, paper string
	var copies int
	c := &cobra.Command{Use: "card TICKET|ID --out FILE.pdf", Short: "The bench card of a visit, to print and lay beside the fork", Args: cobra.ExactArgs(1),
		Long: "A sheet with the visit's bench card, of bank-card size. A photo that shows the card is filed with the visit, and can be measured.\n" +
			"Print it at 100 %. The sheet has a line of 100 mm to check that; where it measures otherwise, lengths measured with the card must be multiplied by what it measures / 100.",
		RunE: func(cmd *cobra.Command, args []string) error {
			return withLibrary(cmd.Context(), *dir, func(l *library) error {
				c, err := findVisit(cmd.Context(), l, args)
				if err != nil {
					return err
				}
				if err := l.writeBenchCards(cmd.Context(), c, out, copies, paper); err != nil {
					return err
				}
				abs, err := filepath.Abs(out)
				fmt.Fprintln(cmd.OutOrStdout(), "Wrote", abs)
				return err
			})
		}}
	c.Flags().StringVar(&out, "out", "", "the PDF file to write")
	c.Flags().IntVar(&copies, "copies", 1, "how many of the same card, 1 to 6")
	c.Flags().StringVar(&paper, "paper", "A4", "A4 or Letter")
	_ = c.MarkFlagRequired("out")
	return c
}
