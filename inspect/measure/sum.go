package measure

// Sum is the outcome of a bench sum. Value, U, Low and High are nil where they
// don't exist: they are never NaN. Low and High are 95 % limits.
type Sum struct {
	Value   *float64 `json:"value"`
	U       *float64 `json:"u"`
	Low     *float64 `json:"low"`
	High    *float64 `json:"high"`
	Unit    string   `json:"unit"`
	Formula string   `json:"formula"`
	Inputs  []Input  `json:"inputs"`
	Remarks []string `json:"remarks"`
}

// Known is a number with its standard uncertainty; U 0 takes it as exact.
type Known struct{ Value, U float64 }

// Exactly makes a Known without uncertainty.
func Exactly(x float64) Known { return Known{Value: x} }

// Within makes a Known that lies within ± half of x, all values equally likely.
// A bad half-width shows up as an error of the sum that it goes into.
func Within(x, half float64) Known { return Known{Value: x, U: half / sqrt3} }

const sqrt3 = 1.7320508075688772

// input names a Known for a sum.
func (k Known) input(name string, unit Unit) Input {
	in := Input{Name: name, Value: k.Value, Unit: string(unit)}
	if k.U != 0 {
		in.U = ptr(k.U)
	}
	return in
}

func ptr(x float64) *float64 { return &x }

// work runs f over the inputs and fills a Sum; without any uncertain input, U
// and the limits stay nil and a remark says so.
func work(unit Unit, formula string, inputs []Input, f func(x []float64) float64) (Sum, error) {
	value, budget, err := Propagate(inputs, f)
	if err != nil {
		return Sum{}, err
	}
	s := Sum{Value: ptr(value), Unit: string(unit), Formula: formula, Inputs: inputs, Remarks: []string{}}
	if len(budget.Terms) == 0 {
		s.remark("no uncertainty was given: the result is shown without limits")
		return s, nil
	}
	k, err := Coverage(0.95, budget.DoF)
	if err != nil {
		return Sum{}, err
	}
	if !finite(value-k*budget.U) || !finite(value+k*budget.U) {
		return Sum{}, refuse("these numbers are too large for limits: check the units of %s", inputNames(inputs))
	}
	s.U = ptr(budget.U)
	s.Low, s.High = ptr(value-k*budget.U), ptr(value+k*budget.U)
	return s, nil
}

func (s *Sum) remark(text string) { s.Remarks = append(s.Remarks, text) }

// floor keeps limits from leaving what is possible.
func (s *Sum) floor(least float64) {
	if s.Low != nil {
		s.Low, s.High = ptr(max(least, *s.Low)), ptr(max(least, *s.High))
	}
}

// need fails for the first named number that isn't finite or isn't above 0.
func need(pairs ...named) error {
	for _, p := range pairs {
		if !finite(p.x) || p.x <= 0 {
			return refuse("%s is %v: give a number above 0", p.name, p.x)
		}
	}
	return nil
}

type named struct {
	name string
	x    float64
}
