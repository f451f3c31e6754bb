package measure

// Tables of ISO 286-1:2010 in micrometres, one column for each step of nominal
// size up to and including 3, 6, 10, 18, 30, 50, 80, 120, 180, 250, 315, 400 and
// 500 mm. Typed from memory and read against a public table module of the
// standard; the tests hold them against the standard's own formulas.

const sizeSteps = 13

func stepLimits() [sizeSteps]float64 {
	return [sizeSteps]float64{3, 6, 10, 18, 30, 50, 80, 120, 180, 250, 315, 400, 500}
}

const (
	firstGrade = 4
	lastGrade  = 13
)

// gradeTable is table 1: standard tolerance grades IT4 to IT13.
func gradeTable() [lastGrade - firstGrade + 1][sizeSteps]float64 {
	return [...][sizeSteps]float64{
		{3, 4, 4, 5, 6, 7, 8, 10, 12, 14, 16, 18, 20},
		{4, 5, 6, 8, 9, 11, 13, 15, 18, 20, 23, 25, 27},
		{6, 8, 9, 11, 13, 16, 19, 22, 25, 29, 32, 36, 40},
		{10, 12, 15, 18, 21, 25, 30, 35, 40, 46, 52, 57, 63},
		{14, 18, 22, 27, 33, 39, 46, 54, 63, 72, 81, 89, 97},
		{25, 30, 36, 43, 52, 62, 74, 87, 100, 115, 130, 140, 155},
		{40, 48, 58, 70, 84, 100, 120, 140, 160, 185, 210, 230, 250},
		{60, 75, 90, 110, 130, 160, 190, 220, 250, 290, 320, 360, 400},
		{100, 120, 150, 180, 210, 250, 300, 350, 400, 460, 520, 570, 630},
		{140, 180, 220, 270, 330, 390, 460, 540, 630, 720, 810, 890, 970},
	}
}

// looseTable is table 4 (d to h): the distance of the zone's near limit from the
// nominal size, below it for shafts and above it for holes.
func looseTable(letter string) ([sizeSteps]float64, bool) {
	switch letter {
	case "d":
		return [sizeSteps]float64{20, 30, 40, 50, 65, 80, 100, 120, 145, 170, 190, 210, 230}, true
	case "e":
		return [sizeSteps]float64{14, 20, 25, 32, 40, 50, 60, 72, 85, 100, 110, 125, 135}, true
	case "f":
		return [sizeSteps]float64{6, 10, 13, 16, 20, 25, 30, 36, 43, 50, 56, 62, 68}, true
	case "g":
		return [sizeSteps]float64{2, 4, 5, 6, 7, 9, 10, 12, 14, 15, 17, 18, 20}, true
	case "h":
		return [sizeSteps]float64{}, true
	}
	return [sizeSteps]float64{}, false
}

// tightTable is table 5 (k to p): the lower limit of shafts. k is for IT4 to IT7.
func tightTable(letter string) ([sizeSteps]float64, bool) {
	switch letter {
	case "k":
		return [sizeSteps]float64{0, 1, 1, 1, 2, 2, 2, 3, 3, 4, 4, 4, 5}, true
	case "m":
		return [sizeSteps]float64{2, 4, 6, 7, 8, 9, 11, 13, 15, 17, 20, 21, 23}, true
	case "n":
		return [sizeSteps]float64{4, 8, 10, 12, 15, 17, 20, 23, 27, 31, 34, 37, 40}, true
	case "p":
		return [sizeSteps]float64{6, 12, 15, 18, 22, 26, 32, 37, 43, 50, 56, 62, 68}, true
	}
	return [sizeSteps]float64{}, false
}
