package stats

import "sort"

// BenjaminiHochberg returns for each p value its q value: the least false
// discovery rate at which it would be called,
//
//	q_(i) = min over j >= i of min(1, m p_(j) / j)
//
// in the order given. Each p in 0..1; no p gives none.
//
// Source: Benjamini and Hochberg 1995, J R Stat Soc B 57:289.
func BenjaminiHochberg(p []float64) ([]float64, error) {
	order := make([]int, len(p))
	for i, v := range p {
		if !(v >= 0 && v <= 1) {
			return nil, inputError("p value %g (number %d) must lie in 0 to 1", v, i+1)
		}
		order[i] = i
	}
	sort.Slice(order, func(a, b int) bool { return p[order[a]] < p[order[b]] })
	q := make([]float64, len(p))
	least := 1.0
	for rank := len(p); rank > 0; rank-- {
		i := order[rank-1]
		least = min(least, p[i]*float64(len(p))/float64(rank))
		q[i] = least
	}
	return q, nil
}
