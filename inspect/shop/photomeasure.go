package shop

import (
	"context"
	"errors"
	"fmt"
	"slices"
	"strings"

	"forkwear/inspect"
	"forkwear/inspect/catalog"
)

// photoScale is the instrument of a size measured on a photo.
const photoScale = "photo_scale"

// coverage95 is the half-width of a 95 % range of a normal distribution in
// standard uncertainties (ISO/IEC Guide 98-3, table G.1: 1.960).
const coverage95 = 1.96

// TakesPhoto tells whether a size of this unit ("mm", "mm2") measured on a photo
// answers a check: the check is a number of that unit, and a photo with a scale
// is one of its instruments. A diameter that only a micrometer can tell is not
// answered by a photo.
func TakesPhoto(k catalog.Check, unit string) bool {
	return k.Kind == catalog.Number && strings.ReplaceAll(k.Unit, "²", "2") == unit && slices.Contains(k.Instruments, photoScale)
}

// KeepMeasure keeps a size measured on a photo of the case and, where the check
// takes it (TakesPhoto), answers that check with its value and the standard
// uncertainty (High - Low) / (2 * 1.96), so that it counts as any reading does.
// Without a check, and with one that takes no photo, it is kept with the photo
// alone and has no ReadingID.
func (d *Desk) KeepMeasure(ctx context.Context, c *Case, m inspect.PhotoMeasure, check string, leg inspect.Leg, point string, stage inspect.Stage) (inspect.PhotoMeasure, error) {
	m.ID, m.ReadingID, m.By, m.At, m.Gone = d.NewID(), "", d.Who(), d.Clock(), false
	if err := m.Validate(); err != nil {
		return m, err
	}
	if check == "" {
		return m, d.Lib.AddPhotoMeasure(ctx, m)
	}
	k, ok := d.Catalog.Check(check)
	if !ok {
		return m, inspect.Refuse(inspect.NotFound, "the check %q is not in the catalog", check)
	}
	if !slices.ContainsFunc(c.Photos, func(p inspect.Photo) bool { return p.ID == m.PhotoID }) {
		return m, inspect.Refuse(inspect.Invalid, "this photo is not one of ticket %d: a reading of this visit needs a photo of this visit", c.Visit.Ticket)
	}
	if !TakesPhoto(k, m.Unit) {
		return m, d.Lib.AddPhotoMeasure(ctx, m)
	}
	r, err := d.Answer(ctx, c, Answer{Check: check, Leg: leg, Point: point, Stage: stage, Answer: inspect.Measured, Value: m.Value,
		U: (m.High - m.Low) / (2 * coverage95), Typed: fmt.Sprintf("%.1f %s", m.Value, k.Unit), Instrument: photoScale,
		Fields: fmt.Sprintf("on the photo, 95 %%: %.1f to %.1f %s", m.Low, m.High, k.Unit)})
	if err != nil {
		return m, err
	}
	m.ReadingID = r.ID
	if err := d.Lib.AddPhotoMeasure(ctx, m); err != nil { // no reading without what it stands on
		return m, errors.Join(err, d.Undo(context.WithoutCancel(ctx), c, r.ID))
	}
	return m, nil
}

// Unmeasure takes a size off its photo, and its reading back where that is
// still the newest of its place.
func (d *Desk) Unmeasure(ctx context.Context, c *Case, m inspect.PhotoMeasure) error {
	if err := d.Lib.TakeMeasureOff(ctx, m.ID); err != nil || m.ReadingID == "" {
		return err
	}
	if err := d.Undo(ctx, c, m.ReadingID); inspect.CodeOf(err) != inspect.Conflict { // another value stands there since
		return err
	}
	return nil
}

// Measures are the sizes on photos, by photo, oldest first.
func (d *Desk) Measures(ctx context.Context, photos ...inspect.ID) (map[inspect.ID][]inspect.PhotoMeasure, error) {
	all, err := d.Lib.PhotoMeasures(ctx, photos...)
	if err != nil {
		return nil, err
	}
	out := map[inspect.ID][]inspect.PhotoMeasure{}
	for _, m := range all {
		out[m.PhotoID] = append(out[m.PhotoID], m)
	}
	return out, nil
}
