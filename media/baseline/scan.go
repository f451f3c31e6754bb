package baseline

import "encoding/binary"

// bits reads the scan. acc holds the next n bits to the left; what lies behind
// them is either zero or the bits that come next anyway.
type bits struct {
	data   []byte
	pos    int
	acc    uint64
	n      int
	beyond int // zero bits that were added behind the data's end or a marker
}

// fill brings n to 56 or more.
func (b *bits) fill() {
	if b.pos+8 <= len(b.data) {
		v := binary.BigEndian.Uint64(b.data[b.pos:])
		// no byte FF: a whole word without stuffing or marker
		if x := ^v; (x-0x0101010101010101)&^x&0x8080808080808080 == 0 {
			b.acc |= v >> b.n
			k := (63 - b.n) >> 3
			b.pos += k
			b.n += 8 * k
			return
		}
	}
	for b.n <= 56 {
		var v byte
		switch {
		case b.pos >= len(b.data):
			b.beyond += 8
		case b.data[b.pos] != 0xFF:
			v = b.data[b.pos]
			b.pos++
		case b.pos+1 < len(b.data) && b.data[b.pos+1] == 0:
			v = 0xFF
			b.pos += 2
		default:
			b.beyond += 8
		}
		b.acc |= uint64(v) << (56 - b.n)
		b.n += 8
	}
}

// overrun tells whether bits were used that are not there.
func (b *bits) overrun() bool { return b.beyond > b.n }

// restart goes over the restart marker with the given number.
func (b *bits) restart(number int) bool {
	if b.overrun() || b.pos+1 >= len(b.data) || b.data[b.pos] != 0xFF || int(b.data[b.pos+1]) != 0xD0+number {
		return false
	}
	b.pos += 2
	b.acc, b.n, b.beyond = 0, 0, 0
	return true
}

// natural is the place of the coefficients in a block, in the order in which
// they are coded (T.81, figure A.6); 16 more for runs that lead outside.
var natural = [80]uint8{
	0, 1, 8, 16, 9, 2, 3, 10, 17, 24, 32, 25, 18, 11, 4, 5,
	12, 19, 26, 33, 40, 48, 41, 34, 27, 20, 13, 6, 7, 14, 21, 28,
	35, 42, 49, 56, 57, 50, 43, 36, 29, 22, 15, 23, 30, 37, 44, 51,
	58, 59, 52, 45, 38, 31, 39, 46, 53, 60, 61, 54, 47, 55, 62, 63,
	63, 63, 63, 63, 63, 63, 63, 63, 63, 63, 63, 63, 63, 63, 63, 63,
}

// block reads the coefficients of one block, multiplied by the quantisation q
// (in coded order), into a block of zeros. columns tells by its bits which
// columns have more than their top coefficient; last is the place, in coded
// order, of the last one that is not zero.
func (b *bits) block(dc, ac *huffman, q *[64]int32, before *int32, out *[64]int32) (columns uint32, last int, ok bool) {
	if b.n < 32 {
		b.fill()
	}
	size, length := 0, 0
	if c := dc.code[b.acc>>(64-fastBits)]; c != 0 {
		size, length = int(c>>8), int(c&0xff)
	} else {
		size, length = dc.long(uint32(b.acc >> 48))
	}
	if length > 16 || size > 11 {
		return 0, 0, false
	}
	b.acc <<= length
	b.n -= length
	if size > 0 {
		*before += extend(int32(b.acc>>(64-size)), size)
		b.acc <<= size
		b.n -= size
	}
	if *before < -1<<15 || *before >= 1<<15 {
		return 0, 0, false
	}
	out[0] = *before * q[0]
	acc, n := b.acc, b.n
	for k := 1; k < 64; k++ {
		if n < 32 {
			b.acc, b.n = acc, n
			b.fill()
			acc, n = b.acc, b.n
		}
		next := acc >> (64 - fastBits)
		if w := ac.whole[next]; w != 0 {
			used := int(w & 0xff)
			acc <<= used
			n -= used
			k += int(w >> 8 & 0xff)
			at := natural[k]
			columns |= uint32(at>>3+7) >> 3 << (at & 7)
			out[at&63] = (w >> 16) * q[k&63]
			last = k
			continue
		}
		symbol, length := 0, 0
		if c := ac.code[next]; c != 0 {
			symbol, length = int(c>>8), int(c&0xff)
		} else if symbol, length = ac.long(uint32(acc >> 48)); length > 16 {
			return 0, 0, false
		}
		acc <<= length
		n -= length
		run, size := symbol>>4, symbol&15
		if size == 0 {
			if run == 0 {
				break // end of block
			}
			if run != 15 { // has no meaning here
				return 0, 0, false
			}
			k += 15
			continue
		}
		k += run
		at := natural[k]
		v := extend(int32(acc>>(64-size)), size)
		acc <<= size
		n -= size
		columns |= uint32(at>>3+7) >> 3 << (at & 7)
		out[at&63] = v * q[k&63]
		last = k
	}
	b.acc, b.n = acc, n
	return columns, last, last < 64
}
