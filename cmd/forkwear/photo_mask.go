package main

import (
	"context"
	"errors"
	"fmt"
	"image"
	"math"

	"github.com/spf13/cobra"

	"forkwear/media"
	"forkwear/media/decode"
	"forkwear/media/format"
	"forkwear/media/scale"
	"forkwear/media/scratch"
	"forkwear/media/vault"
)

// maskFlags ask for a damage that the program finds by itself.
type maskFlags struct {
	on, loss      bool
	region, along string
}

func (f *maskFlags) addTo(cmd *cobra.Command) {
	flags := cmd.Flags()
	flags.BoolVar(&f.on, "mask", false, "find the damage inside --region and measure it")
	flags.StringVar(&f.region, "region", "", "the rectangle to look in x,y,width,height")
	flags.StringVar(&f.along, "along", "", "a rough line along the damage x,y,x,y[,...], where there are several")
	flags.BoolVar(&f.loss, "loss", false, "look for an area (coating gone) and not for a scratch")
	cmd.MarkFlagsRequiredTogether("mask", "region")
	cmd.MarkFlagsMutuallyExclusive("mask", "line")
	cmd.MarkFlagsMutuallyExclusive("mask", "area")
}

// maskJSON is what was found, in pixels of the upright picture.
type maskJSON struct {
	Pixels   int            `json:"pixels"`
	Outlines [][][2]float64 `json:"outlines"` // holes run anticlockwise
	Centre   [][2]float64   `json:"centre"`
}

// measure proposes a mask in the photo at path and measures it on the scene.
func (f maskFlags) measure(ctx context.Context, path string, p media.Photo, s scale.Scene, out *measureJSON) error {
	o, region, err := f.options()
	if err != nil {
		return err
	}
	data, err := vault.Load(ctx, path)
	if err != nil {
		return err
	}
	orientation := p.Orientation
	if child := heicChild(); format.Sniff(data) == format.HEIC && child != nil {
		if data, err = child.JPEG(ctx, data); err != nil {
			return err
		}
		orientation = 1 // it is upright
	}
	picture, err := decode.Decode(ctx, data, orientation)
	if err != nil {
		return err
	}
	mask, err := scratch.Propose(ctx, picture.Upright(), region, axisOf(s), o)
	if err != nil {
		return err
	}
	centre, err := mask.CentreLine(ctx)
	if err != nil {
		return err
	}
	outlines := mask.Outlines()
	size, err := s.MeasureMask(outlines, centre, scale.DefaultUncertainty())
	if err != nil {
		return err
	}
	out.Length, out.Width, out.Area = out.add(size.Length), out.add(size.Width), out.add(size.Area)
	out.Remarks = append(out.Remarks, "The damage was proposed by the program and checked by nobody: look at its outline on the photo.")
	out.Mask = &maskJSON{Pixels: mask.Count(), Centre: pairs(centre)}
	for _, ring := range outlines {
		out.Mask.Outlines = append(out.Mask.Outlines, pairs(ring))
	}
	return nil
}

func (f maskFlags) options() (o scratch.Options, region image.Rectangle, err error) {
	v, err := scale.ParseNumbers(f.region)
	if err != nil {
		return o, region, fmt.Errorf("--region: %w", err)
	}
	if len(v) != 4 || !(v[2] > 0 && v[3] > 0) {
		return o, region, errors.New("--region needs four numbers: x,y of its upper left corner, its width and its height above 0")
	}
	region = image.Rect(int(math.Floor(v[0])), int(math.Floor(v[1])), int(math.Ceil(v[0]+v[2])), int(math.Ceil(v[1]+v[3])))
	if f.loss {
		o.Kind = scratch.Loss
	}
	if f.along != "" {
		if o.Line, err = scale.ParsePoints(f.along); err != nil {
			return o, region, fmt.Errorf("--along: %w", err)
		}
	}
	return o, region, nil
}

// axisOf is the direction of the tube in the picture, NaN without one.
func axisOf(s scale.Scene) float64 {
	if s.Tube == nil {
		return math.NaN()
	}
	e := s.Tube.Edges
	return math.Atan2(e[1].Y-e[0].Y, e[1].X-e[0].X)
}

func pairs(points []scale.Point) [][2]float64 {
	out := make([][2]float64, len(points))
	for i, p := range points {
		out[i] = [2]float64{math.Round(p.X*100) / 100, math.Round(p.Y*100) / 100}
	}
	return out
}
