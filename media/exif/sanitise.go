package exif

import (
	"bytes"
	"encoding/binary"
	"slices"
	"sort"
)

// The tags that are copied (Exif 2.32, tables 4-8 and 15); all else, and
// above all the makers' own notes, stays behind.
var (
	wantedMain = tagSet(0x010F, 0x0110, 0x0112, 0x0132, tagDNGSerial)
	wantedExif = tagSet(0x010F, 0x0110, 0x0132, 0x9003, 0x9004, tagOffset, tagOffsetOriginal, tagOffsetDigitized,
		0x9291, 0x9292, 0xA405, tagBodySerial)
	wantedGPS = tagSet(1, 2, 3, 4, 7, 0x1D)
)

const (
	tagExifPointer     = 0x8769
	tagGPSPointer      = 0x8825
	tagThumbOffset     = 0x0201
	tagThumbLength     = 0x0202
	tagOffset          = 0x9010
	tagOffsetOriginal  = 0x9011
	tagOffsetDigitized = 0x9012
	tagBodySerial      = 0xA431
	tagDNGSerial       = 0xC62F

	maxTags      = 1024
	maxCount     = 65536
	maxValue     = 64 << 10
	maxThumbnail = 1 << 20
)

// typeSize is the size in bytes of one value of TIFF type 1-12; index 0 is no type.
var typeSize = [13]int64{0, 1, 1, 2, 4, 8, 1, 1, 2, 4, 8, 4, 8}

func tagSet(ids ...uint16) map[uint16]bool {
	s := map[uint16]bool{}
	for _, id := range ids {
		s[id] = true
	}
	return s
}

// tag is one checked tag with its values in the block's byte order.
type tag struct {
	id, kind uint16
	count    uint32
	value    []byte
}

type cleanBlock struct {
	tiff      []byte
	thumbnail []byte
}

// copyWanted reads the block's main, Exif and GPS directories and its
// thumbnail, without following any other pointer, and writes the wanted tags
// into a new TIFF. ok is false when it found none.
func copyWanted(b block) (out cleanBlock, ok bool) {
	head := readBlock(b.r, 0, 8, b.size)
	if len(head) < 8 {
		return out, false
	}
	d := dirReader{block: b, order: binary.BigEndian}
	if head[0] == 'I' {
		d.order = binary.LittleEndian
	}
	first, next := d.read(int64(d.order.Uint32(head[4:])), wantedMain, tagExifPointer, tagGPSPointer)
	var main, exif, gps []tag
	for _, t := range first {
		switch t.id {
		case tagExifPointer:
			exif, _ = d.read(d.number(t), wantedExif)
		case tagGPSPointer:
			gps, _ = d.read(d.number(t), wantedGPS)
		default:
			main = append(main, t)
		}
	}
	exif = unless(exif, main) // some phones put make and model there
	out.thumbnail = d.thumbnail(next)
	if len(main)+len(exif)+len(gps) == 0 {
		return out, false
	}
	out.tiff = writeTIFF(d.order, head[:4], main, exif, gps)
	return out, true
}

type dirReader struct {
	block
	order binary.ByteOrder
}

// read gives the wanted tags of the directory at off, each id once, with known
// type, sound count and values inside the block; the others are passed over.
// next is where the following directory should be, 0 for none.
func (d dirReader) read(off int64, wanted map[uint16]bool, also ...uint16) (tags []tag, next int64) {
	n := readBlock(d.r, off, 2, d.size)
	if len(n) < 2 || off < 8 {
		return nil, 0
	}
	count := int64(d.order.Uint16(n))
	entries := readBlock(d.r, off+2, min(count, maxTags)*12, d.size)
	seen := map[uint16]bool{}
	for ; len(entries) >= 12; entries = entries[12:] {
		id := d.order.Uint16(entries)
		if seen[id] || !wanted[id] && !slices.Contains(also, id) {
			continue
		}
		if t, ok := d.tag(entries[:12]); ok {
			seen[id] = true
			tags = append(tags, t)
		}
	}
	if n := readBlock(d.r, off+2+count*12, 4, d.size); len(n) == 4 {
		next = int64(d.order.Uint32(n))
	}
	return tags, next
}

// unless gives the tags whose ids are not in the other list.
func unless(tags, other []tag) []tag {
	return slices.DeleteFunc(tags, func(t tag) bool {
		return slices.ContainsFunc(other, func(o tag) bool { return o.id == t.id })
	})
}

