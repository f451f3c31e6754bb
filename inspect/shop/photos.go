package shop

import (
	"context"

	"forkwear/inspect"
)

// KeepPhoto files a picture with a visit; attached to a check where one is
// named, in the tray otherwise. The same bytes twice in one visit are kept once
// and told.
func (d *Desk) KeepPhoto(ctx context.Context, c *Case, p inspect.Photo) (kept inspect.Photo, existed bool, err error) {
	p.ID, p.VisitID, p.AddedBy, p.AddedAt = d.NewID(), c.Visit.ID, d.Who(), d.Clock()
	d.place(c, &p)
	if existed, err = d.Lib.AddPhoto(ctx, p); err != nil {
		return p, existed, err
	}
	c.Photos, err = d.Lib.Photos(ctx, inspect.PhotoFilter{VisitID: c.Visit.ID})
	if existed {
		for _, old := range c.Photos {
			if old.SHA256 == p.SHA256 {
				p = old
			}
		}
	}
	return p, existed, err
}

// Attach moves a picture to a check and leg, or back to the tray with "".
func (d *Desk) Attach(ctx context.Context, c *Case, photo inspect.ID, check string, leg inspect.Leg, stage inspect.Stage) error {
	for _, p := range c.Photos {
		if p.ID != photo {
			continue
		}
		p.Check, p.Leg, p.Stage, p.Role = check, leg, stage, "evidence"
		if check == "" {
			p.Role, p.FittingID = "", ""
		}
		d.place(c, &p)
		if err := d.Lib.PlacePhoto(ctx, p); err != nil {
			return err
		}
		var err error
		c.Photos, err = d.Lib.Photos(ctx, inspect.PhotoFilter{VisitID: c.Visit.ID})
		return err
	}
	return inspect.Refuse(inspect.NotFound, "this photo is not one of visit %d", c.Visit.Ticket)
}

func (d *Desk) place(c *Case, p *inspect.Photo) {
	k, ok := d.Catalog.Check(p.Check)
	if !ok {
		return
	}
	if p.Role == "" {
		p.Role = "evidence"
	}
	if f, ok := c.fittingAt(k.Part, p.Leg, p.Stage); ok {
		p.FittingID = f.ID
	}
}

// Tray is the pictures of a visit that belong to no check and have no role,
// newest first.
func (c *Case) Tray() []inspect.Photo {
	var out []inspect.Photo
	for i := len(c.Photos) - 1; i >= 0; i-- {
		if p := c.Photos[i]; p.Check == "" && p.Role == "" {
			out = append(out, p)
		}
	}
	return out
}
