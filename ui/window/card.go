package window

import (
	"context"
	"fmt"
	"path/filepath"
	"strings"

	"fyne.io/fyne/v2/lang"

	"forkwear/inspect"
	"forkwear/ui/files"
)

// askCard asks where the bench card of the visit that is shown goes, and writes
// it there to be printed.
func (f *Frame) askCard() {
	visit := f.where.Visit
	if visit == "" || f.env.Export == nil {
		f.env.Say.Hint(lang.L("Open a visit first: a bench card belongs to one."))
		return
	}
	files.AskSave(f.env, lang.L("bench-card.pdf"), func(file string) { f.writeCard(visit, file) })
}

func (f *Frame) writeCard(visit inspect.ID, file string) {
	if !strings.EqualFold(filepath.Ext(file), ".pdf") {
		f.env.Say.Failed(inspect.Refuse(inspect.Invalid, "a bench card can't be written as %.20q: choose a name that ends in .pdf", filepath.Base(file)))
		return
	}
	files.Write(f.env, lang.L("Writing the bench card …"), fmt.Sprintf(lang.L("Bench card written: %s. Print it at 100 %%."), filepath.Base(file)),
		func(ctx context.Context) error { return f.env.Export.Card(ctx, visit, file) })
}
