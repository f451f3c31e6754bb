package tray

import (
	"cmp"
	"slices"
	"sort"
	"strings"
	"time"

	"fyne.io/fyne/v2/lang"

	"forkwear/inspect"
	"forkwear/inspect/shop"
	"forkwear/ui/theme/tokens"
	"forkwear/ui/words"
)

// shot is a photo of the tray, or a file that is not in yet.
type shot struct {
	key    string // the photo's id, or the path
	photo  inspect.Photo
	path   string
	at     time.Time // when it was taken; when it was added where nobody can tell
	dated  bool
	doubts []shop.Doubt
}

func (s shot) coming() bool { return s.path != "" }

// day is what the shot stands under.
func (s shot) day() string {
	if s.coming() {
		return lang.L("Being taken in")
	}
	return words.Date(s.at)
}

// line is the first line of a cell: the time and the camera.
func (s shot) line() string {
	if s.coming() {
		return baseOf(s.path)
	}
	parts := []string{lang.L("no time")}
	if s.dated {
		parts[0] = s.at.Format("15:04")
	}
	if c := cmp.Or(s.photo.Model, s.photo.Camera()); c != "" {
		parts = append(parts, c)
	}
	return strings.Join(parts, " · ")
}

// note is the second line: the first doubt in few words, else the file's name.
func (s shot) note() (text string, doubtful bool) {
	if s.coming() {
		return "", false
	}
	if len(s.doubts) > 0 { // the first is the gravest
		d := s.doubts[0]
		switch d.Kind {
		case shop.DoubtUnusable:
			return lang.L("blurred, take it again"), true
		case shop.DoubtNoDate:
			return lang.L("no camera date"), true
		case shop.DoubtFuture:
			return lang.L("dated in the future"), true
		case shop.DoubtSatellites:
			return lang.L("clock is off"), true
		}
		return string(d.Kind), true
	}
	return s.photo.FileName, false
}

func baseOf(path string) string {
	if i := strings.LastIndexAny(path, `/\`); i >= 0 {
		return path[i+1:]
	}
	return path
}

// sortShots puts what is coming first, then the newest.
func sortShots(shots []shot) {
	slices.SortStableFunc(shots, func(a, b shot) int {
		if a.coming() != b.coming() {
			if a.coming() {
				return -1
			}
			return 1
		}
		if a.coming() {
			return 0
		}
		if c := b.at.Compare(a.at); c != 0 {
			return c
		}
		return cmp.Compare(b.key, a.key)
	})
}

// Sizes of the sheet.
const (
	leastCell = 148 // width
	gap       = tokens.Step
	headRow   = 36
	textRoom  = 46 // of a cell, below its picture
)

// row is a heading or a row of cells.
type row struct {
	y, h     float32
	head     string
	first, n int // of cells
}

// sheet is shots laid out in rows.
type sheet struct {
	shots   []shot
	rows    []row
	columns int
	cell    float32 // width
	height  float32
}

// lay lays shots out in a width.
func lay(shots []shot, width float32) sheet {
	s := sheet{shots: shots, columns: max(1, int((width+gap)/(leastCell+gap)))}
	s.cell = max(1, (width-gap*float32(s.columns-1))/float32(s.columns))
	high := s.cell*0.7 + textRoom
	y, day := float32(0), ""
	for i := 0; i < len(shots); {
		if d := shots[i].day(); d != day {
			s.rows = append(s.rows, row{y: y, h: headRow, head: d})
			y, day = y+headRow, d
		}
		n := 1
		for n < s.columns && i+n < len(shots) && shots[i+n].day() == day {
			n++
		}
		s.rows = append(s.rows, row{y: y, h: high, first: i, n: n})
		y += high + gap
		i += n
	}
	s.height = y
	return s
}

// between are the rows that touch a stretch of the sheet.
func (s sheet) between(from, to float32) []row {
	first := sort.Search(len(s.rows), func(i int) bool { return s.rows[i].y+s.rows[i].h >= from })
	last := sort.Search(len(s.rows), func(i int) bool { return s.rows[i].y > to })
	if first >= last {
		return nil
	}
	return s.rows[first:last]
}

// rowOf is the row of cells that holds a shot; -1 where there is none.
func (s sheet) rowOf(shot int) int {
	for i, r := range s.rows {
		if r.head == "" && shot >= r.first && shot < r.first+r.n {
			return i
		}
	}
	return -1
}

// below is the shot by rows of cells further down, or up where by is negative,
// in the same column as far as the row goes.
func (s sheet) below(shot, by int) int {
	at := s.rowOf(shot)
	if at < 0 {
		return shot
	}
	column, step := shot-s.rows[at].first, 1
	if by < 0 {
		step, by = -1, -by
	}
	for i := at + step; i >= 0 && i < len(s.rows) && by > 0; i += step {
		if s.rows[i].head == "" {
			at = i
			by--
		}
	}
	return s.rows[at].first + min(column, s.rows[at].n-1)
}
