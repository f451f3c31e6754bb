package clean

import (
	"encoding/binary"
	"hash/crc32"
)

// pngKept are the chunks that the picture's look depends on (PNG third
// edition, section 11); texts, times and EXIF are not among them.
var pngKept = map[string]bool{
	"IHDR": true, "PLTE": true, "IDAT": true, "IEND": true, "tRNS": true,
	"gAMA": true, "cHRM": true, "sRGB": true, "iCCP": true, "sBIT": true,
	"bKGD": true, "pHYs": true, "cICP": true, "mDCV": true, "cLLI": true,
}

func cleanPNG(data []byte, orientation int) ([]byte, error) {
	out := append(make([]byte, 0, len(data)), data[:8]...)
	for at := 8; ; {
		if at+12 > len(data) {
			return nil, errOdd
		}
		n := int64(binary.BigEndian.Uint32(data[at:]))
		end := int64(at) + 12 + n
		if end > int64(len(data)) {
			return nil, errOdd
		}
		kind := string(data[at+4 : at+8])
		if pngKept[kind] {
			out = append(out, data[at:end]...)
		}
		switch {
		case kind == "IHDR" && orientation > 1:
			out = appendPNGChunk(out, "eXIf", orientationTIFF(orientation))
		case kind == "IEND":
			return out, nil
		}
		at = int(end)
	}
}

func appendPNGChunk(out []byte, kind string, body []byte) []byte {
	out = binary.BigEndian.AppendUint32(out, uint32(len(body)))
	from := len(out)
	out = append(append(out, kind...), body...)
	return binary.BigEndian.AppendUint32(out, crc32.ChecksumIEEE(out[from:]))
}

// The flags of WebP's VP8X chunk (WebP container specification).
const (
	webpHasXMP  = 0x04
	webpHasEXIF = 0x08
)

// webpKept: all else, such as EXIF and XMP, is left out.
var webpKept = map[string]bool{
	"VP8 ": true, "VP8L": true, "VP8X": true, "ALPH": true, "ICCP": true, "ANIM": true, "ANMF": true,
}

func cleanWebP(data []byte, orientation int) ([]byte, error) {
	out := append(make([]byte, 0, len(data)), data[:12]...)
	end := min(int64(len(data)), 8+int64(binary.LittleEndian.Uint32(data[4:])))
	extended := false
	for at := int64(12); at+8 <= end; {
		n := int64(binary.LittleEndian.Uint32(data[at+4:]))
		next := at + 8 + n + n&1
		if at+8+n > end || n == 0 {
			return nil, errOdd
		}
		kind := string(data[at : at+4])
		if webpKept[kind] {
			from := len(out)
			out = append(out, data[at:min(next, end)]...)
			if kind == "VP8X" {
				extended = true
				out[from+8] &^= webpHasXMP | webpHasEXIF
				if orientation > 1 {
					out[from+8] |= webpHasEXIF
				}
			}
		}
		at = next
	}
	if orientation > 1 && extended {
		body := orientationTIFF(orientation) // of even length
		out = append(out, "EXIF"...)
		out = binary.LittleEndian.AppendUint32(out, uint32(len(body)))
		out = append(out, body...)
	}
	binary.LittleEndian.PutUint32(out[4:], uint32(len(out)-8))
	return out, nil
}
