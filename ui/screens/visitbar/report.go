package visitbar

import (
	"context"
	"fmt"
	"path/filepath"
	"strings"

	"fyne.io/fyne/v2/lang"

	"forkwear/inspect"
	"forkwear/inspect/shop"
	"forkwear/ui/files"
	"forkwear/ui/place"
)

// AskReport asks where the report of a visit goes and writes it there.
func AskReport(env *place.Env, c *shop.Case) {
	files.AskSave(env, fmt.Sprintf(lang.L("fork-report-%d.pdf"), c.Visit.Ticket), func(file string) { WriteReport(env, c.Visit.ID, file) })
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
	files.Write(env, lang.L("Writing the report …"), fmt.Sprintf(lang.L("Report written: %s"), filepath.Base(file)),
		func(ctx context.Context) error { return env.Export.Report(ctx, visit, file) })
}
