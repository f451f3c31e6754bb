package benchcard

import (
	"encoding/base32"
	"encoding/hex"
	"fmt"
	"strings"

	"github.com/makiuchi-d/gozxing"
	"github.com/makiuchi-d/gozxing/qrcode/decoder"
	"github.com/makiuchi-d/gozxing/qrcode/encoder"

	"forkwear/inspect"
)

// prefix tells a bench card from any other QR code on a bench.
const prefix = "FW:"

// codeLength: 3 + 26, just what version 2 at level Q holds of letters and
// digits (ISO/IEC 18004, table of capacities; from memory).
const codeLength = len(prefix) + 26

const (
	qrVersion = 2
	qrSize    = 25 // modules on a side of version 2
)

var letters = base32.StdEncoding.WithPadding(base32.NoPadding) // RFC 4648: A to Z, 2 to 7; all are in the QR code's alphanumeric set

// Encode gives the code of a visit. It fails for what is no visit's id (16
// bytes written as a UUID) and for the id of zeros.
func Encode(visit inspect.ID) (string, error) {
	id, err := bytesOf(visit)
	if err != nil || id == [16]byte{} {
		return "", fmt.Errorf("%.40q is no visit's id, so no bench card can be made for it: open the visit by its ticket number", string(visit))
	}
	return prefix + letters.EncodeToString(id[:]), nil
}

// bytesOf reads the 36 signs of a UUID (RFC 9562, section 4). It is read here
// and not by a library, since the usual one brings database drivers along.
func bytesOf(visit inspect.ID) (id [16]byte, err error) {
	s := string(visit)
	if len(s) != 36 || s[8] != '-' || s[13] != '-' || s[18] != '-' || s[23] != '-' {
		return id, fmt.Errorf("%.40q is not written as a UUID", s)
	}
	_, err = hex.Decode(id[:], []byte(s[:8]+s[9:13]+s[14:18]+s[19:23]+s[24:]))
	return id, err
}

// Decode gives the visit of a code; false for every other text. Each visit has
// exactly one code.
func Decode(code string) (inspect.ID, bool) {
	if len(code) != codeLength || !strings.HasPrefix(code, prefix) {
		return "", false
	}
	raw, err := letters.DecodeString(code[len(prefix):])
	if err != nil || len(raw) != 16 {
		return "", false
	}
	h := hex.EncodeToString(raw)
	visit := inspect.ID(h[:8] + "-" + h[8:12] + "-" + h[12:16] + "-" + h[16:20] + "-" + h[20:])
	if again, err := Encode(visit); err != nil || again != code { // stray last bits
		return "", false
	}
	return visit, true
}

// Modules gives the dark modules of the QR code row by row, 25 by 25, without
// the empty zone of 4 modules that must lie around it. It takes codes of
// Encode only.
func Modules(code string) (dark [][]bool, err error) {
	if _, ok := Decode(code); !ok {
		return nil, fmt.Errorf("%.40q is no bench card's code: make it with Encode", code)
	}
	defer recovered(&err)
	qr, err := encoder.Encoder_encode(code, decoder.ErrorCorrectionLevel_Q,
		map[gozxing.EncodeHintType]any{gozxing.EncodeHintType_QR_VERSION: qrVersion})
	if err != nil {
		return nil, fmt.Errorf("the QR code can't be made: %w", err)
	}
	m := qr.GetMatrix()
	dark = make([][]bool, m.GetHeight())
	for y := range dark {
		dark[y] = make([]bool, m.GetWidth())
		for x := range dark[y] {
			dark[y][x] = m.Get(x, y) == 1
		}
	}
	return dark, nil
}

// recovered turns a panic, above all one of the QR library on a picture nobody
// foresaw, into an error: no photo may end the program.
func recovered(err *error) {
	if r := recover(); r != nil {
		*err = fmt.Errorf("the photo could not be searched for a bench card (%v): file it by hand", r)
	}
}
