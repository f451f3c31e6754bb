package baseline

import (
	"context"
	"errors"
	"image"
)

// ErrOther: the file is not of the kind that is decoded here, or not sound.
var ErrOther = errors.New("not a plain baseline JPEG")

// maxPixels bounds the memory, however large a file says it is.
const maxPixels = 120_000_000

type plane struct {
	h, v   int // blocks in a unit, across and down
	quant  int
	dc, ac int
	stride int
	pix    []byte
	before int32 // DC value of the last block
}

type decoder struct {
	data     []byte
	pos      int
	w, h     int
	planes   []plane
	ids      []byte
	quant    [4][64]int32
	haveQ    [4]bool
	dc, ac   [4]huffman
	interval int // units between restarts, 0 for none
}

// Decode gives the planes of a JPEG, *image.YCbCr or *image.Gray, or ErrOther, or
// ctx's error.
func Decode(ctx context.Context, data []byte) (image.Image, error) {
	d := &decoder{data: data}
	if len(data) < 4 || data[0] != 0xFF || data[1] != 0xD8 {
		return nil, ErrOther
	}
	d.pos = 2
	for {
		marker, body, ok := d.segment()
		if !ok {
			return nil, ErrOther
		}
		switch {
		case marker == 0xDA:
			if !d.scanHead(body) {
				return nil, ErrOther
			}
			if err := d.scan(ctx); err != nil {
				return nil, err
			}
			return d.image(), nil
		case marker == 0xC0 || marker == 0xC1:
			ok = d.frame(body)
		case marker == 0xC4:
			ok = d.huffmanTables(body)
		case marker == 0xDB:
			ok = d.quantTables(body)
		case marker == 0xDD:
			ok = len(body) == 2
			if ok {
				d.interval = int(body[0])<<8 | int(body[1])
			}
		case marker == 0xEE: // Adobe: colours that are not Y, Cb, Cr
			ok = !(len(body) >= 12 && string(body[:5]) == "Adobe" && body[11] != 1)
		case marker >= 0xE0 && marker <= 0xEF, marker == 0xFE:
		default:
			ok = false
		}
		if !ok {
			return nil, ErrOther
		}
	}
}

// segment gives the next marker and what belongs to it.
func (d *decoder) segment() (marker byte, body []byte, ok bool) {
	for d.pos+1 < len(d.data) && d.data[d.pos] == 0xFF && d.data[d.pos+1] == 0xFF {
		d.pos++
	}
	if d.pos+4 > len(d.data) || d.data[d.pos] != 0xFF {
		return 0, nil, false
	}
	length := int(d.data[d.pos+2])<<8 | int(d.data[d.pos+3])
	if length < 2 || d.pos+2+length > len(d.data) {
		return 0, nil, false
	}
	marker, body = d.data[d.pos+1], d.data[d.pos+4:d.pos+2+length]
	d.pos += 2 + length
	return marker, body, true
}

func (d *decoder) quantTables(body []byte) bool {
	for len(body) > 0 {
		wide, id := int(body[0]>>4), int(body[0]&15)
		n := 64 * (wide + 1)
		if wide > 1 || id > 3 || len(body) < 1+n {
			return false
		}
		for i := range 64 {
			if wide == 0 {
				d.quant[id][i] = int32(body[1+i])
			} else {
				d.quant[id][i] = int32(body[1+2*i])<<8 | int32(body[2+2*i])
			}
			if d.quant[id][i] > 255 { // 12-bit pictures; here products stay within 32 bits
				return false
			}
		}
		d.haveQ[id] = true
		body = body[1+n:]
	}
	return true
}

func (d *decoder) huffmanTables(body []byte) bool {
	for len(body) > 0 {
		if len(body) < 17 {
			return false
		}
		class, id, n := body[0]>>4, body[0]&15, 0
		for _, c := range body[1:17] {
			n += int(c)
		}
		if class > 1 || id > 3 || n == 0 || n > 256 || len(body) < 17+n {
			return false
		}
		table := &d.dc[id]
		if class == 1 {
			table = &d.ac[id]
		}
		if !table.build(body[1:17], body[17:17+n]) {
			return false
		}
		body = body[17+n:]
	}
	return true
}

