package report

import (
	"bytes"
	"strings"
	"testing"
	"unicode/utf16"
)

// pdfWords reads the shown texts of an uncompressed PDF: the strings before Tj,
// two bytes a character (UTF-16BE, ISO 32000-1 clause 9.7.6 with the identity
// encoding that the embedded fonts use), escapes undone (clause 7.3.4.2).
func pdfWords(t testing.TB, pdf []byte) string {
	t.Helper()
	var b strings.Builder
	for _, stream := range bytes.Split(pdf, []byte(") Tj"))[:bytes.Count(pdf, []byte(") Tj"))] {
		at := bytes.LastIndex(stream, []byte(" Td ("))
		if at < 0 {
			t.Fatal("a text of the PDF has no beginning")
		}
		raw := unescape(stream[at+len(" Td ("):])
		if len(raw)%2 != 0 {
			t.Fatalf("a text of the PDF has half a character: %q", raw)
		}
		var u []uint16
		for i := 0; i < len(raw); i += 2 {
			u = append(u, uint16(raw[i])<<8|uint16(raw[i+1]))
		}
		b.WriteString(string(utf16.Decode(u)) + " ")
	}
	return even(b.String())
}

func unescape(s []byte) []byte {
	var out []byte
	for i := 0; i < len(s); i++ {
		if s[i] == '\\' && i+1 < len(s) {
			i++
			if s[i] == 'r' {
				out = append(out, '\r')
				continue
			}
		}
		out = append(out, s[i])
	}
	return out
}
