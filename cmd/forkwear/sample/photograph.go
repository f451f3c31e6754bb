package sample

import (
	"bytes"
	"context"
	"fmt"
	"image/jpeg"
	"time"

	"forkwear/inspect"
	"forkwear/inspect/catalog"
	"forkwear/inspect/shop"
)

// mostPictures of one stage: as many as a technician in a hurry takes.
const mostPictures = 2

// photograph draws a picture for the most telling checks of a stage.
func (f *Filler) photograph(ctx context.Context, c *shop.Case, st stayPlan, stage inspect.Stage) error {
	taken := 0
	for _, p := range f.desk.Positions(c, stage) {
		r, ok := c.At(p)
		subject, drawable := subjectOf(p.Check)
		if !ok || !drawable || !p.Check.Photo || r.Answer != inspect.Graded || taken >= mostPictures {
			continue
		}
		taken++
		f.now = f.now.Add(time.Minute)
		if err := f.picture(ctx, c, p, r, subject); err != nil {
			return err
		}
	}
	return nil
}

func (f *Filler) picture(ctx context.Context, c *shop.Case, p catalog.Position, r inspect.Reading, s subject) error {
	img := drawSubject(s, r.Value, hash(string(c.Fork.ID)+p.Check.ID+string(p.Leg)), uint64(c.Visit.Ticket))
	var buf bytes.Buffer
	if err := jpeg.Encode(&buf, img, &jpeg.Options{Quality: 86}); err != nil {
		return err
	}
	data := withEXIF(buf.Bytes(), f.now)
	name := fmt.Sprintf("drawn-%03d-%s-%s.jpg", c.Visit.Ticket, p.Check.ID, p.Leg)
	ph, err := f.Keep(ctx, data, name)
	if err != nil {
		return err
	}
	ph.Drawn, ph.Usable, ph.Remarks = true, true, nil
	ph.FileName, ph.Check, ph.Leg, ph.Stage, ph.Role = name, p.Check.ID, p.Leg, p.Stage, "evidence"
	_, _, err = f.desk.KeepPhoto(ctx, c, ph)
	return err
}

// subjectOf says which drawing shows a check.
func subjectOf(k catalog.Check) (subject, bool) {
	switch k.Zone {
	case "stanchions":
		return tube, true
	case "seals":
		return seal, true
	case "bushings":
		return bushing, true
	case "damper":
		return boot, true
	}
	return 0, false
}

func hash(s string) uint64 {
	h := uint64(14695981039346656037)
	for i := 0; i < len(s); i++ {
		h = (h ^ uint64(s[i])) * 1099511628211
	}
	return h
}
