package report

import (
	"bytes"
	"context"
	"image"
	"image/color"
	"image/jpeg"

	"forkwear/inspect"
	"forkwear/inspect/shop"
	"forkwear/media/clean"
	"forkwear/ui/tongue"
	"forkwear/ui/words"
)

const (
	largePx  = 1100 // a photo of a card
	smallPx  = 600  // a photo of the gallery
	galleryN = 12   // pictures in the gallery; what is left out is said
)

// picture is one photo with its words. JPEG is nil where it can't be shown.
type picture struct {
	Number        int
	SHA           string
	JPEG          []byte
	Width, Height int
	When          string // "Then", "Now", or what the photo shows
	Caption       string
	Missing       string
	Marked        bool // marks are drawn over it
}

// indexed is one line of the list of photos at the end.
type indexed struct {
	Number    int
	SHA, Says string
}

// album fetches the photos of a report, each once, and numbers them.
type album struct {
	ctx     context.Context
	source  Source
	shown   map[string]*picture
	index   []indexed
	remarks []string
}

// take returns the picture of a photo; hours are those of its visit, nil
// where they are not known. The same photo keeps its number.
func (a *album) take(p inspect.Photo, when string, hours *float64) *picture {
	return a.picture(p, when, hours, largePx)
}

func (a *album) picture(p inspect.Photo, when string, hours *float64, px int) *picture {
	pic := picture{SHA: p.SHA256, When: when, Caption: a.dated(p)}
	if hours != nil {
		pic.Caption += ", " + words.Hours(*hours)
	}
	if a.shown == nil {
		a.shown = map[string]*picture{}
	}
	if old, ok := a.shown[p.SHA256]; ok {
		pic.Number, pic.JPEG, pic.Width, pic.Height, pic.Missing, pic.Marked = old.Number, old.JPEG, old.Width, old.Height, old.Missing, old.Marked
		return pic.told()
	}
	pic.Number = len(a.index) + 1
	if err := a.fetch(&pic, px); err != nil {
		pic.Missing = tongue.Sayf("This photo can't be shown: %s", inspect.SaidIn(tongue.Say, err))
		a.remarks = append(a.remarks, tongue.Sayf("Photo %d can't be shown here. It is still on the shop's record.", pic.Number))
	} else if err := a.mark(&pic, p); err != nil {
		a.remarks = append(a.remarks, tongue.Sayf("The marks on photo %d can't be drawn here: %v.", pic.Number, inspect.SaidIn(tongue.Say, err)))
	}
	a.shown[p.SHA256] = &pic
	a.index = append(a.index, indexed{pic.Number, p.SHA256, a.dated(p)})
	return pic.told()
}

// told is a copy of the picture whose caption says that it was drawn on.
func (p picture) told() *picture {
	if p.Marked {
		p.Caption = tongue.Sayf("%s, with the shop's marks", p.Caption)
	}
	return &p
}

// dated says when a photo was taken, by the corrected clock of its camera, and
// how that is known.
func (a *album) dated(p inspect.Photo) string {
	var c *shop.Case
	if a.source.Story != nil {
		c = a.source.Story.Case
	}
	at := words.TakenOf(c, p)
	if p.Drawn {
		if p.WallTime == "" {
			return tongue.Say("drawing of the sample shop")
		}
		return tongue.Sayf("%s, drawn", at)
	}
	return at
}

// fetch gets the pixels of a photo and nothing else: where it was taken and
// with which camera body stays in the shop.
func (a *album) fetch(pic *picture, px int) error {
	if a.source.Photo == nil {
		return inspect.Refuse(inspect.NotFound, "no photo folder is open")
	}
	b, err := a.source.Photo(a.ctx, pic.SHA, px)
	if err != nil {
		return err
	}
	cfg, err := jpeg.DecodeConfig(bytes.NewReader(b))
	if err != nil {
		return inspect.Refuse(inspect.Damaged, "its file is damaged")
	}
	copied, err := clean.Clean(a.ctx, b)
	if err != nil {
		return inspect.Refuse(inspect.Damaged, "its file is damaged")
	}
	b = copied.Data
	odd := cfg.ColorModel != color.YCbCrModel && cfg.ColorModel != color.GrayModel
	if odd || bytes.Contains(b, []byte("Exif\x00\x00")) { // the pixels are upright, nothing else is wanted of it
		if b, err = plain(b); err != nil {
			return inspect.Refuse(inspect.Damaged, "its file is damaged")
		}
	}
	pic.JPEG, pic.Width, pic.Height = b, cfg.Width, cfg.Height
	return nil
}

// plain writes a JPEG anew: one of rarer colours, so that every reader shows it,
// or one that holds more than pixels.
func plain(b []byte) ([]byte, error) {
	img, _, err := image.Decode(bytes.NewReader(b))
	if err != nil {
		return nil, err
	}
	var out bytes.Buffer
	err = jpeg.Encode(&out, img, &jpeg.Options{Quality: 88})
	return out.Bytes(), err
}

// rest gives the photos that no card shows: of parts that go back in, and
// those taken at the drop-off.
func (a *album) rest(st *shop.Story) []picture {
	var out []picture
	left := 0
	add := func(p *inspect.Photo, what string, hours *float64) {
		if p == nil || p.SHA256 == "" {
			return
		}
		if _, ok := a.shown[p.SHA256]; ok {
			return
		}
		if len(out) == galleryN {
			left++
			return
		}
		out = append(out, *a.picture(*p, what, hours, smallPx))
	}
	for _, l := range st.Lines {
		name := words.PartAt(partName(l), l.Assessment.Leg)
		add(l.Then, tongue.Sayf("%s, then", name), hoursOf(l.ThenVisit))
		add(l.Now, tongue.Sayf("%s, now", name), &st.Case.Claim.Hours)
	}
	for i := range st.Case.Photos {
		p := &st.Case.Photos[i]
		switch p.Role {
		case "side":
			add(p, tongue.Say("As it came in"), &st.Case.Claim.Hours)
		case "damage":
			add(p, tongue.Say("Damage seen at drop-off"), &st.Case.Claim.Hours)
		case "serial":
			add(p, tongue.Say("Serial number"), &st.Case.Claim.Hours)
		}
	}
	if left > 0 {
		a.remarks = append(a.remarks, tongue.Sayf("%d more photos of this visit are on the shop's record. Ask to see them.", left))
	}
	return out
}
