package settings

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/widget"

	"forkwear/ui/place"
)

// Screen is the place.
type Screen struct{ env *place.Env }

// New returns the screen of the place.
func New(env *place.Env, where place.Where) place.Screen { return &Screen{env: env} }

// Content implements place.Screen.
func (s *Screen) Content() fyne.CanvasObject { return widget.NewLabel("settings") }

// Opened implements place.Screen.
func (s *Screen) Opened() {}

// Closed implements place.Screen.
func (s *Screen) Closed() {}
