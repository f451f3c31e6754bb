package format

import "bytes"

// Format is the short lower-case name of a picture format; the empty Format
// means that the bytes are none of those known here.
type Format string

// The formats that photographs arrive in.
const (
	Unknown Format = ""
	JPEG    Format = "jpeg"
	PNG     Format = "png"
	WebP    Format = "webp"
	TIFF    Format = "tiff"
	HEIC    Format = "heic"
	AVIF    Format = "avif"
)

// All lists the known formats.
func All() []Format { return []Format{JPEG, PNG, WebP, TIFF, HEIC, AVIF} }

// SniffLen is the number of first bytes that Sniff wants to see.
const SniffLen = 64

// Ext is the ending, with its dot, under which a picture of this format is
// kept; ".bin" for an unknown one.
func (f Format) Ext() string {
	switch f {
	case JPEG:
		return ".jpg"
	case TIFF:
		return ".tif"
	case PNG, WebP, HEIC, AVIF:
		return "." + string(f)
	}
	return ".bin"
}

// Name is the name as people write it.
func (f Format) Name() string {
	switch f {
	case JPEG:
		return "JPEG"
	case PNG:
		return "PNG"
	case WebP:
		return "WebP"
	case TIFF:
		return "TIFF"
	case HEIC:
		return "HEIC"
	case AVIF:
		return "AVIF"
	}
	return "unknown"
}

// Sniff names the format of a file by its first bytes (SniffLen of them are
// enough; fewer are allowed and give Unknown when they do not decide).
func Sniff(head []byte) Format {
	switch {
	case bytes.HasPrefix(head, []byte{0xFF, 0xD8, 0xFF}):
		return JPEG
	case bytes.HasPrefix(head, []byte("\x89PNG\r\n\x1a\n")):
		return PNG
	case len(head) >= 12 && string(head[:4]) == "RIFF" && string(head[8:12]) == "WEBP":
		return WebP
	case bytes.HasPrefix(head, []byte("II*\x00")), bytes.HasPrefix(head, []byte("MM\x00*")):
		return TIFF
	case len(head) >= 12 && string(head[4:8]) == "ftyp":
		return brand(head)
	}
	return Unknown
}

// brand reads the major brand and the compatible brands of an ftyp box. Some
// phones write the general brand mif1 first and the codec's brand only in the
// list behind it, so the list decides when the first one does not.
func brand(head []byte) Format {
	size := int(head[0])<<24 | int(head[1])<<16 | int(head[2])<<8 | int(head[3])
	end := min(len(head), max(size, 12))
	heif := false
	for at := 8; at+4 <= end; at += 4 {
		if at == 12 { // minor version, a number
			continue
		}
		switch string(head[at : at+4]) {
		case "avif", "avis":
			return AVIF
		case "heic", "heix", "hevc", "hevx", "heim", "heis":
			return HEIC
		case "mif1", "msf1":
			heif = true
		}
	}
	if heif {
		return HEIC
	}
	return Unknown
}
