package measure

import (
	"strconv"
	"strings"
)

// Limits are the deviations of a tolerance class from the nominal size in µm.
type Limits struct {
	Lower float64 `json:"lower"`
	Upper float64 `json:"upper"`
}

// Play is the clearance between hole and shaft in µm; negative is interference.
type Play struct {
	Min float64 `json:"min"`
	Max float64 `json:"max"`
}

// FitSum is the outcome of a fit. Hole, Shaft and Clearance are nil where the
// class wasn't given.
type FitSum struct {
	Size      float64  `json:"size"` // mm
	Hole      *Limits  `json:"hole"`
	Shaft     *Limits  `json:"shaft"`
	Clearance *Play    `json:"clearance"`
	Kind      *string  `json:"kind"` // clearance, transition or interference
	Unit      string   `json:"unit"`
	Formula   string   `json:"formula"`
	Inputs    []Input  `json:"inputs"`
	Remarks   []string `json:"remarks"`
}

// StandardTolerance is the width of a grade in µm for a nominal size in mm
// (ISO 286-1:2010, table 1). 0 < size <= 500, grades 4 to 13.
func StandardTolerance(size float64, grade int) (float64, error) {
	step, err := sizeStep(size)
	if err != nil {
		return 0, err
	}
	if grade < firstGrade || grade > lastGrade {
		return 0, refuse("the grade %d is outside %d to %d: give one such as 7", grade, firstGrade, lastGrade)
	}
	return gradeTable()[grade-firstGrade][step], nil
}

func sizeStep(size float64) (int, error) {
	if finite(size) && size > 0 {
		for i, up := range stepLimits() {
			if size <= up {
				return i, nil
			}
		}
	}
	return 0, refuse("the size %v mm is outside 0 to 500 mm: give the nominal size in mm", size)
}

// ClassLimits gives the deviations in µm of a class such as H7 (hole, capital)
// or f7 (shaft, small) at a nominal size in mm (ISO 286-1:2010):
//
//	shafts d e f g h: upper = -table, lower = upper - IT     js: ± IT/2
//	shafts k m n p:   lower = table, upper = lower + IT
//	holes  D E F G H: lower = table, upper = lower + IT      JS: ± IT/2
//	holes  K M N to IT8, P to IT7: upper = -table + Δ, Δ = IT(n) - IT(n-1)
//	holes  of coarser grades: upper = -table (K: not above 3 mm, N: 0 above 3 mm)
//
// 0 < size <= 500, grades IT5 to IT13; J, j and the other letters are refused.
func ClassLimits(size float64, class string) (Limits, error) {
	letter, grade, err := splitClass(class)
	if err != nil {
		return Limits{}, err
	}
	step, err := sizeStep(size)
	if err != nil {
		return Limits{}, err
	}
	it, err := StandardTolerance(size, grade)
	if err != nil {
		return Limits{}, err
	}
	small := strings.ToLower(letter)
	hole := letter != small
	if small == "js" {
		return Limits{-it / 2, it / 2}, nil
	}
	if dist, ok := looseTable(small); ok {
		if hole {
			return Limits{dist[step], dist[step] + it}, nil
		}
		return Limits{0 - dist[step] - it, 0 - dist[step]}, nil
	}
	tight, ok := tightTable(small)
	if !ok {
		return Limits{}, refuse("the class %q isn't in the table: holes D E F G H JS K M N P and shafts d e f g h js k m n p are", class)
	}
	if hole {
		return tightHole(size, small, grade, it, tight[step])
	}
	low := tight[step]
	if small == "k" && grade > 7 {
		low = 0
	}
	return Limits{low, low + it}, nil
}

// tightHole does K, M, N and P, whose zone is moved by Δ so that a hole-basis and
// a shaft-basis fit of neighbouring grades have the same play (ISO 286-1, 4.3.2).
func tightHole(size float64, small string, grade int, it, dist float64) (Limits, error) {
	fine := grade <= 8
	if small == "p" {
		fine = grade <= 7
	}
	top := -dist
	switch {
	case fine && size > 3:
		finer, err := StandardTolerance(size, grade-1)
		if err != nil {
			return Limits{}, err
		}
		top += it - finer
		if small == "m" && grade == 6 && size > 250 && size <= 315 {
			top = -9 // the standard's one exception
		}
	case small == "k" && !fine && size > 3:
		return Limits{}, refuse("K%d isn't defined above 3 mm: use K8 or finer", grade)
	case small == "n" && !fine && size > 3:
		top = 0
	}
	return Limits{top - it, top + 0}, nil
}

// splitClass reads "H7" as H and 7. IT4 serves only as the finer neighbour of IT5.
func splitClass(class string) (string, int, error) {
	s := strings.TrimSpace(class)
	i := strings.IndexAny(s, "0123456789")
	if i < 1 || i > 2 || len(s) > 4 {
		return "", 0, refuse("the class %q can't be read: write it like H7 (hole) or f7 (shaft)", clip(class))
	}
	grade, err := strconv.Atoi(s[i:])
	if err != nil || grade <= firstGrade || grade > lastGrade {
		return "", 0, refuse("the class %q has no grade from 5 to 13: write it like H7 or f7", clip(class))
	}
	letter := s[:i]
	if letter == "Js" || letter == "jS" {
		return "", 0, refuse("the class %q mixes large and small: JS is a hole, js a shaft", class)
	}
	return letter, grade, nil
}

// Fit gives the limits of hole and shaft and the play between them, in µm:
// least = hole lower - shaft upper, greatest = hole upper - shaft lower. An empty
// class is left out; one is needed.
func Fit(size float64, hole, shaft string) (FitSum, error) {
	f := FitSum{Size: size, Unit: string(Micrometre), Inputs: []Input{{Name: "size", Value: size, Unit: string(Millimetre)}},
		Formula: "least = hole lower - shaft upper; greatest = hole upper - shaft lower (ISO 286-1)", Remarks: []string{}}
	if hole == "" && shaft == "" {
		return FitSum{}, refuse("no class was given: give a hole such as H7, a shaft such as f7, or both")
	}
	if hole != "" {
		if s := strings.TrimSpace(hole); s == "" || s[0] < 'A' || s[0] > 'Z' {
			return FitSum{}, refuse("the hole %q must begin with a capital letter, such as H7", clip(hole))
		}
		l, err := ClassLimits(size, hole)
		if err != nil {
			return FitSum{}, err
		}
		f.Hole = &l
	}
	if shaft != "" {
		if s := strings.TrimSpace(shaft); s == "" || s[0] < 'a' || s[0] > 'z' {
			return FitSum{}, refuse("the shaft %q must begin with a small letter, such as f7", clip(shaft))
		}
		l, err := ClassLimits(size, shaft)
		if err != nil {
			return FitSum{}, err
		}
		f.Shaft = &l
	}
	if f.Hole != nil && f.Shaft != nil {
		f.Clearance = &Play{f.Hole.Lower - f.Shaft.Upper, f.Hole.Upper - f.Shaft.Lower}
		kind := "transition"
		if f.Clearance.Min >= 0 {
			kind = "clearance"
		} else if f.Clearance.Max <= 0 {
			kind = "interference"
		}
		f.Kind = &kind
	}
	if strings.Contains(strings.ToLower(hole+shaft), "js") {
		f.Remarks = append(f.Remarks, "js is given as exactly half the grade each way; some tables round odd halves down")
	}
	return f, nil
}
