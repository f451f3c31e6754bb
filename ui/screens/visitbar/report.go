package visitbar

import (
	"context"
	"fmt"
	"path/filepath"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/dialog"
	"fyne.io/fyne/v2/lang"

	"forkwear/inspect"
	"forkwear/inspect/shop"
	"forkwear/ui/place"
	"forkwear/ui/run"
)

// AskReport asks where the report of a visit goes and writes it there.
func AskReport(env *place.Env, c *shop.Case) {
	d := dialog.NewFileSave(func(w fyne.URIWriteCloser, err error) {
		if err != nil {
			env.Say.Failed(inspect.Refuse(inspect.ReadOnly, "the file can't be written there: choose another folder (%w)", err))
			return
		}
		if w == nil {
			return
		}
		file := w.URI().Path()
		_ = w.Close() // the report is written anew under the same name
		WriteReport(env, c.Visit.ID, file)
	}, env.Window)
	d.SetFileName(fmt.Sprintf(lang.L("fork-report-%d.pdf"), c.Visit.Ticket))
	d.Resize(fyne.NewSize(800, 560))
	d.Show()
}

// WriteReport writes the report of a visit beside the window: FILE.pdf or
// FILE.html by its ending.
func WriteReport(env *place.Env, visit inspect.ID, file string) {
	if ext := strings.ToLower(filepath.Ext(file)); ext != ".pdf" && ext != ".html" {
		env.Say.Failed(inspect.Refuse(inspect.Invalid, "%s is neither .pdf nor .html: give the report one of these endings", filepath.Base(file)))
		return
	}
	if env.Export == nil {
		env.Say.Failed(inspect.Refuse(inspect.Internal, "this window was opened without a report writer"))
		return
	}
	stop := func() {}
	_, done := env.Say.Working(lang.L("Writing the report …"), func() { stop() })
	stop = run.Go(env.Run, func(ctx context.Context) (struct{}, error) {
		return struct{}{}, env.Export.Report(ctx, visit, file)
	}, func(_ struct{}, err error) {
		done()
		if err != nil {
			env.Say.Failed(err)
			return
		}
		env.Say.Saved(fmt.Sprintf(lang.L("Report written: %s"), filepath.Base(file)), nil)
	})
}
