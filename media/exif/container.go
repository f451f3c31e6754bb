package exif

import (
	"bytes"
	"encoding/binary"
	"io"
)

// The bounds of the walk. They are far above what cameras write and small
// enough to be harmless.
const (
	maxBlock    = 4 << 20 // bytes of one EXIF block
	maxSegments = 512     // JPEG segments before the picture
	maxChunks   = 4096    // PNG or WebP chunks, ISO boxes
	maxBlocks   = 4       // EXIF blocks tried in one file
)

// block is a stretch of bytes that should be a TIFF with EXIF tags.
type block struct {
	r    io.ReaderAt
	size int64
}

// readBlock reads n bytes at off, as far as the file goes; nil for none.
func readBlock(r io.ReaderAt, off, n, size int64) []byte {
	if off < 0 || n <= 0 || off >= size {
		return nil
	}
	buf := make([]byte, min(n, maxBlock, size-off))
	got, err := r.ReadAt(buf, off)
	if err != nil && err != io.EOF {
		return nil
	}
	return buf[:got]
}

// asBlock takes data for a block when it starts like a TIFF, with or without
// the JPEG prefix "Exif\0\0" that some programs put in other containers too.
func asBlock(data []byte) (block, bool) {
	data = bytes.TrimPrefix(data, []byte("Exif\x00\x00"))
	if len(data) < 8 {
		return block{}, false
	}
	if h := string(data[:4]); h != "II*\x00" && h != "MM\x00*" {
		return block{}, false
	}
	return block{bytes.NewReader(data), int64(len(data))}, true
}

// jpegBlocks walks the segments (ITU-T T.81, B.1) up to the start of the
// picture and takes every APP1 that begins with "Exif".
func jpegBlocks(r io.ReaderAt, size int64) []block {
	var out []block
	off := int64(2)
	var h [4]byte
	for range maxSegments {
		if n, _ := r.ReadAt(h[:], off); n < 4 || h[0] != 0xFF {
			return out
		}
		marker := h[1]
		switch {
		case marker == 0xFF: // fill byte
			off++
			continue
		case marker == 0xDA || marker == 0xD9: // picture or end
			return out
		case marker == 0x01 || marker >= 0xD0 && marker <= 0xD8: // no length
			off += 2
			continue
		}
		length := int64(binary.BigEndian.Uint16(h[2:]))
		if length < 2 {
			return out
		}
		if marker == 0xE1 && len(out) < maxBlocks {
			data := readBlock(r, off+4, length-2, size)
			if bytes.HasPrefix(data, []byte("Exif\x00")) {
				if b, ok := asBlock(data); ok {
					out = append(out, b)
				}
			}
		}
		off += 2 + length
	}
	return out
}

// pngBlocks takes the eXIf chunks (PNG third edition, 11.3.3.4).
func pngBlocks(r io.ReaderAt, size int64) []block {
	return chunkBlocks(r, size, 8, "eXIf", func(h []byte) (kind string, data, next int64) {
		n := int64(binary.BigEndian.Uint32(h))
		return string(h[4:8]), n, n + 4 // a checksum follows
	})
}

// webpBlocks takes the EXIF chunks of the RIFF container.
func webpBlocks(r io.ReaderAt, size int64) []block {
	return chunkBlocks(r, size, 12, "EXIF", func(h []byte) (kind string, data, next int64) {
		n := int64(binary.LittleEndian.Uint32(h[4:]))
		return string(h[:4]), n, n + n&1 // padded to even
	})
}

// chunkBlocks walks chunks with an 8-byte head from off on; parse gives a
// head's kind, the length of its data and the way from data to the next head.
func chunkBlocks(r io.ReaderAt, size, off int64, want string, parse func(h []byte) (string, int64, int64)) []block {
	var out []block
	h := make([]byte, 8)
	for range maxChunks {
		if n, _ := r.ReadAt(h, off); n < 8 {
			break
		}
		kind, length, next := parse(h)
		if kind == want && len(out) < maxBlocks && length <= maxBlock {
			if b, ok := asBlock(readBlock(r, off+8, length, size)); ok {
				out = append(out, b)
			}
		}
		off += 8 + next
	}
	return out
}
