package main

import (
	"context"
	"errors"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/app"

	"forkwear/ui/arrivals"
	"forkwear/ui/place"
	"forkwear/ui/run"
	"forkwear/ui/screens"
	"forkwear/ui/theme"
	"forkwear/ui/window"
)

const appID = "forkwear.desktop"

// openWindow shows the window on a library and returns when it is closed.
func openWindow(ctx context.Context, dir string) error {
	lib, err := openLibrary(ctx, dir)
	if err != nil {
		return err
	}
	w := newWindow(ctx, lib)
	go func() {
		<-ctx.Done()
		w.runner.Tell(w.app.Quit)
	}()
	w.frame.Go(place.Where{Name: place.Bench})
	w.win.ShowAndRun()
	w.runner.Close()
	return errors.Join(lib.Close(), ignoreCancel(ctx.Err()))
}

func ignoreCancel(err error) error {
	if errors.Is(err, context.Canceled) {
		return nil
	}
	return err
}

// shownWindow is the running window with what a tour needs to drive it.
type shownWindow struct {
	app    fyne.App
	win    fyne.Window
	frame  *window.Frame
	env    *place.Env
	runner *run.Runner
}

func newWindow(ctx context.Context, lib *library) shownWindow {
	a := app.NewWithID(appID)
	spoke := lib.speak(ctx, a.Preferences())
	a.SetIcon(theme.AppIcon())
	a.Settings().SetTheme(theme.New())
	win := a.NewWindow("Forkwear")
	win.Resize(fyne.NewSize(1280, 800))
	win.SetMaster()
	runner := run.New(context.WithoutCancel(ctx))
	env := &place.Env{Desk: lib.desk, Photos: lib.photos, Run: runner, Library: lib.dir,
		Export: reportWriter{lib}, Demo: lib.fillWithSample}
	inbox := arrivals.New(env, lib.arrivals())
	env.Arrivals = inbox
	rules, err := lib.desk.Rules(ctx) // usable with an error too: what can't be read keeps its default
	env.Rules = rules
	frame := window.New(win, env, screens.Openers())
	env.Say.Failed(errors.Join(spoke, err))
	inbox.Start()
	return shownWindow{app: a, win: win, frame: frame, env: env, runner: runner}
}
