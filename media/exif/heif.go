package exif

import (
	"encoding/binary"
	"io"
)

// heifFound is what the walk through a HEIC or AVIF file gives.
type heifFound struct {
	blocks        []block
	width, height int // of the largest ispe property: the whole picture, not a tile
}

// heifWalk reads the boxes of ISO/IEC 14496-12 and 23008-12: meta/iinf names
// the items, the one of kind Exif is found through meta/iloc, and
// meta/iprp/ipco/ispe holds picture sizes.
func heifWalk(r io.ReaderAt, size int64) heifFound {
	var out heifFound
	budget := maxChunks
	topBoxes(r, size, &budget, func(kind string, off, length int64) {
		if kind != "meta" || length > maxBlock || len(out.blocks) > 0 {
			return
		}
		meta := readBlock(r, off, length, size)
		if len(meta) < 4 {
			return
		}
		m := metaBox{file: r, size: size, budget: &budget}
		m.read(meta[4:]) // after version and flags
		out.width, out.height = max(out.width, m.width), max(out.height, m.height)
		out.blocks = append(out.blocks, m.blocks()...)
	})
	return out
}

// topBoxes calls fn with the content of each box at the file's top level.
func topBoxes(r io.ReaderAt, size int64, budget *int, fn func(kind string, off, length int64)) {
	h := make([]byte, 16)
	for off := int64(0); off+8 <= size && *budget > 0; *budget-- {
		n, _ := r.ReadAt(h, off)
		if n < 8 {
			return
		}
		head, length := int64(8), int64(binary.BigEndian.Uint32(h))
		switch {
		case length == 0:
			length = size - off
		case length == 1 && n == 16:
			head, length = 16, int64(min(binary.BigEndian.Uint64(h[8:]), 1<<62))
		}
		if length < head {
			return
		}
		length = min(length, size-off)
		fn(string(h[4:8]), off+head, length-head)
		off += length
	}
}

// boxes calls fn with the content of each box in data.
func boxes(data []byte, budget *int, fn func(kind string, body []byte)) {
	for ; len(data) >= 8 && *budget > 0; *budget-- {
		n := int(binary.BigEndian.Uint32(data))
		if n == 0 {
			n = len(data)
		}
		if n < 8 || n > len(data) {
			return
		}
		fn(string(data[4:8]), data[8:n])
		data = data[n:]
	}
}

type metaBox struct {
	file          io.ReaderAt
	size          int64
	budget        *int
	exifIDs       map[uint32]bool
	iloc, idat    []byte
	width, height int
}

func (m *metaBox) read(data []byte) {
	m.exifIDs = map[uint32]bool{}
	boxes(data, m.budget, func(kind string, body []byte) {
		switch kind {
		case "iinf":
			m.readItemNames(body)
		case "iloc":
			m.iloc = body
		case "idat":
			m.idat = body
		case "iprp":
			boxes(body, m.budget, func(kind string, body []byte) {
				if kind == "ipco" {
					boxes(body, m.budget, m.readSize)
				}
			})
		}
	})
}

func (m *metaBox) readSize(kind string, body []byte) {
	if kind != "ispe" || len(body) < 12 {
		return
	}
	w, h := binary.BigEndian.Uint32(body[4:]), binary.BigEndian.Uint32(body[8:])
	if w > 1<<20 || h > 1<<20 {
		return
	}
	if int64(w)*int64(h) > int64(m.width)*int64(m.height) {
		m.width, m.height = int(w), int(h)
	}
}

// readItemNames notes the ids of the items of kind Exif (infe version 2: id of
// 16 bits; version 3: of 32 bits).
func (m *metaBox) readItemNames(body []byte) {
	c := cursor{data: body}
	if version := c.uint(4) >> 24; version == 0 {
		c.uint(2)
	} else {
		c.uint(4)
	}
	boxes(c.data, m.budget, func(kind string, body []byte) {
		c := cursor{data: body}
		version := c.uint(4) >> 24
		if kind != "infe" || version < 2 {
			return
		}
		var id uint64
		if version == 2 {
			id = c.uint(2)
		} else {
			id = c.uint(4)
		}
		c.uint(2) // protection
		if c.uint(4) == 0x45786966 && !c.bad {
			m.exifIDs[uint32(id)] = true
		}
	})
}

// blocks reads iloc and gives the data of the Exif items.
func (m *metaBox) blocks() []block {
	var out []block
	c := cursor{data: m.iloc}
	version := c.uint(4) >> 24
	sizes := c.uint(2)
	offSize, lenSize, baseSize, indexSize := int(sizes>>12), int(sizes>>8&15), int(sizes>>4&15), int(sizes&15)
	wide := 2
	if version == 2 {
		wide = 4
	}
	if version == 0 {
		indexSize = 0
	}
	for n := c.uint(wide); n > 0 && !c.bad && *m.budget > 0 && len(out) < maxBlocks; n-- {
		*m.budget--
		id := uint32(c.uint(wide))
		method := uint64(0)
		if version > 0 {
			method = c.uint(2) & 15
		}
		c.uint(2) // data reference: this file
		base := c.uint(baseSize)
		var data []byte
		for e := c.uint(2); e > 0 && !c.bad && *m.budget > 0; e-- {
			*m.budget--
			c.uint(indexSize)
			off, length := c.uint(offSize), c.uint(lenSize)
			if m.exifIDs[id] && !c.bad && len(data) < maxBlock {
				data = append(data, m.extent(method, base+off, length)...)
			}
		}
		if b, ok := exifItem(data); ok {
			out = append(out, b)
		}
	}
	return out
}

// extent gives a stretch of the file (method 0) or of the idat box (method 1).
func (m *metaBox) extent(method, off, length uint64) []byte {
	if off > 1<<62 || length > maxBlock {
		return nil
	}
	switch method {
	case 0:
		return readBlock(m.file, int64(off), int64(length), m.size)
	case 1:
		if off+length <= uint64(len(m.idat)) {
			return m.idat[off : off+length]
		}
	}
	return nil
}

// exifItem cuts the head off an Exif item: 4 bytes tell how far behind them
// the TIFF begins (ISO/IEC 23008-12, A.2.1).
func exifItem(data []byte) (block, bool) {
	if len(data) < 4 {
		return block{}, false
	}
	skip := int64(binary.BigEndian.Uint32(data)) + 4
	if skip < int64(len(data)) {
		if b, ok := asBlock(data[skip:]); ok {
			return b, true
		}
	}
	return asBlock(data[4:])
}

// cursor reads big-endian numbers and notes when the data ends too early.
type cursor struct {
	data []byte
	bad  bool
}

// uint reads a number of 0-8 bytes; 0 and bad when they are not there.
func (c *cursor) uint(n int) uint64 {
	if n > 8 || n > len(c.data) {
		c.bad = true
		return 0
	}
	var v uint64
	for _, b := range c.data[:n] {
		v = v<<8 | uint64(b)
	}
	c.data = c.data[n:]
	return v
}
