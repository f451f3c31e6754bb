package main

import (
	"context"
	"encoding/json"
	"fmt"
	"io"
	"os"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"forkwear/media"
	"forkwear/media/clean"
	"forkwear/media/format"
	"forkwear/media/vault"
)

// photoCommand is `forkwear photo`: what a photo file says about itself, and
// copies of it.
func photoCommand() *cobra.Command {
	cmd := &cobra.Command{
		Use:   "photo",
		Short: "Read, measure or clean a photo file",
	}
	cmd.AddCommand(photoInfoCommand(), photoMeasureCommand(), photoCleanCommand())
	return cmd
}

func photoInfoCommand() *cobra.Command {
	var zoneName string
	var asJSON bool
	cmd := &cobra.Command{
		Use:   "info FILE",
		Short: "Date, zone, camera, orientation and quality of a photo",
		Args:  cobra.ExactArgs(1),
		RunE: func(cmd *cobra.Command, args []string) error {
			var zone *time.Location
			if zoneName != "" {
				var err error
				if zone, err = time.LoadLocation(zoneName); err != nil {
					return fmt.Errorf("--zone %q is no time zone known here: write it like Europe/Berlin (%w)", zoneName, err)
				}
			}
			p, err := (media.Importer{Zone: zone, HEIC: heicChild()}).Read(cmd.Context(), args[0])
			if err != nil {
				return err
			}
			if asJSON {
				enc := json.NewEncoder(cmd.OutOrStdout())
				enc.SetIndent("", "  ")
				enc.SetEscapeHTML(false)
				return enc.Encode(photoFacts(p))
			}
			return writePhotoTable(cmd.OutOrStdout(), p)
		},
	}
	cmd.Flags().StringVar(&zoneName, "zone", "", "time zone of the shop, for photos without one (Europe/Berlin)")
	cmd.Flags().BoolVar(&asJSON, "json", false, "write JSON")
	return cmd
}

// photoJSON is the stable form of `photo info --json`; what the file does not
// say is null.
type photoJSON struct {
	SHA256       string   `json:"sha256"`
	Format       string   `json:"format"`
	Bytes        int64    `json:"bytes"`
	Width        int      `json:"width"`
	Height       int      `json:"height"`
	Orientation  *int     `json:"orientation"`
	Taken        *string  `json:"taken"`
	WallTime     *string  `json:"wall_time"`
	Offset       *string  `json:"offset"`
	OffsetSource *string  `json:"offset_source"`
	SubSec       *string  `json:"subsec"`
	Make         *string  `json:"make"`
	Model        *string  `json:"model"`
	BodySerial   *string  `json:"body_serial"`
	HasPosition  bool     `json:"has_position"`
	GPSTime      *string  `json:"gps_time"`
	Focal35      *int     `json:"focal_length_35"`
	Sharpness    *float64 `json:"sharpness"`
	Usable       bool     `json:"usable"`
	Remarks      []string `json:"remarks"`
}

func photoFacts(p media.Photo) photoJSON {
	text := func(s string) *string {
		if s == "" {
			return nil
		}
		return &s
	}
	out := photoJSON{
		SHA256: p.SHA256, Format: p.Format, Bytes: p.Bytes, Width: p.Width, Height: p.Height,
		WallTime: text(p.WallTime), Offset: text(p.Offset), OffsetSource: text(p.OffsetSource),
		SubSec: text(p.SubSec), Make: text(p.Make), Model: text(p.Model), BodySerial: text(p.BodySerial),
		HasPosition: p.HasPosition, Usable: p.Usable, Remarks: append([]string{}, p.Remarks...),
	}
	out.GPSTime = text(p.GPSTime)
	if p.FocalLength35 != 0 {
		out.Focal35 = &p.FocalLength35
	}
	if p.Orientation != 0 {
		out.Orientation = &p.Orientation
	}
	if p.PixelsRead {
		out.Sharpness = &p.Sharpness
	}
	if t, ok := p.Taken(); ok {
		out.Taken = text(t.Format(time.RFC3339))
	}
	return out
}

func writePhotoTable(w io.Writer, p media.Photo) error {
	var b strings.Builder
	row := func(name, value string) {
		if value == "" {
			value = "not stated"
		}
		fmt.Fprintf(&b, "%-12s %s\n", name, value)
	}
	taken := strings.Replace(p.WallTime, "T", " ", 1)
	if p.Offset != "" {
		taken += " " + p.Offset + " (" + p.OffsetSource + ")"
	}
	row("taken", taken)
	row("camera", cameraName(p))
	row("serial", p.BodySerial)
	if p.GPSTime != "" {
		row("satellites", p.GPSTime)
	}
	row("picture", fmt.Sprintf("%s, %d x %d pixels, %d bytes", p.Format, p.Width, p.Height, p.Bytes))
	orientation := ""
	if p.Orientation != 0 {
		orientation = fmt.Sprint(p.Orientation)
	}
	row("orientation", orientation)
	row("position", map[bool]string{true: "in the file", false: "none"}[p.HasPosition])
	if p.PixelsRead {
		row("sharpness", fmt.Sprintf("%.1f", p.Sharpness))
	}
	row("usable", map[bool]string{true: "yes", false: "no"}[p.Usable])
	row("sha256", p.SHA256)
	for _, r := range p.Remarks {
		row("remark", r)
	}
	_, err := io.WriteString(w, b.String())
	return err
}

// cameraName joins make and model; many models begin with the make already.
func cameraName(p media.Photo) string {
	if strings.HasPrefix(p.Model, p.Make) {
		return p.Model
	}
	return strings.TrimSpace(p.Make + " " + p.Model)
}

func photoCleanCommand() *cobra.Command {
	var out string
	cmd := &cobra.Command{
		Use:   "clean FILE --out FILE",
		Short: "A copy of a photo without place, camera, names and dates",
		Args:  cobra.ExactArgs(1),
		RunE: func(cmd *cobra.Command, args []string) error {
			in := args[0]
			if a, err := os.Stat(in); err == nil {
				if b, err := os.Stat(out); err == nil && os.SameFile(a, b) {
					return fmt.Errorf("--out names the photo itself (%s): originals are never changed; choose another name", in)
				}
			}
			data, err := vault.Load(cmd.Context(), in)
			if err != nil {
				return err
			}
			c, err := cleanCopy(cmd.Context(), data)
			if err != nil {
				return fmt.Errorf("clean the photo %s: %w", in, err)
			}
			if err := vault.Export(cmd.Context(), out, c.Data); err != nil {
				return err
			}
			how := "the same pixels"
			if !c.Lossless {
				how = "encoded anew as JPEG"
			}
			_, err = fmt.Fprintf(cmd.OutOrStdout(), "%s: %d bytes, without camera data, %s\n", shown(out), len(c.Data), how)
			return err
		},
	}
	cmd.Flags().StringVar(&out, "out", "", "the file to write")
	_ = cmd.MarkFlagRequired("out") // fails only for an unknown flag name
	return cmd
}

// cleanCopy is clean.Clean, and of HEIC the working copy of the second process:
// an upright JPEG without camera data.
func cleanCopy(ctx context.Context, data []byte) (clean.Copy, error) {
	child := heicChild()
	if format.Sniff(data) != format.HEIC || child == nil {
		return clean.Clean(ctx, data)
	}
	jpeg, err := child.JPEG(ctx, data)
	return clean.Copy{Data: jpeg, Format: format.JPEG}, err
}
