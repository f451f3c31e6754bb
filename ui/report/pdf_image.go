package report

import (
	"bytes"
	"encoding/gob"
	"fmt"

	"codeberg.org/go-pdf/fpdf"
)

// image places a picture into a box of w x h mm, whole, at its upper left, and
// returns the height taken.
func (p *sheet) image(name, kind string, b []byte, px, py int, x, y, w, h float64) float64 {
	k := min(w/float64(px), h/float64(py))
	opt := fpdf.ImageOptions{ImageType: kind}
	if p.f.GetImageInfo(name) == nil {
		info := p.f.RegisterImageOptionsReader(name, opt, bytes.NewReader(b))
		if err := p.rank(info); err != nil {
			p.f.SetError(err)
		}
	}
	p.f.ImageOptions(name, x, y, k*float64(px), k*float64(py), false, opt, 0, "")
	return k * float64(py)
}

// rank makes the order of pictures in the file certain. The library sorts them
// by their width in pixels, and leaves those of one width to chance; the width
// is written as a whole number. So each gets its own small fraction of a pixel,
// by way of the one door that the library has to it, its gob form: 13 values,
// the width being the fourth.
func (p *sheet) rank(info *fpdf.ImageInfoType) error {
	if info == nil {
		return nil
	}
	p.pictures++
	var (
		data, mask, palette []byte
		number, bits        int
		width, height       float64
		space, filter, parm string
		trns                []int
		scale, dpi          float64
	)
	fields := []any{&data, &mask, &number, &width, &height, &space, &palette, &bits, &filter, &parm, &trns, &scale, &dpi}
	form, err := info.GobEncode()
	if err != nil {
		return fmt.Errorf("picture %d of the report can't be put in order: %w", p.pictures, err)
	}
	in := gob.NewDecoder(bytes.NewReader(form))
	for _, f := range fields {
		if err := in.Decode(f); err != nil {
			return fmt.Errorf("picture %d of the report can't be put in order: %w", p.pictures, err)
		}
	}
	width += float64(p.pictures%4096) / 4097
	var out bytes.Buffer
	enc := gob.NewEncoder(&out)
	for _, f := range fields {
		if err := enc.Encode(f); err != nil {
			return fmt.Errorf("picture %d of the report can't be put in order: %w", p.pictures, err)
		}
	}
	return info.GobDecode(out.Bytes())
}
