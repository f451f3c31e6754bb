package decode

import "image"

// Upright turns and mirrors a picture as EXIF's orientation says; the result
// begins at 0,0. Orientation gives where the stored first row and first column
// are seen (Exif 2.32, 4.6.4, table of Orientation):
//
//	1 top, left       nothing to do
//	2 top, right      mirror left-right
//	3 bottom, right   turn by 180 degrees
//	4 bottom, left    mirror top-bottom
//	5 left, top       mirror at the diagonal from the top left
//	6 right, top      turn by 90 degrees clockwise
//	7 right, bottom   mirror at the other diagonal
//	8 left, bottom    turn by 90 degrees anticlockwise
//
// Anything else counts as 1.
func Upright(src *image.RGBA, orientation int) *image.RGBA {
	b := src.Bounds()
	w, h := b.Dx(), b.Dy()
	if orientation < 2 || orientation > 8 {
		if b.Min == (image.Point{}) {
			return src
		}
		orientation = 1
	}
	dw, dh := w, h
	if orientation >= 5 {
		dw, dh = h, w
	}
	dst := image.NewRGBA(image.Rect(0, 0, dw, dh))
	for y := range dh {
		for x := range dw {
			sx, sy := Stored(x, y, w, h, orientation)
			copy(dst.Pix[dst.PixOffset(x, y):][:4], src.Pix[src.PixOffset(b.Min.X+sx, b.Min.Y+sy):][:4])
		}
	}
	return dst
}

// Stored gives the stored pixel that is seen at x, y of the upright picture;
// w and h are the stored width and height.
func Stored(x, y, w, h, orientation int) (sx, sy int) {
	switch orientation {
	case 2:
		return w - 1 - x, y
	case 3:
		return w - 1 - x, h - 1 - y
	case 4:
		return x, h - 1 - y
	case 5:
		return y, x
	case 6:
		return y, h - 1 - x
	case 7:
		return w - 1 - y, h - 1 - x
	case 8:
		return w - 1 - y, x
	}
	return x, y
}
