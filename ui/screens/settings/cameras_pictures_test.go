package settings

import (
	"fmt"
	"image/png"
	"os"
	"path/filepath"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/software"
)

// TestCameraPictures writes the cameras and the watched folder to look at into
// the folder that FORKWEAR_PICTURES names.
func TestCameraPictures(t *testing.T) {
	dir := os.Getenv("FORKWEAR_PICTURES")
	if dir == "" {
		t.Skip("set FORKWEAR_PICTURES to a folder to get the pictures")
	}
	env := withCamera(t)
	s := open(t, env)
	s.folderChosen(filepath.Join("Sync", "Phone", "DCIM", "Camera"))
	s.onCamera("Sample Cam")
	env.Run.Wait()
	s.cameras.cells[0].Tapped(nil)
	env.Run.Wait()
	for _, w := range []float32{1190, 552} {
		env.Window.Resize(fyne.NewSize(w, 700))
		at := fyne.CurrentApp().Driver().AbsolutePositionForObject(s.folder.state).Y
		s.page.ScrollToOffset(fyne.NewPos(0, s.page.Offset.Y+at-180))
		img := software.RenderCanvas(env.Window.Canvas(), fyne.CurrentApp().Settings().Theme())
		f, err := os.Create(fmt.Sprintf("%s/cameras-%.0f.png", dir, w))
		if err != nil {
			t.Fatal(err)
		}
		if err := png.Encode(f, img); err != nil {
			t.Fatal(err)
		}
		f.Close()
	}
}
