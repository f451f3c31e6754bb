package benchcard

import (
	"cmp"
	"math"
	"slices"

	"forkwear/media/scale"
)

// line is x cos(angle) + y sin(angle) = at, reduced pixels.
type line struct {
	angle, at float64
	votes     int
}

func (a line) crosses(b line) (scale.Point, bool) {
	det := math.Sin(b.angle - a.angle)
	if math.Abs(det) < 0.3 {
		return scale.Point{}, false
	}
	return scale.Point{X: (a.at*math.Sin(b.angle) - b.at*math.Sin(a.angle)) / det,
		Y: (b.at*math.Cos(a.angle) - a.at*math.Cos(b.angle)) / det}, true
}

// tilted is the angle between two lines, 0 to a quarter turn.
func (a line) tilted(b line) float64 {
	d := math.Mod(math.Abs(a.angle-b.angle), math.Pi)
	return min(d, math.Pi-d)
}

// lines finds the straight lines that most edge points lie on (Hough's vote,
// each point for the directions within three degrees of its own).
func (e *edgeMap) lines() []line {
	const angles, slack = 180, 3
	reach := int(math.Hypot(float64(e.w), float64(e.h))) + 2
	width := 2*reach + 1
	votes := make([]int32, angles*width)
	var cosines, sines [angles]float64
	for a := range angles {
		sines[a], cosines[a] = math.Sincos(float64(a) * math.Pi / angles)
	}
	for _, p := range e.points {
		own := int(math.Round(p.angle / math.Pi * angles))
		for k := own - slack; k <= own+slack; k++ {
			a := (k + angles) % angles
			at := (float64(p.x)+0.5)*cosines[a] + (float64(p.y)+0.5)*sines[a]
			votes[a*width+int(math.Round(at))+reach]++
		}
	}
	var out []line
	for a := range angles {
		for i := 1; i < width-1; i++ {
			v := votes[a*width+i]
			if v < leastVotes || !peak(votes, width, a, i) {
				continue
			}
			out = append(out, line{float64(a) * math.Pi / angles, float64(i - reach), int(v)})
		}
	}
	slices.SortStableFunc(out, func(a, b line) int { return cmp.Compare(b.votes, a.votes) })
	return out[:min(len(out), mostLines)]
}

// peak: no line within two degrees and two pixels has more votes; of equal ones
// the first counts.
func peak(votes []int32, width, a, i int) bool {
	const around = 2
	v := votes[a*width+i]
	for b := max(0, a-around); b <= min(len(votes)/width-1, a+around); b++ {
		for j := max(0, i-around); j <= min(width-1, i+around); j++ {
			if o := votes[b*width+j]; o > v || o == v && (b < a || b == a && j < i) {
				return false
			}
		}
	}
	return true
}

// segment is a straight piece of edge.
type segment struct {
	line
	ends [2]scale.Point // reduced pixels
}

func (s segment) length() float64 { return apart(s.ends[0], s.ends[1]) }

// segments cuts lines into the pieces that really are edge. Each edge point
// belongs to one piece at most, the strongest line's.
func (e *edgeMap) segments(lines []line) []segment {
	rest := slices.Clone(e.points)
	var out []segment
	looks := 0
	for _, l := range lines {
		if looks += len(rest); len(out) >= mostSegments || looks > mostLooks {
			break
		}
		sin, cos := math.Sincos(l.angle)
		var on []int
		for i, p := range rest {
			x, y := float64(p.x)+0.5, float64(p.y)+0.5
			if math.Abs(x*cos+y*sin-l.at) < 1.8 && (line{angle: p.angle}).tilted(l) < 12*math.Pi/180 {
				on = append(on, i)
			}
		}
		if len(on) < leastVotes {
			continue
		}
		along := func(i int) float64 { return -float64(rest[i].x)*sin + float64(rest[i].y)*cos }
		slices.SortFunc(on, func(a, b int) int { return cmp.Compare(along(a), along(b)) })
		used := map[int]bool{}
		for _, piece := range pieces(on, along) {
			out = append(out, straight(rest, piece, l))
			for _, i := range piece {
				used[i] = true
			}
		}
		if len(used) > 0 {
			kept := rest[:0]
			for i, p := range rest {
				if !used[i] {
					kept = append(kept, p)
				}
			}
			rest = kept
		}
	}
	return out
}

// pieces cuts points in their order along a line where a wide gap is, and
// drops what is short or thin.
func pieces(on []int, along func(int) float64) (out [][]int) {
	from := 0
	for k := 1; k <= len(on); k++ {
		if k < len(on) && along(on[k])-along(on[k-1]) < widestGap {
			continue
		}
		piece := on[from:k]
		from = k
		if long := along(piece[len(piece)-1]) - along(piece[0]); long >= shortestSide && float64(len(piece)) >= 0.6*long {
			out = append(out, piece)
		}
	}
	return out
}

// straight fits a line to a piece by least squares across it.
func straight(points []edgePoint, piece []int, l line) segment {
	var mx, my, xx, xy, yy float64
	n := float64(len(piece))
	for _, i := range piece {
		mx, my = mx+(float64(points[i].x)+0.5)/n, my+(float64(points[i].y)+0.5)/n
	}
	for _, i := range piece {
		dx, dy := float64(points[i].x)+0.5-mx, float64(points[i].y)+0.5-my
		xx, xy, yy = xx+dx*dx, xy+dx*dy, yy+dy*dy
	}
	way := math.Atan2(2*xy, xx-yy) / 2 // along the piece
	l.angle = math.Mod(way+2.5*math.Pi, math.Pi)
	sin, cos := math.Sincos(l.angle)
	l.at = mx*cos + my*sin
	s := segment{line: l}
	for k, i := range []int{piece[0], piece[len(piece)-1]} {
		d := -(float64(points[i].x)+0.5-mx)*sin + (float64(points[i].y)+0.5-my)*cos
		s.ends[k] = scale.Point{X: mx - d*sin, Y: my + d*cos}
	}
	return s
}
