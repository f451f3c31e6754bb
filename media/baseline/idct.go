package baseline

// The inverse transform of Loeffler, Ligtenberg and Moschytz (1989, "Practical
// fast 1-D DCT algorithms with 11 multiplications", from memory) in whole
// numbers with 13 bits behind the point; columns first, keeping 2 bits more,
// then rows.
const (
	f0298 = 2446  // 0.298631336
	f0390 = 3196  // 0.390180644
	f0541 = 4433  // 0.541196100
	f0765 = 6270  // 0.765366865
	f0899 = 7373  // 0.899976223
	f1175 = 9633  // 1.175875602
	f1501 = 12299 // 1.501321110
	f1847 = 15137 // 1.847759065
	f1961 = 16069 // 1.961570560
	f2053 = 16819 // 2.053119869
	f2562 = 20995 // 2.562915447
	f3072 = 25172 // 3.072711026
)

// transform makes pixels of a block's coefficients and clears it. dst begins at
// the block's first pixel. columns is that of bits.block.
func transform(c *[64]int32, columns uint32, last int, dst []byte, stride int) {
	if last == 0 {
		flat(c, dst, stride)
		return
	}
	for x := range 8 {
		if columns>>x&1 == 0 {
			v := c[x] << 2
			c[x], c[8+x], c[16+x], c[24+x], c[32+x], c[40+x], c[48+x], c[56+x] = v, v, v, v, v, v, v, v
			continue
		}
		e0, e1, e2, e3, o0, o1, o2, o3 := waves(c[x], c[8+x], c[16+x], c[24+x], c[32+x], c[40+x], c[48+x], c[56+x])
		const half, down = 1 << 10, 11
		c[x], c[56+x] = (e0+o3+half)>>down, (e0-o3+half)>>down
		c[8+x], c[48+x] = (e1+o2+half)>>down, (e1-o2+half)>>down
		c[16+x], c[40+x] = (e2+o1+half)>>down, (e2-o1+half)>>down
		c[24+x], c[32+x] = (e3+o0+half)>>down, (e3-o0+half)>>down
	}
	for y := range 8 {
		r := c[8*y : 8*y+8 : 8*y+8]
		e0, e1, e2, e3, o0, o1, o2, o3 := waves(r[0], r[1], r[2], r[3], r[4], r[5], r[6], r[7])
		const half, down = 1<<17 + 128<<18, 18
		d := dst[y*stride:][:8:8]
		d[0], d[7] = pixel((e0+o3+half)>>down), pixel((e0-o3+half)>>down)
		d[1], d[6] = pixel((e1+o2+half)>>down), pixel((e1-o2+half)>>down)
		d[2], d[5] = pixel((e2+o1+half)>>down), pixel((e2-o1+half)>>down)
		d[3], d[4] = pixel((e3+o0+half)>>down), pixel((e3-o0+half)>>down)
	}
	*c = [64]int32{}
}

// waves is the transform in one direction: the even and the odd halves, 13 bits
// behind the point, still to be added and subtracted.
func waves(s0, s1, s2, s3, s4, s5, s6, s7 int32) (e0, e1, e2, e3, o0, o1, o2, o3 int32) {
	z := (s2 + s6) * f0541
	t2, t3 := z-s6*f1847, z+s2*f0765
	t0, t1 := (s0+s4)<<13, (s0-s4)<<13
	e0, e3, e1, e2 = t0+t3, t0-t3, t1+t2, t1-t2

	z1, z2, z3, z4 := s7+s1, s5+s3, s7+s3, s5+s1
	z5 := (z3 + z4) * f1175
	z1, z2 = -z1*f0899, -z2*f2562
	z3, z4 = z5-z3*f1961, z5-z4*f0390
	o0 = s7*f0298 + z1 + z3
	o1 = s5*f2053 + z2 + z4
	o2 = s3*f3072 + z2 + z3
	o3 = s1*f1501 + z1 + z4
	return
}

// flat is transform for a block of one grey.
func flat(c *[64]int32, dst []byte, stride int) {
	v := uint64(pixel((c[0]+4)>>3+128)) * 0x0101010101010101
	c[0] = 0
	for y := range 8 {
		d := dst[y*stride:][:8:8]
		d[0], d[1], d[2], d[3], d[4], d[5], d[6], d[7] = byte(v), byte(v), byte(v), byte(v), byte(v), byte(v), byte(v), byte(v)
	}
}

// pixel keeps a value within a byte.
func pixel(v int32) byte {
	if uint32(v) > 255 {
		return byte(^(v >> 31)) // below 0: 0, above 255: 255
	}
	return byte(v)
}
