package shrink

import (
	"bytes"
	"math"
	"testing"

	"pgregory.net/rapid"
)

// slow is the definition in Mean's comment, written out.
func slow(src []byte, stride, w, h, dw, dh int) []byte {
	var out []byte
	for y := range dh {
		for x := range dw {
			sum, n := 0, 0
			for sy := y * h / dh; sy < max(y*h/dh+1, (y+1)*h/dh); sy++ {
				for sx := x * w / dw; sx < max(x*w/dw+1, (x+1)*w/dw); sx++ {
					sum += int(src[sy*stride+sx])
					n++
				}
			}
			out = append(out, byte(math.Floor(float64(sum)/float64(n)+0.5)))
		}
	}
	return out
}

func TestMeanIsTheDefinition(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		w, h := rapid.IntRange(1, 40).Draw(t, "w"), rapid.IntRange(1, 12).Draw(t, "h")
		dw, dh := rapid.IntRange(1, 45).Draw(t, "dw"), rapid.IntRange(1, 14).Draw(t, "dh")
		stride := w + rapid.IntRange(0, 3).Draw(t, "more")
		src := rapid.SliceOfN(rapid.Byte(), stride*h, stride*h).Draw(t, "src")
		if got, want := Mean(src, stride, w, h, dw, dh), slow(src, stride, w, h, dw, dh); !bytes.Equal(got, want) {
			t.Fatalf("%d x %d to %d x %d: %v, want %v", w, h, dw, dh, got, want)
		}
	})
}

func TestTallBoxes(t *testing.T) { // more rows than a lane of 16 bits holds; all white stays white
	src := bytes.Repeat([]byte{255}, 3*2000)
	for _, v := range Mean(src, 3, 3, 2000, 2, 3) {
		if v != 255 {
			t.Errorf("white became %d", v)
		}
	}
	if len(Mean(nil, 0, 0, 0, 0, 0)) != 0 || len(Mean(nil, 0, 0, 0, 2, 2)) != 4 {
		t.Error("an empty plane")
	}
}

func BenchmarkMean(b *testing.B) {
	src := make([]byte, 4032*3024)
	for b.Loop() {
		Mean(src, 4032, 4032, 3024, 1600, 1200)
	}
}
