package settings

import (
	"fmt"
	"image/png"
	"os"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/software"

	"forkwear/ui/screens/screentest"
)

// TestPictures writes the prices to look at into the folder that
// FORKWEAR_PICTURES names.
func TestPictures(t *testing.T) {
	dir := os.Getenv("FORKWEAR_PICTURES")
	if dir == "" {
		t.Skip("set FORKWEAR_PICTURES to a folder to get the pictures")
	}
	for _, dark := range []bool{false, true} {
		env := screentest.EnvIn(t, dark)
		s := open(t, env)
		leave(env, s, "shop.currency", "EUR")
		leave(env, s, "rules.minute_rate", "1,10")
		leave(env, s, "price.kit.seal_kit", "42,50")
		leave(env, s, "price.kit.bushing_set", "1.250")
		leave(env, s, "price.job.bushing_job", "99")
		for _, w := range []float32{1190, 552} {
			env.Window.Resize(fyne.NewSize(w, 700))
			s.page.ScrollToBottom()
			s.page.ScrollToOffset(fyne.NewPos(0, s.page.Content.MinSize().Height-1650))
			img := software.RenderCanvas(env.Window.Canvas(), fyne.CurrentApp().Settings().Theme())
			f, err := os.Create(fmt.Sprintf("%s/prices-%.0f-dark=%v.png", dir, w, dark))
			if err != nil {
				t.Fatal(err)
			}
			if err := png.Encode(f, img); err != nil {
				t.Fatal(err)
			}
			f.Close()
		}
	}
}
