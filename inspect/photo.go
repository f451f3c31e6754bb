package inspect

import (
	"strings"
	"time"
)

// Photo is one picture kept with a visit. The bytes lie in the vault under
// their SHA-256; this is what is known of them and where they belong.
type Photo struct {
	ID            ID
	SHA256        string
	Format        string
	Bytes         int64
	Width         int // of the upright picture
	Height        int
	Orientation   int    // EXIF 1..8 as stored, 0 none
	WallTime      string // camera's own clock, 2006-01-02T15:04:05, "" without a date
	Offset        string // +02:00, "" unknown
	OffsetSource  string // "exif", "shop zone", ""
	DateSource    string // "exif", "file time", ""
	SubSec        string
	Make          string
	Model         string
	BodySerial    string
	HasPosition   bool
	Sharpness     float64
	Usable        bool
	Remarks       []string
	FocalLength35 int    // mm on 35 mm film, 0 not stated
	GPSTime       string // UTC as the receiver said, 2006-01-02T15:04:05Z, "" without
	Fingerprint   string // perceptual hash, 16 hexadecimal digits, "" without pixels
	CardCode      string // code of a bench card seen in it, "" none
	Card          []Spot // corners of that card, or of a plain ID-1 card found; nil none
	Drawn         bool   // a drawing of the sample shop, no photograph
	FileName      string
	VisitID       ID     // "" while nobody knows of which visit it is
	Check         string // "" while it lies in the tray
	Leg           Leg
	Stage         Stage
	FittingID     ID
	Role          string // "evidence", "side", "serial", "damage", "memory"
	AddedBy       string
	AddedAt       time.Time
}

// HasCameraDate tells a date that the camera wrote from the file's time.
func (p Photo) HasCameraDate() bool { return p.WallTime != "" && p.DateSource != "file time" }

// Camera names the camera body: make, model and serial number, "" without any.
// Two phones of one model without serial numbers count as one.
func (p Photo) Camera() string {
	return strings.Join(strings.Fields(p.Make+" "+p.Model+" "+p.BodySerial), " ")
}
