package benchcard

import (
	"bytes"
	"fmt"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"github.com/google/uuid"
	"github.com/makiuchi-d/gozxing/qrcode/decoder"
	"github.com/makiuchi-d/gozxing/qrcode/encoder"
	"pgregory.net/rapid"

	"forkwear/inspect"
)

// TestEncode: base32 of RFC 4648, by coreutils: printf of the 16 bytes in
// octal | base32 | tr -d =.
func TestEncode(t *testing.T) {
	for id, want := range map[inspect.ID]string{
		someVisit:                              "FW:AGMPFRD3DZ6MHGSSGHILRZXXAQ",
		"ffffffff-ffff-ffff-ffff-ffffffffffff": "FW:77777777777777777777777774",
	} {
		got, err := Encode(id)
		if err != nil || got != want {
			t.Errorf("%s: %q, %v, want %q", id, got, err, want)
		}
		if back, ok := Decode(got); !ok || back != id {
			t.Errorf("%s came back as %q", id, back)
		}
	}
	for _, id := range []inspect.ID{"", "1048", "00000000-0000-0000-0000-000000000000", "{0198f2c4-7b1e-7cc3-9a52-31d0b8e6f704}", "0198f2c47b1e7cc39a5231d0b8e6f704", "0198f2c4-7b1e-7cc3-9a52-31d0b8e6f70"} {
		if code, err := Encode(id); err == nil {
			t.Errorf("%q has the code %q", id, code)
		}
	}
	for _, code := range []string{"", "FW:", "https://example.org", "FW:AGMPFRD3DZ6MHGSSGHILRZXXAR", "FX:AGMPFRD3DZ6MHGSSGHILRZXXAQ", "FW:agmpfrd3dz6mhgssghilrzxxaq", "FW:AGMPFRD3DZ6MHGSSGHILRZXXA1", "FW:AGMPFRD3DZ6MHGSSGHILRZXXAQ="} {
		if id, ok := Decode(code); ok {
			t.Errorf("%q is visit %s", code, id)
		}
		if _, err := Modules(code); err == nil {
			t.Errorf("%q has modules", code)
		}
	}
}

func TestEveryVisitHasItsCode(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		raw := [16]byte(rapid.SliceOfN(rapid.Byte(), 16, 16).Draw(t, "id"))
		if raw == [16]byte{} {
			return
		}
		id := inspect.ID(uuid.UUID(raw).String())
		code, err := Encode(id)
		if err != nil || len(code) != codeLength {
			t.Fatal(code, err)
		}
		if back, ok := Decode(code); !ok || back != id {
			t.Fatal(id, code, back)
		}
		dark, err := Modules(code)
		if err != nil || len(dark) != qrSize {
			t.Fatal(len(dark), err)
		}
	})
}

func FuzzDecode(f *testing.F) {
	f.Add("FW:AGMPFRD3DZ6MHGSSGHILRZXXAQ")
	f.Add("FW:AGMPFRD3DZ6MHGSSGHILRZXXAR")
	f.Add("")
	f.Fuzz(func(t *testing.T, s string) {
		if id, ok := Decode(s); ok {
			if again, err := Encode(id); err != nil || again != s {
				t.Fatalf("%q is %s, whose code is %q (%v)", s, id, again, err)
			}
		}
	})
}

// text draws modules as lines of # and dots.
func text(dark [][]bool) string {
	var b strings.Builder
	for _, row := range dark {
		for _, d := range row {
			b.WriteByte(".#"[map[bool]int{true: 1}[d]])
		}
		b.WriteByte('\n')
	}
	return b.String()
}

// TestModulesAgainstAnotherWriter: every module as libqrencode 4.1.1 sets it:
// qrencode -v 2 -l Q -m 0 -t ASCII 'FW:AGMPFRD3DZ6MHGSSGHILRZXXAQ' (Debian
// package qrencode), two characters a module.
func TestModulesAgainstAnotherWriter(t *testing.T) {
	raw, err := os.ReadFile(filepath.Join("testdata", "qrencode_v2q.txt"))
	if err != nil {
		t.Fatal(err)
	}
	var want strings.Builder
	for _, row := range strings.Split(strings.TrimSuffix(string(raw), "\n"), "\n") {
		for i := 0; i < len(row); i += 2 {
			want.WriteByte(map[byte]byte{'#': '#', ' ': '.'}[row[i]])
		}
		want.WriteByte('\n')
	}
	_, dark := someCard(t)
	if got := text(dark); got != want.String() {
		t.Errorf("modules\n%s\nwant\n%s", got, want.String())
	}
}

