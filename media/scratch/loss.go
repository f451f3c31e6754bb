package scratch

import (
	"image"
	"math"
)

// medianAlong is, for each pixel, the median of the brightness on the line
// through it in the direction of axis (radians), outside the region: what the
// tube looks like without the damage. A line with too few pixels outside takes
// those inside, too; then the damage must cover less than half of it. The
// lines are a pixel apart; between them it is drawn straight.
func medianAlong(p plane, axis float64, region image.Rectangle) plane {
	sin, cos := math.Sin(axis), math.Cos(axis)
	least := math.Floor(min(0, -sin*float64(p.w), cos*float64(p.h), cos*float64(p.h)-sin*float64(p.w))) - 1
	n := int(math.Ceil(math.Abs(sin)*float64(p.w)+math.Abs(cos)*float64(p.h))) + 4
	outside, all := make([]int32, n*levels), make([]int32, n*levels)
	for y := range p.h {
		for x, v := range p.row(y) {
			line := int(math.Round(float64(y)*cos - float64(x)*sin - least))
			level := min(max(int(math.Round(2*float64(v)))+levels/2, 0), levels-1)
			at := min(max(line, 0), n-1)*levels + level
			all[at]++
			if !image.Pt(x, y).In(region) {
				outside[at]++
			}
		}
	}
	calm := smoothNumbers(lineMedians(outside, all, n))
	out := newPlane(p.w, p.h)
	for y := range p.h {
		row := out.row(y)
		for x := range row {
			at := min(max(float64(y)*cos-float64(x)*sin-least, 0), float64(n-2))
			i := int(at)
			row[x] = float32(calm[i] + (at-float64(i))*(calm[i+1]-calm[i]))
		}
	}
	return out
}

// levels counted on a line: half a grey level each, of either sign.
const levels = 1024

// lineMedians of n lines; one with too few pixels repeats its neighbour.
func lineMedians(outside, all []int32, n int) []float64 {
	medians := make([]float64, n)
	last, first := 0.0, -1
	for line := range medians {
		from, to := line*levels, (line+1)*levels
		v, ok := medianOf(outside[from:to])
		if !ok {
			v, ok = medianOf(all[from:to])
		}
		if ok {
			if last = (v - levels/2) / 2; first < 0 {
				first = line
			}
		}
		medians[line] = last
	}
	for line := range max(first, 0) { // corners that a line only touches
		medians[line] = medians[first]
	}
	return medians
}

// medianOf is the median of counted levels, between levels by their share;
// false with fewer than 8.
func medianOf(counts []int32) (float64, bool) {
	var n int32
	for _, c := range counts {
		n += c
	}
	if n < 8 {
		return 0, false
	}
	var sum int32
	for i, c := range counts {
		if 2*(sum+c) >= n {
			return float64(i) - 0.5 + (float64(n)/2-float64(sum))/float64(c), true
		}
		sum += c
	}
	return 0, false
}

// smoothNumbers is the mean of three neighbours, 1:2:1.
func smoothNumbers(v []float64) []float64 {
	out := make([]float64, len(v))
	for i := range v {
		out[i] = (v[max(i-1, 0)] + 2*v[i] + v[min(i+1, len(v)-1)]) / 4
	}
	return out
}
