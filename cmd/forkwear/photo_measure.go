package main

import (
	"context"
	"encoding/json"
	"fmt"
	"io"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"forkwear/media"
	"forkwear/media/scale"
)

// measureFlags are the marks as they come from the command line.
type measureFlags struct {
	card, scale, line, area, axis string
	tube                          float64
	asJSON                        bool
	mask                          maskFlags
}

func photoMeasureCommand() *cobra.Command {
	var f measureFlags
	cmd := &cobra.Command{
		Use:   "measure FILE",
		Short: "Length and area of a mark on a photo, in mm, with a 95 % range",
		Long: "All places are pixels of the upright picture, x to the right and y down. The scale comes from\n" +
			"a card of bank card size (--card), a known length (--scale) or a tube of known diameter (--tube, --axis).\n" +
			"With --mask the program looks for a scratch or a loss of coating inside --region by itself: a proposal, to\n" +
			"be looked at on the photo before anyone relies on it.",
		Args: cobra.ExactArgs(1),
		RunE: func(cmd *cobra.Command, args []string) error {
			p, err := (media.Importer{HEIC: heicChild()}).Read(cmd.Context(), args[0])
			if err != nil {
				return err
			}
			out, err := f.measure(cmd.Context(), args[0], p, cmd.Flags().Changed("tube"))
			if err != nil {
				return fmt.Errorf("measure on the photo %s: %w", args[0], err)
			}
			if f.asJSON {
				enc := json.NewEncoder(cmd.OutOrStdout())
				enc.SetIndent("", "  ")
				enc.SetEscapeHTML(false)
				return enc.Encode(out)
			}
			return writeMeasureTable(cmd.OutOrStdout(), out)
		},
	}
	flags := cmd.Flags()
	flags.StringVar(&f.card, "card", "", "the card's corners x,y,x,y,x,y,x,y: top left first, clockwise")
	flags.StringVar(&f.scale, "scale", "", "a known length x,y,x,y,MM: its two ends and its mm")
	flags.StringVar(&f.line, "line", "", "the line to measure x,y,x,y[,...]")
	flags.StringVar(&f.area, "area", "", "the outline to measure x,y,x,y,x,y[,...]")
	flags.Float64Var(&f.tube, "tube", 0, "outer diameter of the tube in mm, for work around it (with --axis)")
	flags.StringVar(&f.axis, "axis", "", "the tube's edges x,y,x,y,x,y,x,y: two points on the one, two on the other")
	flags.BoolVar(&f.asJSON, "json", false, "write JSON")
	f.mask.addTo(cmd)
	cmd.MarkFlagsOneRequired("line", "area", "mask")
	cmd.MarkFlagsOneRequired("card", "scale", "tube")
	cmd.MarkFlagsMutuallyExclusive("card", "scale")
	cmd.MarkFlagsRequiredTogether("tube", "axis")
	return cmd
}

// rangeJSON is a value with its 95 % range.
type rangeJSON struct {
	Value float64 `json:"value"`
	Low   float64 `json:"low"`
	High  float64 `json:"high"`
	Below bool    `json:"below,omitempty"` // a bound: the truth is below high
}

// measureJSON is the stable form of `photo measure --json`; what was not asked
// for is null.
type measureJSON struct {
	Length  *rangeJSON `json:"length_mm"`
	Area    *rangeJSON `json:"area_mm2"`
	Method  string     `json:"method"`
	Remarks []string   `json:"remarks"`
	Width   *rangeJSON `json:"width_mm,omitempty"`
	Mask    *maskJSON  `json:"mask,omitempty"`
}

