package report

import (
	"bytes"
	"image"
	"image/jpeg"

	"forkwear/inspect"
	"forkwear/ui/marks"
)

// markQuality is the JPEG quality of a picture that is drawn on, and so written
// anew; the kept original stays as it is.
const markQuality = 88

// mark draws what was marked on a photo over its picture.
func (a *album) mark(pic *picture, p inspect.Photo) error {
	if a.source.Marks == nil || p.ID == "" {
		return nil
	}
	drawn, sizes, err := a.source.Marks(a.ctx, p.ID)
	if err != nil {
		return err
	}
	l := marks.Layer{Marks: drawn}
	for _, m := range sizes {
		l.Measures = append(l.Measures, marks.Ready(m))
	}
	if len(l.Marks)+len(l.Measures) == 0 {
		return nil
	}
	img, _, err := image.Decode(bytes.NewReader(pic.JPEG))
	if err != nil {
		return inspect.Refuse(inspect.Damaged, "its file is damaged")
	}
	width, height := p.Width, p.Height
	if width <= 0 || height <= 0 {
		width, height = pic.Width, pic.Height
	}
	var out bytes.Buffer
	if err := jpeg.Encode(&out, marks.Over(img, width, height, l), &jpeg.Options{Quality: markQuality}); err != nil {
		return err
	}
	pic.JPEG, pic.Marked = out.Bytes(), true
	return nil
}
