package sample

import "image"

// Plainly makes tiny grey files in place of the pictures, with the same EXIF and
// with what is planted in the same places: for tests of the records.
func (f *Filler) Plainly() {
	f.draw = func(s shot) (taken, error) {
		return s.file(image.NewGray(image.Rect(0, 0, 8, 6)), s.stand().placed)
	}
}
