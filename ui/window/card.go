package window

import (
	"context"
	"fmt"
	"path/filepath"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/dialog"
	"fyne.io/fyne/v2/lang"

	"forkwear/inspect"
	"forkwear/ui/run"
)

// askCard asks where the bench card of the visit that is shown goes, and writes
// it there to be printed.
func (f *Frame) askCard() {
	visit := f.where.Visit
	if visit == "" || f.env.Export == nil {
		f.env.Say.Hint(lang.L("Open a visit first: a bench card belongs to one."))
		return
	}
	d := dialog.NewFileSave(func(w fyne.URIWriteCloser, err error) {
		switch {
		case err != nil:
			f.env.Say.Failed(inspect.Refuse(inspect.ReadOnly, "the file can't be written there: choose another folder (%w)", err))
		case w != nil:
			file := w.URI().Path()
			_ = w.Close() // the card is written anew under the same name
			f.writeCard(visit, file)
		}
	}, f.env.Window)
	d.SetFileName(lang.L("bench-card.pdf"))
	d.Resize(fyne.NewSize(800, 560))
	d.Show()
}

func (f *Frame) writeCard(visit inspect.ID, file string) {
	if !strings.EqualFold(filepath.Ext(file), ".pdf") {
		f.env.Say.Failed(inspect.Refuse(inspect.Invalid, "a bench card can't be written as %.20q: choose a name that ends in .pdf", filepath.Base(file)))
		return
	}
	stop := func() {}
	_, done := f.env.Say.Working(lang.L("Writing the bench card …"), func() { stop() })
	stop = run.Go(f.env.Run, func(ctx context.Context) (struct{}, error) {
		return struct{}{}, f.env.Export.Card(ctx, visit, file)
	}, func(_ struct{}, err error) {
		done()
		if err != nil {
			f.env.Say.Failed(err)
			return
		}
		f.env.Say.Saved(fmt.Sprintf(lang.L("Bench card written: %s. Print it at 100 %%."), filepath.Base(file)), nil)
	})
}
