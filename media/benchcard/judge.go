package benchcard

import (
	"math"

	"gonum.org/v1/gonum/mat"
)

// Neighbouring borders share pixels and the noise that JPEG spreads over eight
// of them: that many borders tell as much as one of its own. Chosen so that
// the stated sigma covers the errors in rendered scenes.
const sharedNoise = 2.0

// What no rendered scene shows, so that no residual tells it. Common practice,
// no source.
const (
	leastSigma = 0.1  // px: how a sensor and JPEG sample an edge, how a lens bends all sides alike
	printSigma = 0.03 // mm: ink spreads into the paper on all sides, paper curls
)

// crowding is about how far, px, the outer side of the frame pushes the inner
// one that is w px away, with an edge blurred by s: two Gaussian edges of
// opposite sign push each other by w exp(-w^2/2 s^2) when they are equally
// strong; benches being what they are, half of that is counted.
func crowding(w, s float64) float64 { return w / 2 * math.Exp(-w*w/(2*s*s)) }

// judge states how well the fit holds. The sigma of the anchors is
// sqrt(s^2 tr(N^-1)/8 shared + b^2 + least^2 + print^2): s is the scatter of the
// borders' misfit, N the weighted normal matrix, and b the mean misfit of
// eighths of each side, which is not noise but a bent card or a lens that bends.
func (f *fitted) judge(found []measuredBorder, all []border) error {
	j, err := f.slopes(found)
	if err != nil {
		return err
	}
	left := make([]float64, len(found))
	for i, m := range found {
		left[i] = m.off
	}
	s := max(0.05, scatter(left))
	weights, normal, _ := normalEquations(j, found, left, s)
	var chol mat.Cholesky
	if !chol.Factorize(normal) {
		return errNoFit
	}
	var inverse mat.SymDense
	if err := chol.InverseTo(&inverse); err != nil {
		return errNoFit
	}
	var trace float64
	for i := range 8 {
		trace += inverse.At(i, i)
	}
	bow := bowing(found, weights)
	f.sigma = math.Sqrt(s*s*trace/8*sharedNoise + bow*bow + leastSigma*leastSigma + math.Pow(printSigma*f.perMM(), 2))
	f.blur = medianOf(found, func(m measuredBorder) float64 { return m.blur })
	f.held = heldSides(found, weights, all)
	if math.IsNaN(f.sigma) {
		return errNoFit
	}
	return nil
}

// heldSides is the share of the borders of each side that were found where the
// fit has them.
func heldSides(found []measuredBorder, weights []float64, all []border) (share [4]float64) {
	var asked, held [4]float64
	for _, b := range all {
		asked[b.side]++
	}
	for i, m := range found {
		if weights[i] > 0.1 {
			held[m.side]++
		}
	}
	for i := range held {
		if asked[i] > 0 {
			share[i] = held[i] / asked[i]
		}
	}
	return share
}

// bowing is the root mean square of the mean misfits of eighths of each side.
// found lists the borders in the order along the sides.
func bowing(found []measuredBorder, weights []float64) float64 {
	var bySide [4][]int
	for i, m := range found {
		if weights[i] > 0.1 {
			bySide[m.side] = append(bySide[m.side], i)
		}
	}
	var sum, n float64
	for _, list := range bySide {
		for k := range 8 {
			part := list[k*len(list)/8 : (k+1)*len(list)/8]
			if len(part) < 4 {
				continue
			}
			var mean float64
			for _, i := range part {
				mean += found[i].off / float64(len(part))
			}
			sum += mean * mean
			n++
		}
	}
	if n == 0 {
		return 0
	}
	return math.Sqrt(sum / n)
}
