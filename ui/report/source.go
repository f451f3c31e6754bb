package report

import (
	"context"
	"io"
	"os"
	"path/filepath"
	"strings"
	"time"

	"forkwear/inspect"
	"forkwear/inspect/catalog"
	"forkwear/inspect/shop"
)

// ShopInfo is the head of the report.
type ShopInfo struct {
	Name, Address, Phone string
}

// Source is everything a report is made of.
type Source struct {
	Story *shop.Story
	Jobs  []shop.Job // the lines of the decision with their prices; nil tells the catalog's
	Shop  ShopInfo
	// Photo returns a kept photo, upright, as JPEG of at most px on its longer
	// side. An error is told in the report in place of the picture.
	Photo func(ctx context.Context, sha256 string, px int) (jpeg []byte, err error)
	// Marks returns what was drawn and measured on a photo; nil draws nothing.
	Marks   func(ctx context.Context, photo inspect.ID) ([]inspect.Mark, []inspect.PhotoMeasure, error)
	Catalog *catalog.Catalog
	Made    time.Time // printed, and the date of the PDF: same source, same bytes
	Sample  bool      // of the sample shop: said on every page
}

func (s Source) check() error {
	if s.Story == nil || s.Story.Case == nil {
		return inspect.Refuse(inspect.Invalid, "there is no visit to report on: open a visit first")
	}
	if s.Catalog == nil {
		return inspect.Refuse(inspect.Invalid, "the report needs the catalog to name the parts")
	}
	return nil
}

// Write writes the report to a file, HTML or PDF by its ending. The file is
// written beside its place and moved there when it is whole, so that an older
// report is never half overwritten.
func Write(ctx context.Context, file string, s Source) (err error) {
	var make func(context.Context, io.Writer, Source) error
	switch ending := strings.ToLower(filepath.Ext(file)); ending {
	case ".html", ".htm":
		make = HTML
	case ".pdf":
		make = PDF
	default:
		return inspect.Refuse(inspect.Invalid, "the report can't be written as %q: choose a name that ends in .pdf or .html", ending)
	}
	tmp, err := os.CreateTemp(filepath.Dir(file), ".report-*")
	if err != nil {
		return inspect.Refuse(inspect.ReadOnly, "no file can be made in the folder of %s: choose another folder: %w", file, err)
	}
	defer func() {
		if err != nil {
			tmp.Close()
			os.Remove(tmp.Name())
		}
	}()
	if err = make(ctx, tmp, s); err != nil {
		return err
	}
	if err = tmp.Chmod(0o644); err != nil {
		return inspect.Refuse(inspect.ReadOnly, "the report %s can't be made readable: %w", file, err)
	}
	if err = tmp.Sync(); err != nil {
		return inspect.Refuse(inspect.ReadOnly, "the report %s can't be written: is the disk full? %w", file, err)
	}
	if err = tmp.Close(); err != nil {
		return inspect.Refuse(inspect.ReadOnly, "the report %s can't be written: %w", file, err)
	}
	if err = os.Rename(tmp.Name(), file); err != nil {
		return inspect.Refuse(inspect.ReadOnly, "the report can't be moved to %s: is it open elsewhere? %w", file, err)
	}
	return nil
}
