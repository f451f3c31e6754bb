package shrink

import "encoding/binary"

// Mean shrinks a plane of w x h values to dw x dh, or repeats values where dw or
// dh is larger. Each result is the rounded mean of the values from
// floor(x*w/dw) up to, not including, floor((x+1)*w/dw), at least one; the same
// down the rows. A box may hold up to 120 million values: sums have 64 bits.
func Mean(src []byte, stride, w, h, dw, dh int) []byte {
	out := make([]byte, max(0, dw)*max(0, dh))
	if len(out) == 0 || w <= 0 || h <= 0 {
		return out
	}
	left := make([]int, dw+1)
	for x := range left {
		left[x] = x * w / dw
	}
	c := newColumns(w)
	for y := range dh {
		top := y * h / dh
		bottom := max(top+1, (y+1)*h/dh)
		c.clear()
		for sy := top; sy < bottom; sy++ {
			c.add(src[sy*stride:][:w])
		}
		divide(out[y*dw:][:dw], c.running(), left, bottom-top)
	}
	return out
}

// divide makes the means of one row from the running sums of its columns. Boxes
// of fewer than 4,096 values, which is all of them in practice, are divided by
// multiplying with 2^32/n rounded up: exact, since the error of n parts in 2^32
// on a sum of at most 256 n stays below one part in n.
func divide(row []byte, running []uint64, left []int, rows int) {
	wide, n, inverse := 0, uint64(0), uint64(0)
	left = left[:len(row)+1]
	for x := range row {
		a := left[x]
		b := max(a+1, left[x+1])
		if b-a != wide {
			wide, n = b-a, uint64((b-a)*rows)
			inverse = (1<<32 + n - 1) / n
		}
		s := running[b] - running[a] + n/2
		if n < 4096 {
			row[x] = byte(s * inverse >> 32)
		} else {
			row[x] = byte(s / n)
		}
	}
}

// columns adds up rows. Eight values are added by two additions: the even and
// the odd bytes of a word lie apart in lanes of 16 bits, which hold 257 rows.
type columns struct {
	w         int
	even, odd []uint64
	lanes     int // rows in the lanes
	total     []uint32
	flushed   bool // total holds something
	run       []uint64
}

func newColumns(w int) *columns {
	n := (w + 7) / 8
	return &columns{w: w, even: make([]uint64, n), odd: make([]uint64, n), total: make([]uint32, 8*n), run: make([]uint64, w+1)}
}

func (c *columns) clear() {
	clear(c.even)
	clear(c.odd)
	c.lanes, c.flushed = 0, false
}

func (c *columns) add(row []byte) {
	if c.lanes == 257 {
		c.flush()
	}
	c.lanes++
	const mask = 0x00ff00ff00ff00ff
	n := len(row) / 8
	even, odd := c.even[:n], c.odd[:n]
	for i := range even {
		v := binary.LittleEndian.Uint64(row[8*i:])
		even[i] += v & mask
		odd[i] += v >> 8 & mask
	}
	if rest := row[8*n:]; len(rest) > 0 {
		var last [8]byte
		copy(last[:], rest)
		v := binary.LittleEndian.Uint64(last[:])
		c.even[n] += v & mask
		c.odd[n] += v >> 8 & mask
	}
}

// flush moves the lanes' sums to total.
func (c *columns) flush() {
	for i, e := range c.even {
		o := c.odd[i]
		t := c.total[8*i:][:8]
		if !c.flushed {
			clear(t)
		}
		t[0] += uint32(e & 0xffff)
		t[1] += uint32(o & 0xffff)
		t[2] += uint32(e >> 16 & 0xffff)
		t[3] += uint32(o >> 16 & 0xffff)
		t[4] += uint32(e >> 32 & 0xffff)
		t[5] += uint32(o >> 32 & 0xffff)
		t[6] += uint32(e >> 48)
		t[7] += uint32(o >> 48)
	}
	clear(c.even)
	clear(c.odd)
	c.lanes, c.flushed = 0, true
}

// running gives the sums of the first 0, 1, 2 ... w columns; a column of 16
// million rows fits.
func (c *columns) running() []uint64 {
	c.flush()
	s := uint64(0)
	for x, v := range c.total[:c.w] {
		s += uint64(v)
		c.run[x+1] = s
	}
	return c.run
}
