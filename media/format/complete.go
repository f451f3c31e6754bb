package format

import (
	"bytes"
	"encoding/binary"
	"io"
)

// tail is how far from the end of a JPEG its end mark is looked for: some
// programs put a few bytes, or zeros up to a round number, behind it.
const tail = 4096

// Complete tells whether the picture of the given size in bytes has been
// written to its end, as far as its container shows: a JPEG its end mark (or
// what phones put behind it), a PNG its IEND chunk, a WebP and a HEIC or AVIF
// the bytes that their heads announce. A TIFF has nothing of the kind and
// counts as complete; the bytes of no picture never do.
func Complete(r io.ReaderAt, size int64) bool {
	head := make([]byte, min(max(size, 0), SniffLen))
	if n, err := r.ReadAt(head, 0); n < len(head) && err != nil {
		return false
	}
	switch Sniff(head) {
	case JPEG:
		return jpegEnds(r, size)
	case PNG:
		return bytes.Contains(last(r, size, tail), []byte("IEND\xaeB`\x82"))
	case WebP:
		return int64(binary.LittleEndian.Uint32(head[4:]))+8 <= size
	case TIFF:
		return true
	case HEIC, AVIF:
		return boxesEnd(r, size)
	}
	return false
}

func last(r io.ReaderAt, size, n int64) []byte {
	buf := make([]byte, min(n, size))
	got, err := r.ReadAt(buf, size-int64(len(buf)))
	if err != nil && err != io.EOF {
		return nil
	}
	return buf[:got]
}

// jpegEnds finds the end mark FF D9. Phones put a film, a depth map or a
// trailer of their own behind the picture; then the mark lies before it, so the
// trailer's own signs count.
func jpegEnds(r io.ReaderAt, size int64) bool {
	end := last(r, size, tail)
	trimmed := bytes.TrimRight(end, "\x00\n\r")
	if bytes.HasSuffix(trimmed, []byte{0xFF, 0xD9}) {
		return true
	}
	return bytes.HasSuffix(trimmed, []byte("SEFT")) || bytes.Contains(end, []byte("moov")) || bytes.Contains(end, []byte("mdat"))
}

// boxesEnd walks the boxes at the top level of an ISO file; they must end just
// where the file ends.
func boxesEnd(r io.ReaderAt, size int64) bool {
	var h [16]byte
	off := int64(0)
	for range 4096 {
		n, _ := r.ReadAt(h[:], off)
		if n < 8 {
			return false
		}
		length := int64(binary.BigEndian.Uint32(h[:]))
		switch {
		case length == 0: // to the end of the file, wherever that is
			return true
		case length == 1 && n == 16:
			length = int64(min(binary.BigEndian.Uint64(h[8:]), 1<<62))
		}
		if length < 8 || length > size-off {
			return false
		}
		if off += length; off == size {
			return true
		}
	}
	return false
}
