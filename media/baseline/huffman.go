package baseline

const fastBits = 10

// huffman is a table of codes (T.81, annex C and F.2.2.3).
type huffman struct {
	set bool
	// code is indexed by the next fastBits bits: symbol<<8 | length, or 0 for a
	// longer code.
	code [1 << fastBits]uint16
	// whole is indexed alike, where code and the value behind it fit: value<<16 |
	// run<<8 | bits of both; 0 where they don't, or the symbol is no value.
	whole   [1 << fastBits]int32
	symbols [256]byte
	// of the longer codes, by length: the first code after those of that length,
	// set to the left in 16 bits, and what leads from a code to its symbol
	end   [18]uint32
	first [17]int32
}

// build makes the table of the 16 counts of codes by length and their symbols;
// ok is false when there are more codes than their lengths allow.
func (h *huffman) build(counts, symbols []byte) (ok bool) {
	*h = huffman{set: true}
	copy(h.symbols[:], symbols)
	code, k := uint32(0), 0
	for length := 1; length <= 16; length++ {
		h.first[length] = int32(k) - int32(code)
		for range counts[length-1] {
			if code >= 1<<length {
				return false
			}
			if length <= fastBits {
				at := code << (fastBits - length)
				for i := range uint32(1) << (fastBits - length) {
					h.code[at+i] = uint16(h.symbols[k])<<8 | uint16(length)
				}
			}
			code++
			k++
		}
		h.end[length] = code << (16 - length)
		code <<= 1
	}
	h.end[17] = 1 << 16
	for i := range h.code {
		h.whole[i] = wholeEntry(uint32(i), h.code[i])
	}
	return true
}

func wholeEntry(bits uint32, code uint16) int32 {
	length, symbol := int(code&0xff), int(code>>8)
	run, size := symbol>>4, symbol&15
	if length == 0 || size == 0 || length+size > fastBits {
		return 0
	}
	raw := int32(bits >> (fastBits - length - size) & (1<<size - 1))
	return extend(raw, size)<<16 | int32(run<<8) | int32(length+size)
}

// extend makes the value of size bits (T.81, F.2.2.1): those that begin with 0
// are negative.
func extend(raw int32, size int) int32 {
	if size > 0 && raw < 1<<(size-1) {
		return raw - 1<<size + 1
	}
	return raw
}

// long finds a code longer than fastBits in the next 16 bits; length is 17 for
// none.
func (h *huffman) long(next uint32) (symbol, length int) {
	length = fastBits + 1
	for next >= h.end[length] {
		length++
	}
	if length > 16 {
		return 0, 17
	}
	return int(h.symbols[(int32(next>>(16-length))+h.first[length])&0xff]), length
}
