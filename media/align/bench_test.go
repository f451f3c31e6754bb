package align

import (
	"context"
	"image"
	"testing"
)

// Photos of 1600 x 1200 pixels, four marks with an error of 3 pixels.
func benchPair(b *testing.B) (then, now *image.Gray, start Transform) {
	const k = 1600. / sceneW
	truth := changes[3].truth
	then = rich.photo(Transform{0: 1, 4: 1, 8: 1}, k, 0, 0, 4, 1)
	now = later(rich).photo(truth, k, 0.5, -10, 4, 2)
	start, _, err := Landmarks(clicks(truth, fourPlaces, 3/k, 3))
	if err != nil {
		b.Fatal(err)
	}
	return then, now, Rescaled(start, k, k)
}

func BenchmarkRefine(b *testing.B) {
	then, now, start := benchPair(b)
	for b.Loop() {
		if _, r, err := Refine(context.Background(), then, now, start); err != nil || !r.Accepted {
			b.Fatal(r, err)
		}
	}
}

func BenchmarkFind(b *testing.B) {
	then, now, _ := benchPair(b)
	for b.Loop() {
		if _, r, err := Find(context.Background(), then, now); err != nil || !r.Accepted {
			b.Fatal(r, err)
		}
	}
}

func BenchmarkWarp(b *testing.B) {
	_, now, start := benchPair(b)
	src := asRGBA(now)
	for b.Loop() {
		Warp(image.Pt(1600, 1200), src, start)
	}
}
