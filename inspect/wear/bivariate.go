package wear

import "math"

// Gauss-Legendre half rules of 6, 12 and 20 points (abscissae x > 0), as in
// Genz's code.
var (
	glW = [3][]float64{
		{0.1713244923791705, 0.3607615730481384, 0.4679139345726904},
		{0.04717533638651177, 0.1069393259953183, 0.1600783285433464, 0.2031674267230659, 0.2334925365383547, 0.2491470458134029},
		{0.01761400713915212, 0.04060142980038694, 0.06267204833410906, 0.08327674157670475, 0.1019301198172404, 0.1181945319615184, 0.1316886384491766, 0.1420961093183821, 0.1491729864726037, 0.1527533871307259},
	}
	glX = [3][]float64{
		{0.9324695142031522, 0.6612093864662647, 0.2386191860831970},
		{0.9815606342467191, 0.9041172563704750, 0.7699026741943050, 0.5873179542866171, 0.3678314989981802, 0.1252334085114692},
		{0.9931285991850949, 0.9639719272779138, 0.9122344282513259, 0.8391169718222188, 0.7463319064601508, 0.6360536807265150, 0.5108670019508271, 0.3737060887154196, 0.2277858511416451, 0.07652652113349733},
	}
)

// bothAbove is P(X > h, Y > k) for standard normals with correlation r, by
// one-dimensional quadrature over the correlation (Drezner & Wesolowsky 1990,
// as sharpened by Genz 2004, Statistics and Computing 14, 251-260; there about
// 1e-15 absolute).
func bothAbove(h, k, r float64) float64 {
	switch {
	case math.IsInf(h, 1) || math.IsInf(k, 1):
		return 0
	case math.IsInf(h, -1):
		return upper(k)
	case math.IsInf(k, -1):
		return upper(h)
	}
	r = math.Max(-1, math.Min(1, r))
	rule := 2
	switch {
	case math.Abs(r) < 0.3:
		rule = 0
	case math.Abs(r) < 0.75:
		rule = 1
	}
	if math.Abs(r) < 0.925 {
		hk, hs, asr, sum := h*k, (h*h+k*k)/2, math.Asin(r)/2, 0.0
		for i, x := range glX[rule] {
			for _, s := range [2]float64{1 - x, 1 + x} {
				sn := math.Sin(asr * s)
				sum += glW[rule][i] * math.Exp((sn*hk-hs)/(1-sn*sn))
			}
		}
		return clip(sum*asr/(2*math.Pi) + upper(h)*upper(k))
	}
	return clip(nearlyTied(h, k, r))
}

func clip(p float64) float64 { return math.Max(0, math.Min(1, p)) }

// nearlyTied is bothAbove for |r| >= 0.925.
func nearlyTied(h, k, r float64) float64 {
	if r < 0 {
		k = -k
	}
	hk, bvn := h*k, 0.0
	if math.Abs(r) < 1 {
		as := (1 - r) * (1 + r)
		a := math.Sqrt(as)
		bs := (h - k) * (h - k)
		c, d := (4-hk)/8, (12-hk)/80
		if asr := -(bs/as + hk) / 2; asr > -100 {
			bvn = a * math.Exp(asr) * (1 - c*(bs-as)*(1-d*bs)/3 + c*d*as*as)
		}
		if hk > -100 {
			b := math.Sqrt(bs)
			sp := math.Sqrt(2*math.Pi) * upper(b/a)
			bvn -= math.Exp(-hk/2) * sp * b * (1 - c*bs*(1-d*bs)/3)
		}
		a /= 2
		for i, x := range glX[2] {
			for _, s := range [2]float64{1 - x, 1 + x} {
				xs := a * s * a * s
				asr := -(bs/xs + hk) / 2
				if asr <= -100 {
					continue
				}
				sp := 1 + c*xs*(1+5*d*xs)
				rs := math.Sqrt(1 - xs)
				ep := math.Exp(-(hk/2)*xs/((1+rs)*(1+rs))) / rs
				bvn += a * glW[2][i] * math.Exp(asr) * (ep - sp)
			}
		}
		bvn = -bvn / (2 * math.Pi)
	}
	if r > 0 {
		return bvn + upper(math.Max(h, k))
	}
	if h >= k {
		return -bvn
	}
	if h < 0 {
		return upper(-k) - upper(-h) - bvn
	}
	return upper(h) - upper(k) - bvn
}
