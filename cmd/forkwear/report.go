package main

import (
	"context"
	"fmt"
	"path/filepath"

	"github.com/spf13/cobra"

	"forkwear/inspect"
	"forkwear/inspect/shop"
	"forkwear/media"
	"forkwear/ui/report"
)

// reportWriter writes a visit's report for the window.
type reportWriter struct{ lib *library }

// Report implements place.Exporter.
func (r reportWriter) Report(ctx context.Context, visit inspect.ID, file string) error {
	c, err := r.lib.desk.Open(ctx, visit)
	if err != nil {
		return err
	}
	return r.lib.writeReport(ctx, c, file)
}

// Card implements place.Exporter.
func (r reportWriter) Card(ctx context.Context, visit inspect.ID, file string) error {
	c, err := r.lib.desk.Open(ctx, visit)
	if err != nil {
		return err
	}
	return r.lib.writeBenchCards(ctx, c, file, 1, "A4")
}

func (l *library) writeReport(ctx context.Context, c *shop.Case, file string) error {
	story, err := l.desk.Story(ctx, c)
	if err != nil {
		return err
	}
	prices, err := l.desk.Prices(ctx)
	if err != nil && inspect.CodeOf(err) != inspect.Invalid { // one that can't be read is left out
		return err
	}
	src := report.Source{Story: story, Jobs: l.desk.Jobs(c, c.Assessments, prices), Catalog: l.desk.Catalog, Made: l.desk.Clock(),
		Photo: func(ctx context.Context, sha256 string, px int) ([]byte, error) {
			size := media.PreviewSmall
			if px > media.PreviewSmall {
				size = media.PreviewLarge
			}
			return l.photos.importer().Preview(ctx, sha256, size) // also of a photo in HEIC whose copies were cleared away
		},
		Marks: l.drawnOn}
	for key, to := range map[string]*string{"shop.name": &src.Shop.Name, "shop.address": &src.Shop.Address, "shop.phone": &src.Shop.Phone} {
		if *to, err = l.db.Preference(ctx, key); err != nil {
			return err
		}
	}
	isSample, err := l.db.Preference(ctx, "shop.sample")
	if err != nil {
		return err
	}
	src.Sample = isSample == "yes"
	return report.Write(ctx, file, src)
}

// drawnOn is what was drawn and measured on a photo.
func (l *library) drawnOn(ctx context.Context, photo inspect.ID) ([]inspect.Mark, []inspect.PhotoMeasure, error) {
	drawn, err := l.desk.Marks(ctx, photo)
	if err != nil {
		return nil, nil, err
	}
	sizes, err := l.desk.Measures(ctx, photo)
	return drawn[photo], sizes[photo], err
}

func reportCommand(dir *string) *cobra.Command {
	var out string
	c := &cobra.Command{Use: "report TICKET|ID --out FILE.pdf|FILE.html", Short: "What the customer sees, with the evidence", Args: cobra.ExactArgs(1),
		RunE: func(cmd *cobra.Command, args []string) error {
			return withLibrary(cmd.Context(), *dir, func(l *library) error {
				c, err := findVisit(cmd.Context(), l, args)
				if err != nil {
					return err
				}
				if len(c.Assessments) == 0 && !c.Visit.Closed() {
					return inspect.Refuse(inspect.Invalid, "visit %d is not decided yet: open Decide in the window first, the report tells what was decided", c.Visit.Ticket)
				}
				if err := l.writeReport(cmd.Context(), c, out); err != nil {
					return err
				}
				abs, err := filepath.Abs(out)
				fmt.Fprintln(cmd.OutOrStdout(), "Wrote", abs)
				return err
			})
		}}
	c.Flags().StringVar(&out, "out", "", "the file to write; its ending chooses PDF or HTML")
	_ = c.MarkFlagRequired("out")
	return c
}
