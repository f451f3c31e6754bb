package scale

import (
	"fmt"
	"math"
	"strconv"
	"strings"
)

// Point is a place in the picture (pixels, x to the right, y down) or on a
// surface (mm), as the function says.
type Point struct{ X, Y float64 }

func (p Point) minus(q Point) Point      { return Point{p.X - q.X, p.Y - q.Y} }
func (p Point) cross(q Point) float64    { return p.X*q.Y - p.Y*q.X }
func (p Point) distance(q Point) float64 { return math.Hypot(p.X-q.X, p.Y-q.Y) }

// Bounds of what a list of coordinates may hold.
const (
	maxNumbers    = 4000
	maxCoordinate = 1e6
)

// ParseNumbers reads numbers parted by commas, such as "12,30.5,400,31".
// Spaces around a number are allowed. It refuses anything that is not a plain
// number of at most a million, and more than 4000 of them.
func ParseNumbers(list string) ([]float64, error) {
	if strings.TrimSpace(list) == "" {
		return nil, fmt.Errorf("the list of coordinates is empty: write it like 12,30.5,400,31")
	}
	n := strings.Count(list, ",") + 1
	if n > maxNumbers {
		return nil, fmt.Errorf("the list has %d numbers, at most %d are taken: mark fewer points", n, maxNumbers)
	}
	out := make([]float64, 0, n)
	for i, field := range strings.Split(list, ",") {
		v, err := strconv.ParseFloat(strings.TrimSpace(field), 64)
		if err != nil || math.IsNaN(v) || math.Abs(v) > maxCoordinate {
			return nil, fmt.Errorf("number %d of the list, %.20q, is no coordinate: write numbers parted by commas, like 12,30.5,400,31", i+1, field)
		}
		out = append(out, v)
	}
	return out, nil
}

// ParsePoints reads x,y,x,y,...: as ParseNumbers, and an even count.
func ParsePoints(list string) ([]Point, error) {
	v, err := ParseNumbers(list)
	if err != nil {
		return nil, err
	}
	if len(v)%2 != 0 {
		return nil, fmt.Errorf("the list has %d numbers, but each point needs two, x and y: one is missing", len(v))
	}
	out := make([]Point, len(v)/2)
	for i := range out {
		out[i] = Point{v[2*i], v[2*i+1]}
	}
	return out, nil
}

func finite(what string, points ...Point) error {
	for i, p := range points {
		if bad(p.X) || bad(p.Y) {
			return fmt.Errorf("point %d of the %s is not a number: mark it again", i+1, what)
		}
	}
	return nil
}

func bad(v float64) bool { return math.IsNaN(v) || math.IsInf(v, 0) }

// PolylineLength is the sum of the distances between neighbours, in the unit
// of the points; 0 for fewer than two.
func PolylineLength(line []Point) float64 {
	var sum float64
	for i := 1; i < len(line); i++ {
		sum += line[i].distance(line[i-1])
	}
	return sum
}

// PolygonArea is the area inside a closed outline, |sum(x_i y_i+1 - x_i+1 y_i)|/2,
// in the unit of the points squared; 0 for fewer than three. The outline must
// not cross itself.
func PolygonArea(outline []Point) float64 { return math.Abs(signedArea(outline)) }

// signedArea is positive for an outline that runs clockwise in the picture. It
// counts from the first point, so that far-off outlines lose no digits.
func signedArea(outline []Point) float64 {
	var sum float64
	for i := 2; i < len(outline); i++ {
		sum += outline[i-1].minus(outline[0]).cross(outline[i].minus(outline[0]))
	}
	return sum / 2
}

// crossesItself tells whether two sides of the closed outline that are not
// neighbours meet.
func crossesItself(outline []Point) bool {
	n := len(outline)
	for i := range n {
		for j := i + 2; j < n; j++ {
			if i == 0 && j == n-1 {
				continue
			}
			if segmentsCross(outline[i], outline[i+1], outline[j], outline[(j+1)%n]) {
				return true
			}
		}
	}
	return false
}

func segmentsCross(a, b, c, d Point) bool {
	side := func(p, q, r Point) float64 { return q.minus(p).cross(r.minus(p)) }
	return side(a, b, c)*side(a, b, d) < 0 && side(c, d, a)*side(c, d, b) < 0
}
