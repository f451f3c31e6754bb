package inspect

import "time"

// Photo is one picture kept with a visit. The bytes lie in the vault under
// their SHA-256; this is what is known of them and where they belong.
type Photo struct {
	ID           ID
	SHA256       string
	Format       string
	Bytes        int64
	Width        int // of the upright picture
	Height       int
	Orientation  int    // EXIF 1..8 as stored, 0 none
	WallTime     string // camera's own clock, 2006-01-02T15:04:05, "" without a date
	Offset       string // +02:00, "" unknown
	OffsetSource string // "exif", "shop zone", ""
	DateSource   string // "exif", "file time", ""
	SubSec       string
	Make         string
	Model        string
	BodySerial   string
	HasPosition  bool
	Sharpness    float64
	Usable       bool
	Remarks      []string
	Drawn        bool // a drawing of the sample shop, no photograph
	FileName     string
	VisitID      ID
	Check        string // "" while it lies in the tray
	Leg          Leg
	Stage        Stage
	FittingID    ID
	Role         string // "evidence", "side", "serial", "damage", "memory"
	AddedBy      string
	AddedAt      time.Time
}
