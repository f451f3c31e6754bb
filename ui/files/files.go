// Package files asks a person where files come from and where they go, and
// writes beside the window.
package files

import (
	"context"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/dialog"

	"forkwear/inspect"
	"forkwear/ui/place"
	"forkwear/ui/run"
)

// AskFile asks for one file and hands on its name.
func AskFile(env *place.Env, chosen func(path string)) {
	dialog.ShowFileOpen(func(r fyne.URIReadCloser, err error) {
		switch {
		case err != nil:
			env.Say.Failed(err)
		case r != nil:
			_ = r.Close() // only its name is wanted
			chosen(r.URI().Path())
		}
	}, env.Window)
}

// AskFolder asks for a folder and hands on its name.
func AskFolder(env *place.Env, chosen func(path string)) {
	dialog.ShowFolderOpen(func(u fyne.ListableURI, err error) {
		switch {
		case err != nil:
			env.Say.Failed(err)
		case u != nil:
			chosen(u.Path())
		}
	}, env.Window)
}

// AskSave asks where a file goes, name proposed, and hands on what was chosen.
func AskSave(env *place.Env, name string, chosen func(path string)) {
	d := dialog.NewFileSave(func(w fyne.URIWriteCloser, err error) {
		switch {
		case err != nil:
			env.Say.Failed(inspect.Refuse(inspect.ReadOnly, "the file can't be written there: choose another folder (%w)", err))
		case w != nil:
			file := w.URI().Path()
			_ = w.Close() // it is written anew under the same name
			chosen(file)
		}
	}, env.Window)
	d.SetFileName(name)
	d.Resize(fyne.NewSize(800, 560))
	d.Show()
}

// Write writes beside the window; working is told meanwhile, with a cancel, and
// said once it is done.
func Write(env *place.Env, working, said string, write func(ctx context.Context) error) {
	stop := func() {}
	_, done := env.Say.Working(working, func() { stop() })
	stop = run.Go(env.Run, func(ctx context.Context) (struct{}, error) {
		return struct{}{}, write(ctx)
	}, func(_ struct{}, err error) {
		done()
		if err != nil {
			env.Say.Failed(err)
			return
		}
		env.Say.Saved(said, nil)
	})
}
