package clean

import (
	"bytes"
	"context"
	"encoding/binary"
	"errors"
	"fmt"
	"image/jpeg"

	"forkwear/media/decode"
	"forkwear/media/exif"
	"forkwear/media/format"
)

// Copy is the cleaned photo.
type Copy struct {
	Data     []byte
	Format   format.Format
	Lossless bool // false: encoded anew, upright
}

// errOdd: the file's pieces are not laid out as expected.
var errOdd = errors.New("unusual layout")

// reencodeQuality is for photos that cannot be cleaned piece by piece.
const reencodeQuality = 95

// Clean gives a copy of the photo without metadata. A TIFF, and a file laid
// out in an unusual way that can still be shown, is encoded anew as JPEG. HEIC
// and AVIF give decode.ErrNoDecoder, a broken file decode.ErrDamaged.
func Clean(ctx context.Context, data []byte) (Copy, error) {
	f, w, h, err := decode.Config(data)
	if err != nil {
		return Copy{}, err
	}
	info, _ := exif.Read(bytes.NewReader(data), int64(len(data)))
	var out []byte
	switch f {
	case format.JPEG:
		out, err = cleanJPEG(data, info.Orientation)
	case format.PNG:
		out, err = cleanPNG(data, info.Orientation)
	case format.WebP:
		out, err = cleanWebP(data, info.Orientation)
	default:
		err = errOdd
	}
	if err == nil {
		if _, cw, ch, err := decode.Config(out); err == nil && cw == w && ch == h {
			return Copy{out, f, true}, nil
		}
	}
	return reencode(ctx, data, info.Orientation)
}

func reencode(ctx context.Context, data []byte, orientation int) (Copy, error) {
	pic, err := decode.Decode(ctx, data, orientation)
	if err != nil {
		return Copy{}, err
	}
	var buf bytes.Buffer
	if err := jpeg.Encode(&buf, pic.Upright(), &jpeg.Options{Quality: reencodeQuality}); err != nil {
		return Copy{}, fmt.Errorf("encode the clean copy: %w", err)
	}
	return Copy{buf.Bytes(), format.JPEG, false}, nil
}

// orientationTIFF is the smallest EXIF block that says which way up (26
// bytes): one directory with one SHORT (TIFF 6.0, section 2).
func orientationTIFF(orientation int) []byte {
	b := []byte("MM\x00*\x00\x00\x00\x08\x00\x01\x01\x12\x00\x03\x00\x00\x00\x01\x00\x00\x00\x00\x00\x00\x00\x00")
	b[19] = byte(orientation)
	return b
}

// cleanJPEG copies the segments that the pixels need (ITU-T T.81, B.1) and
// stops at the end of the picture.
func cleanJPEG(data []byte, orientation int) ([]byte, error) {
	out := append(make([]byte, 0, len(data)), 0xFF, 0xD8)
	placed := orientation <= 1
	for at := 2; ; {
		for at+1 < len(data) && data[at] == 0xFF && data[at+1] == 0xFF {
			at++
		}
		if at+4 > len(data) || data[at] != 0xFF {
			if at+2 == len(data) && data[at] == 0xFF && data[at+1] == 0xD9 {
				return append(out, 0xFF, 0xD9), nil
			}
			return nil, errOdd
		}
		marker := data[at+1]
		if marker == 0xD9 {
			return append(out, 0xFF, 0xD9), nil
		}
		end := at + 2 + int(binary.BigEndian.Uint16(data[at+2:]))
		if end < at+4 || end > len(data) || marker >= 0xD0 && marker <= 0xD8 || marker == 0x01 {
			return nil, errOdd
		}
		if !placed && marker != 0xE0 { // behind JFIF, which must come first
			body := append([]byte("Exif\x00\x00"), orientationTIFF(orientation)...)
			out = append(out, 0xFF, 0xE1, 0, byte(len(body)+2))
			out = append(out, body...)
			placed = true
		}
		switch {
		case marker == 0xE0 && end-at > jfifLength && keepSegment(marker, data[at+4:end]):
			from := len(out)
			out = append(out, data[at:at+jfifLength]...)
			binary.BigEndian.PutUint16(out[from+2:], jfifLength-2)
			out[from+jfifLength-2], out[from+jfifLength-1] = 0, 0 // no small picture
		case keepSegment(marker, data[at+4:end]):
			out = append(out, data[at:end]...)
		}
		at = end
		if marker == 0xDA {
			stop := scanEnd(data, at)
			out = append(out, data[at:stop]...)
			at = stop
		}
	}
}

// jfifLength is that of a JFIF segment, marker and all, before its small picture
// (JFIF 1.02, from memory); the last two bytes are that picture's sides.
const jfifLength = 18

// keepSegment keeps what decoding needs (T.81, table B.1: frames, tables, scans)
// and of the application segments JFIF, the colour profile and Adobe's colour
// transform, without which colours change. Comments and segments of kinds that
// are reserved or unknown stay behind: nobody knows what they tell.
func keepSegment(marker byte, body []byte) bool {
	switch {
	case marker == 0xE0:
		return bytes.HasPrefix(body, []byte("JFIF\x00"))
	case marker == 0xE2:
		return bytes.HasPrefix(body, []byte("ICC_PROFILE\x00"))
	case marker == 0xEE:
		return bytes.HasPrefix(body, []byte("Adobe"))
	}
	return marker >= 0xC0 && marker <= 0xCF && marker != 0xC8 || marker >= 0xDA && marker <= 0xDF
}

// scanEnd finds the marker behind a scan's data: the first FF that is followed
// neither by a stuffed 00 nor by a restart marker.
func scanEnd(data []byte, at int) int {
	for at < len(data) {
		i := bytes.IndexByte(data[at:], 0xFF)
		if i < 0 || at+i+1 >= len(data) {
			return len(data)
		}
		at += i
		if m := data[at+1]; m != 0 && m != 0xFF && (m < 0xD0 || m > 0xD7) {
			return at
		}
		at++
	}
	return len(data)
}
