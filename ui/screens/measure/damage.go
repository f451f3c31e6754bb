package measure

import (
	"context"
	"fmt"
	"math"

	"fyne.io/fyne/v2/lang"

	"forkwear/inspect"
	"forkwear/media/scale"
	"forkwear/media/scratch"
	"forkwear/ui/words"
)

// measured measures the mask by the same rules as the command line does, and
// writes mask, window and line or outline into the draft. It is done in pixels
// of the picture that the mask was made on: blur, edge and ends count in those.
func (d *damage) measured(ctx context.Context, t task) (inspect.PhotoMeasure, error) {
	m := t.draft
	rings := d.mask.Outlines()
	if len(rings) == 0 {
		return m, scratch.ErrEmpty
	}
	line, err := d.mask.CentreLine(ctx)
	if err != nil {
		return m, err
	}
	m.Mask, m.Window = d.png, d.window()
	u := t.u
	u.ClickSigma, u.CornerSigma = u.ClickSigma/d.k, u.CornerSigma/d.k
	if d.strokes > 0 {
		u = u.ByHand()
	}
	size, err := t.scene.Zoomed(1/d.k).MeasureMask(rings, line, u)
	if err != nil {
		return m, err
	}
	if t.kind == DamageLength {
		m.Line = spotsOf(d.full(line))
		return filled(m, size.Length), nil
	}
	m.Outline = spotsOf(d.full(largest(rings)))
	if size.Area.Below {
		return m, fmt.Errorf(lang.L("it is too narrow for this photo: all that can be said is that its area is under %s mm². Photograph it from nearer"), words.Fixed(math.Ceil(size.Area.High*10)/10, 1))
	}
	m = filled(m, size.Area)
	said := lang.L("The outline was proposed by the program and is right only where a person has checked it; of thin scratches the area is mostly the error of the width.")
	if d.strokes > 0 {
		said = lang.L("The outline was corrected by hand: its edge counts as known to half a pixel.")
	}
	m.Remarks = append(m.Remarks, said)
	return m, nil
}

// filled is a draft with its value.
func filled(m inspect.PhotoMeasure, v scale.Measured) inspect.PhotoMeasure {
	m.Value, m.Low, m.High, m.Method, m.Remarks = v.Value, v.Low, v.High, v.Method, v.Remarks
	return m
}

// largest is the outline with the greatest area.
func largest(rings [][]scale.Point) []scale.Point {
	var out []scale.Point
	best := 0.0
	for _, ring := range rings {
		if a := scale.PolygonArea(ring); a > best {
			best, out = a, ring
		}
	}
	return out
}