// frame reads the picture's size and planes (T.81, B.2.2).
func (d *decoder) frame(body []byte) bool {
	if d.planes != nil || len(body) < 6 || body[0] != 8 {
		return false
	}
	d.h, d.w = int(body[1])<<8|int(body[2]), int(body[3])<<8|int(body[4])
	n := int(body[5])
	if n != 1 && n != 3 || len(body) != 6+3*n || d.w == 0 || d.h == 0 || d.w*d.h > maxPixels {
		return false
	}
	for i := range n {
		c := body[6+3*i:]
		p := plane{h: int(c[1] >> 4), v: int(c[1] & 15), quant: int(c[2])}
		if p.quant > 3 {
			return false
		}
		d.planes, d.ids = append(d.planes, p), append(d.ids, c[0])
	}
	if n == 1 {
		d.planes[0].h, d.planes[0].v = 1, 1 // one plane has nothing to be smaller than
	} else if _, ok := d.ratio(); !ok || string(d.ids) == "RGB" {
		return false
	}
	across, down := d.units()
	for i := range d.planes {
		p := &d.planes[i]
		p.stride = across * p.h * 8
		p.pix = make([]byte, p.stride*down*p.v*8)
	}
	return true
}

// units gives how many units lie in a row, and how many rows there are.
func (d *decoder) units() (across, down int) {
	w, h := 8*d.planes[0].h, 8*d.planes[0].v
	return (d.w + w - 1) / w, (d.h + h - 1) / h
}

func (d *decoder) ratio() (image.YCbCrSubsampleRatio, bool) {
	for _, p := range d.planes[1:] {
		if p.h != 1 || p.v != 1 {
			return 0, false
		}
	}
	r, ok := map[[2]int]image.YCbCrSubsampleRatio{
		{1, 1}: image.YCbCrSubsampleRatio444, {1, 2}: image.YCbCrSubsampleRatio440, {2, 1}: image.YCbCrSubsampleRatio422,
		{2, 2}: image.YCbCrSubsampleRatio420, {4, 1}: image.YCbCrSubsampleRatio411, {4, 2}: image.YCbCrSubsampleRatio410,
	}[[2]int{d.planes[0].h, d.planes[0].v}]
	return r, ok
}

// scanHead reads which tables the planes use; all planes must be in one scan.
func (d *decoder) scanHead(body []byte) bool {
	n := len(d.planes)
	if n == 0 || len(body) != 4+2*n || int(body[0]) != n || body[1+2*n] != 0 || body[2+2*n] != 63 || body[3+2*n] != 0 {
		return false
	}
	for i := range d.planes {
		p := &d.planes[i]
		p.dc, p.ac = int(body[2+2*i]>>4), int(body[2+2*i]&15)
		if body[1+2*i] != d.ids[i] || p.dc > 3 || p.ac > 3 || !d.dc[p.dc].set || !d.ac[p.ac].set || !d.haveQ[p.quant] {
			return false
		}
	}
	return true
}

func (d *decoder) scan(ctx context.Context) error {
	b := bits{data: d.data, pos: d.pos}
	across, down := d.units()
	done, restarts := 0, 0
	var c [64]int32
	for my := range down {
		if err := ctx.Err(); err != nil {
			return err
		}
		for mx := range across {
			if d.interval > 0 && done == d.interval {
				if !b.restart(restarts % 8) {
					return ErrOther
				}
				done = 0
				restarts++
				for i := range d.planes {
					d.planes[i].before = 0
				}
			}
			if !d.unit(&b, &c, mx, my) {
				return ErrOther
			}
			done++
		}
		if b.overrun() {
			return ErrOther
		}
	}
	// the end mark must follow at once: else there is more to it
	if b.pos+1 >= len(d.data) || d.data[b.pos] != 0xFF || d.data[b.pos+1] != 0xD9 {
		return ErrOther
	}
	return nil
}

func (d *decoder) unit(b *bits, c *[64]int32, mx, my int) bool {
	for i := range d.planes {
		p := &d.planes[i]
		dc, ac, q := &d.dc[p.dc], &d.ac[p.ac], &d.quant[p.quant]
		for v := range p.v {
			for h := range p.h {
				columns, last, ok := b.block(dc, ac, q, &p.before, c)
				if !ok {
					return false
				}
				transform(c, columns, last, p.pix[8*((my*p.v+v)*p.stride+mx*p.h+h):], p.stride)
			}
		}
	}
	return true
}

func (d *decoder) image() image.Image {
	r := image.Rect(0, 0, d.w, d.h)
	y := d.planes[0]
	if len(d.planes) == 1 {
		return &image.Gray{Pix: y.pix, Stride: y.stride, Rect: r}
	}
	ratio, _ := d.ratio() // checked in frame
	return &image.YCbCr{Y: y.pix, Cb: d.planes[1].pix, Cr: d.planes[2].pix, YStride: y.stride, CStride: d.planes[1].stride,
		SubsampleRatio: ratio, Rect: r}
}
