package sample

import (
	"bytes"
	"encoding/binary"
	"time"
)

// withEXIF puts an APP1 block with date, offset, focal length and a made-up
// camera behind the start of a JPEG (Exif 2.31: DateTimeOriginal 0x9003,
// OffsetTimeOriginal 0x9011, FocalLengthIn35mmFilm 0xA405).
func withEXIF(jpeg []byte, at time.Time, model string) []byte {
	block := append([]byte("Exif\x00\x00"), tiff(at, model)...)
	out := bytes.NewBuffer(make([]byte, 0, len(jpeg)+len(block)+4))
	out.Write(jpeg[:2])
	out.Write([]byte{0xff, 0xe1})
	_ = binary.Write(out, binary.BigEndian, uint16(len(block)+2))
	out.Write(block)
	out.Write(jpeg[2:])
	return out.Bytes()
}

type asciiTag struct {
	id   uint16
	text string
}

func tiff(at time.Time, model string) []byte {
	ifd0 := []asciiTag{{0x010f, "Drawn"}, {0x0110, model}}
	sub := []asciiTag{{0x9003, at.Format("2006:01:02 15:04:05")}, {0x9011, at.Format("-07:00")}}
	const head = 8
	subAt := head + 2 + 12*(len(ifd0)+1) + 4
	dataAt := subAt + 2 + 12*(len(sub)+1) + 4
	var dirs, data bytes.Buffer
	dirs.WriteString("MM\x00\x2a")
	put(&dirs, uint32(head))
	entry := func(t asciiTag) {
		s := t.text + "\x00"
		put(&dirs, t.id)
		put(&dirs, uint16(2))
		put(&dirs, uint32(len(s)))
		put(&dirs, uint32(dataAt+data.Len()))
		data.WriteString(s)
	}
	put(&dirs, uint16(len(ifd0)+1))
	for _, t := range ifd0 {
		entry(t)
	}
	put(&dirs, uint16(0x8769)) // pointer to the Exif directory
	put(&dirs, uint16(4))
	put(&dirs, uint32(1))
	put(&dirs, uint32(subAt))
	put(&dirs, uint32(0))
	put(&dirs, uint16(len(sub)+1))
	for _, t := range sub {
		entry(t)
	}
	put(&dirs, uint16(0xA405))
	put(&dirs, uint16(3)) // a short, left in its four bytes
	put(&dirs, uint32(1))
	put(&dirs, uint16(film35))
	put(&dirs, uint16(0))
	put(&dirs, uint32(0))
	return append(dirs.Bytes(), data.Bytes()...)
}

func put(b *bytes.Buffer, v any) { _ = binary.Write(b, binary.BigEndian, v) }
