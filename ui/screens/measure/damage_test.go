package measure

import (
	"context"
	"image"
	"math"
	"math/rand/v2"
	"testing"

	"forkwear/media/scale"
	"forkwear/media/scratch"
	"forkwear/ui/screens/phototest"
)

// The scratch of each scene has a known length and a width of 0.45 mm, drawn at
// any turn and at 16 to 24 pixels a mm of the photo, 6 to 10 of what is shown.
// The proposal is taken as it comes, uncorrected.
func TestProposedDamageLiesInItsRange(t *testing.T) {
	r := rand.New(rand.NewPCG(6, 26))
	n, inLength, inArea := 60, 0, 0
	var offL, offA float64
	for range n {
		p := phototest.Pose{PerMM: 16 + 8*r.Float64(), Turn: 0.6 * (r.Float64() - 0.5), DX: -600 * r.Float64(), DY: 400 * (r.Float64() - 0.5),
			Length: 5 + 10*r.Float64(), Lamp: 2*r.Float64() - 1}
		const k = phototest.Width / float64(previewPixels)
		a, b := p.Ends()
		box := image.Rect(int(min(a.X, b.X)/k)-12, int(min(a.Y, b.Y)/k)-12, int(max(a.X, b.X)/k)+12, int(max(a.Y, b.Y)/k)+12)
		mask, err := scratch.Propose(context.Background(), phototest.DrawPart(p, previewPixels, box), box, math.NaN(), scratch.Options{})
		if err != nil {
			t.Fatal(err)
		}
		d := newDamage(mask, k)
		u := scale.DefaultUncertainty()
		u.ClickSigma *= k
		u.CornerSigma, u.Redraws = k*u.CornerSigma, 200
		tk := task{kind: DamageLength, scene: scale.Scene{Card: pointsOf(p.Card())}, u: u, pixels: d.pixels()}
		l, err := measured(context.Background(), tk)
		if err != nil {
			t.Fatal(err)
		}
		tk.kind = DamageArea
		ar, err := measured(context.Background(), tk)
		if err != nil {
			t.Fatal(err)
		}
		truth := p.Length * 0.45
		if l.Low <= p.Length && p.Length <= l.High {
			inLength++
		}
		if ar.Low <= truth && truth <= ar.High {
			inArea++
		}
		offL += math.Abs(l.Value/p.Length-1) / float64(n)
		offA += math.Abs(ar.Value/truth-1) / float64(n)
	}
	t.Logf("%d scenes: length off by %.1f %% on average, in its range %d times; area %.1f %%, %d times", n, 100*offL, inLength, 100*offA, inArea)
	if inLength < n*93/100 || inArea < n*93/100 {
		t.Errorf("in range: length %d, area %d of %d", inLength, inArea, n)
	}
	if offL > 0.05 || offA > 0.2 {
		t.Errorf("off by %.1f %% and %.1f %%", 100*offL, 100*offA)
	}
}