// TestExampleOfTheStandard: ISO/IEC 18004 shows "01234567" as version 1-M with
// these data and error correction codewords (annex with the symbol's encoding,
// from memory).
func TestExampleOfTheStandard(t *testing.T) {
	const want = "10200C566180EC11EC11EC11EC11EC11" + "A524D4C1ED36C7872C55"
	qr, err := encoder.Encoder_encode("01234567", decoder.ErrorCorrectionLevel_M, nil)
	if err != nil {
		t.Fatal(err)
	}
	m, mask := qr.GetMatrix(), qr.GetMaskPattern()
	if m.GetWidth() != 21 {
		t.Fatalf("%d modules", m.GetWidth())
	}
	masked := [8]func(i, j int) bool{ // i is the row; the standard's table of masks, from memory
		func(i, j int) bool { return (i+j)%2 == 0 }, func(i, _ int) bool { return i%2 == 0 },
		func(_, j int) bool { return j%3 == 0 }, func(i, j int) bool { return (i+j)%3 == 0 },
		func(i, j int) bool { return (i/2+j/3)%2 == 0 }, func(i, j int) bool { return i*j%2+i*j%3 == 0 },
		func(i, j int) bool { return (i*j%2+i*j%3)%2 == 0 }, func(i, j int) bool { return ((i+j)%2+i*j%3)%2 == 0 },
	}[mask]
	fixed := func(i, j int) bool { return i < 9 && (j < 9 || j > 12) || i > 12 && j < 9 || i == 6 || j == 6 }
	bits, up := "", true
	for right := 20; right > 0; right -= 2 { // two columns at a time, up and down
		if right == 6 {
			right--
		}
		for k := range 21 {
			i := k
			if up {
				i = 20 - k
			}
			for _, j := range []int{right, right - 1} {
				if !fixed(i, j) {
					bits += fmt.Sprint(map[bool]int{true: 1}[(m.Get(j, i) == 1) != masked(i, j)])
				}
			}
		}
		up = !up
	}
	got := ""
	for i := 0; i+4 <= len(bits); i += 4 {
		got += fmt.Sprintf("%X", map[byte]int{'1': 8}[bits[i]]+map[byte]int{'1': 4}[bits[i+1]]+map[byte]int{'1': 2}[bits[i+2]]+map[byte]int{'1': 1}[bits[i+3]])
	}
	if got != want {
		t.Errorf("codewords\n%s, want\n%s", got, want)
	}
}

// TestAnotherReader hands our code to zbarimg (Debian package zbar-tools) where
// it is installed.
func TestAnotherReader(t *testing.T) {
	tool, err := exec.LookPath("zbarimg")
	if err != nil {
		t.Skip("zbarimg is not installed")
	}
	code, dark := someCard(t)
	const k, quiet = 6, 4
	side := (qrSize + 2*quiet) * k
	b := []byte(fmt.Sprintf("P5 %d %d 255\n", side, side))
	for y := range side {
		for x := range side {
			i, j := y/k-quiet, x/k-quiet
			v := byte(255)
			if i >= 0 && j >= 0 && i < qrSize && j < qrSize && dark[i][j] {
				v = 0
			}
			b = append(b, v)
		}
	}
	file := filepath.Join(t.TempDir(), "code.pgm")
	if err := os.WriteFile(file, b, 0o600); err != nil {
		t.Fatal(err)
	}
	got, err := exec.Command(tool, "-q", "--raw", file).Output()
	if err != nil || string(bytes.TrimSpace(got)) != code {
		t.Errorf("zbarimg read %q (%v), want %q", got, err, code)
	}
}

func TestPrintFactor(t *testing.T) {
	if f, err := PrintFactor(97); err != nil || f != 0.97 {
		t.Error(f, err)
	}
	for _, mm := range []float64{0, -1, 84.9, 116, math.NaN()} {
		if _, err := PrintFactor(mm); err == nil {
			t.Errorf("%g mm is taken", mm)
		}
	}
}