func (f measureFlags) measure(ctx context.Context, path string, p media.Photo, withTube bool) (measureJSON, error) {
	out := measureJSON{Remarks: []string{}}
	w, h := p.UprightSize()
	s := scale.Scene{Camera: scale.CameraOf(w, h, float64(p.FocalLength35))}
	if err := f.scene(&s, withTube); err != nil {
		return out, err
	}
	take := func(name, list string, size func([]scale.Point, scale.Uncertainty) (scale.Measured, error)) (*rangeJSON, error) {
		if list == "" {
			return nil, nil
		}
		points, err := scale.ParsePoints(list)
		if err != nil {
			return nil, fmt.Errorf("--%s: %w", name, err)
		}
		for i, q := range points {
			if q.X < 0 || q.Y < 0 || q.X > float64(w) || q.Y > float64(h) {
				return nil, fmt.Errorf("--%s: point %d (%g,%g) lies outside the upright picture of %d x %d pixels", name, i+1, q.X, q.Y, w, h)
			}
		}
		m, err := size(points, scale.DefaultUncertainty())
		if err != nil {
			return nil, err
		}
		return out.add(m), nil
	}
	var err error
	if out.Length, err = take("line", f.line, s.Length); err != nil {
		return out, err
	}
	if out.Area, err = take("area", f.area, s.Area); err != nil || !f.mask.on {
		return out, err
	}
	return out, f.mask.measure(ctx, path, p, s, &out)
}

// add takes over method and remarks.
func (m *measureJSON) add(v scale.Measured) *rangeJSON {
	m.Method = v.Method
	for _, r := range v.Remarks {
		if !slices.Contains(m.Remarks, r) {
			m.Remarks = append(m.Remarks, r)
		}
	}
	return &rangeJSON{v.Value, v.Low, v.High, v.Below}
}

// scene reads the marks that give the scale. Card corners and tube edges may
// lie outside the picture, where a line was drawn on.
func (f measureFlags) scene(s *scale.Scene, withTube bool) error {
	if f.card != "" {
		corners, err := scale.ParsePoints(f.card)
		if err != nil {
			return fmt.Errorf("--card: %w", err)
		}
		s.Card = corners
	}
	if f.scale != "" {
		v, err := scale.ParseNumbers(f.scale)
		if err != nil {
			return fmt.Errorf("--scale: %w", err)
		}
		if len(v) != 5 {
			return fmt.Errorf("--scale has %d numbers, it needs five: x,y,x,y of the two ends, then the mm between them", len(v))
		}
		s.Known = &scale.KnownLength{A: scale.Point{X: v[0], Y: v[1]}, B: scale.Point{X: v[2], Y: v[3]}, MM: v[4]}
	}
	if withTube {
		edges, err := scale.ParsePoints(f.axis)
		if err != nil {
			return fmt.Errorf("--axis: %w", err)
		}
		if len(edges) != 4 {
			return fmt.Errorf("--axis has %d points, it needs four: two on the tube's one edge, two on the other", len(edges))
		}
		s.Tube = &scale.Tube{Diameter: f.tube, Edges: [4]scale.Point(edges)}
	}
	return nil
}

func writeMeasureTable(w io.Writer, m measureJSON) error {
	var b strings.Builder
	write := func(name, format, unit string, v *rangeJSON) {
		switch {
		case v == nil:
		case v.Below:
			fmt.Fprintf(&b, "%-8s below "+format+" %s\n", name, v.High, unit)
		default:
			fmt.Fprintf(&b, "%-8s "+format+" %s (95 %%: "+format+" to "+format+")\n", name, v.Value, unit, v.Low, v.High)
		}
	}
	write("length", "%.2f", "mm", m.Length)
	write("width", "%.2f", "mm", m.Width)
	write("area", pickFormat(m.Mask != nil), "mm2", m.Area)
	fmt.Fprintf(&b, "method   %s\n", m.Method)
	for _, r := range m.Remarks {
		fmt.Fprintf(&b, "remark   %s\n", r)
	}
	_, err := io.WriteString(w, b.String())
	return err
}

// pickFormat: a proposed scratch can have a few tenths of a mm2.
func pickFormat(small bool) string {
	if small {
		return "%.2f"
	}
	return "%.1f"
}