func (d dirReader) tag(e []byte) (tag, bool) {
	t := tag{id: d.order.Uint16(e), kind: d.order.Uint16(e[2:]), count: d.order.Uint32(e[4:])}
	if t.kind == 0 || int(t.kind) >= len(typeSize) || t.count == 0 || t.count > maxCount {
		return t, false
	}
	size := int64(t.count) * typeSize[t.kind]
	switch {
	case size <= 4:
		t.value = bytes.Clone(e[8 : 8+size])
	case size > maxValue:
		return t, false
	default:
		t.value = readBlock(d.r, int64(d.order.Uint32(e[8:])), size, d.size)
	}
	if t.kind == 2 && len(bytes.Trim(t.value, "\x00 ")) == 0 {
		return t, false // an empty text must not hide the same tag elsewhere
	}
	return t, int64(len(t.value)) == size
}

// number is the value of a tag of one SHORT or LONG; 0 for any other.
func (d dirReader) number(t tag) int64 {
	switch {
	case t.count == 1 && (t.kind == 4):
		return int64(d.order.Uint32(t.value))
	case t.count == 1 && t.kind == 3:
		return int64(d.order.Uint16(t.value))
	}
	return 0
}

// thumbnail reads the small JPEG that the directory at off (IFD1) points to.
func (d dirReader) thumbnail(off int64) []byte {
	if off == 0 {
		return nil
	}
	tags, _ := d.read(off, tagSet(tagThumbOffset, tagThumbLength))
	var at, length int64
	for _, t := range tags {
		if t.id == tagThumbOffset {
			at = d.number(t)
		} else {
			length = d.number(t)
		}
	}
	if at < 8 || length < 4 || length > maxThumbnail || at+length > d.size {
		return nil
	}
	data := readBlock(d.r, at, length, d.size)
	if !bytes.HasPrefix(data, []byte{0xFF, 0xD8, 0xFF}) {
		return nil
	}
	return data
}

// writeTIFF lays the three directories out one behind the other, then their
// values. magic is the byte-order mark with the 42.
func writeTIFF(order binary.ByteOrder, magic []byte, main, exif, gps []tag) []byte {
	w := tiffWriter{order: order, out: append(bytes.Clone(magic), 0, 0, 0, 8)}
	order.PutUint32(w.out[4:], 8)
	dirSize := func(n int) int { return 2 + 12*n + 4 }
	extra := 0
	if len(exif) > 0 {
		extra++
	}
	if len(gps) > 0 {
		extra++
	}
	at := 8 + dirSize(len(main)+extra)
	if len(exif) > 0 {
		main = append(main, w.pointer(tagExifPointer, at))
		at += dirSize(len(exif))
	}
	if len(gps) > 0 {
		main = append(main, w.pointer(tagGPSPointer, at))
		at += dirSize(len(gps))
	}
	w.valuesAt = at
	w.directory(main)
	if len(exif) > 0 {
		w.directory(exif)
	}
	if len(gps) > 0 {
		w.directory(gps)
	}
	return append(w.out, w.values...)
}

type tiffWriter struct {
	order       binary.ByteOrder
	out, values []byte
	valuesAt    int
}

func (w *tiffWriter) pointer(id uint16, at int) tag {
	value := make([]byte, 4)
	w.order.PutUint32(value, uint32(at))
	return tag{id: id, kind: 4, count: 1, value: value}
}

func (w *tiffWriter) directory(tags []tag) {
	sort.Slice(tags, func(i, j int) bool { return tags[i].id < tags[j].id })
	w.u16(uint16(len(tags)))
	for _, t := range tags {
		w.u16(t.id)
		w.u16(t.kind)
		w.u32(t.count)
		if len(t.value) <= 4 {
			var inline [4]byte
			copy(inline[:], t.value)
			w.out = append(w.out, inline[:]...)
			continue
		}
		w.u32(uint32(w.valuesAt + len(w.values)))
		w.values = append(w.values, t.value...)
		if len(w.values)%2 == 1 {
			w.values = append(w.values, 0)
		}
	}
	w.u32(0) // no further directory
}

func (w *tiffWriter) u16(v uint16) {
	w.out = append(w.out, 0, 0)
	w.order.PutUint16(w.out[len(w.out)-2:], v)
}

func (w *tiffWriter) u32(v uint32) {
	w.out = append(w.out, 0, 0, 0, 0)
	w.order.PutUint32(w.out[len(w.out)-4:], v)
}
