package store_test

import (
	"encoding/json"
	"errors"
	"fmt"
	"slices"
	"testing"
	"time"

	"forkwear/inspect"
	"forkwear/store/librarytest"

	"pgregory.net/rapid"
)

func number() *rapid.Generator[float64] { return rapid.Float64Range(-1e300, 1e300) }

func optional() *rapid.Generator[*float64] {
	return rapid.Custom(func(t *rapid.T) *float64 {
		if rapid.Bool().Draw(t, "missing") {
			return nil
		}
		x := number().Draw(t, "value")
		return &x
	})
}

// moments are instants of whole nanoseconds in whole-minute offsets, so that
// their JSON text shows them whole; the property of seconds is below.
func moments() *rapid.Generator[time.Time] {
	return rapid.Custom(func(t *rapid.T) time.Time {
		sec := rapid.Int64Range(-60000000000, 250000000000).Draw(t, "second") // years 68 to 9892
		offset := rapid.IntRange(-14*60, 14*60).Draw(t, "offset") * 60
		return time.Unix(sec, rapid.Int64Range(0, 999999999).Draw(t, "nano")).In(time.FixedZone("", offset))
	})
}

// Whatever a valid reading says, it comes back as it went in: numbers to the
// last bit, words with any sign, times with their offset.
func TestReadingRoundTrip(t *testing.T) {
	db := mustOpen(t, t.TempDir())
	_, err := db.StartVisit(ctx, librarytest.DropOff(1))
	must(t, err)
	n := 0
	rapid.Check(t, func(t *rapid.T) {
		n++
		words := rapid.String()
		r := inspect.Reading{
			ID: inspect.ID(fmt.Sprint(n)), VisitID: "visit-1", FittingID: rapid.SampledFrom([]inspect.ID{"", "fitting-1"}).Draw(t, "fitting"),
			Check: "c" + words.Draw(t, "check"), Leg: rapid.SampledFrom([]inspect.Leg{inspect.Whole, inspect.Left, inspect.Right}).Draw(t, "leg"),
			Point: words.Draw(t, "point"), Stage: rapid.SampledFrom(inspect.Stages()).Draw(t, "stage"), Answer: inspect.Measured,
			Value: number().Draw(t, "value"), U: rapid.Float64Range(0, 1e300).Draw(t, "u"), Unit: words.Draw(t, "unit"), Typed: words.Draw(t, "typed"),
			Raw: rapid.SliceOf(number()).Draw(t, "raw"), Instrument: words.Draw(t, "instrument"), New: optional().Draw(t, "new"),
			Limit: optional().Draw(t, "limit"), Fields: words.Draw(t, "fields"), Note: words.Draw(t, "note"), By: words.Draw(t, "by"), At: moments().Draw(t, "at"),
		}
		if r.At.IsZero() {
			r.At = time.Unix(0, 0)
		}
		if err := db.AddReadings(ctx, r); err != nil {
			t.Fatal(err)
		}
		got, err := db.Readings(ctx, inspect.ReadingFilter{VisitID: "visit-1", Check: r.Check})
		if err != nil {
			t.Fatal(err)
		}
		for _, g := range got {
			if g.ID != r.ID {
				continue
			}
			if a, b := text(t, g), text(t, r); a != b {
				t.Fatalf("got  %s\nwant %s", a, b)
			}
			return
		}
		t.Fatal("the reading is not there")
	})
}

func text(t *rapid.T, r inspect.Reading) string {
	if r.Value == 0 {
		r.Value = 0 // SQLite keeps no sign of nought
	}
	for _, p := range []*float64{&r.U, r.New, r.Limit} {
		if p != nil && *p == 0 {
			*p = 0
		}
	}
	b, err := json.Marshal(r)
	if err != nil {
		t.Fatal(err)
	}
	return string(b)
}

// Old local times have offsets with seconds; they are kept too, and readings
// sort by the instant, not by the text on the wall clock.
func TestOffsets(t *testing.T) {
	db := mustOpen(t, t.TempDir())
	_, err := db.StartVisit(ctx, librarytest.DropOff(1))
	must(t, err)
	start := time.Date(2026, 3, 29, 0, 59, 59, 999999999, time.UTC)
	var want []inspect.ID
	for i, offset := range []int{7200, -3600, 0, 1172, 50400, -43200} {
		r := librarytest.Reading(1, inspect.ID(fmt.Sprintf("r%d", 9-i)))
		r.At = start.Add(time.Duration(i)).In(time.FixedZone("", offset))
		must(t, db.AddReadings(ctx, r))
		want = append(want, r.ID)
	}
	rs, err := db.Readings(ctx, inspect.ReadingFilter{})
	must(t, err)
	for i, r := range rs {
		_, offset := r.At.Zone()
		if r.ID != want[i] || !r.At.Equal(start.Add(time.Duration(i))) || offset != []int{7200, -3600, 0, 1172, 50400, -43200}[i] {
			t.Errorf("reading %d: %s at %v, offset %d", i, r.ID, r.At, offset)
		}
	}
}

func spots() *rapid.Generator[[]inspect.Spot] {
	return rapid.SliceOfN(rapid.Custom(func(t *rapid.T) inspect.Spot {
		return inspect.Spot{X: number().Draw(t, "x"), Y: number().Draw(t, "y")}
	}), 3, 9)
}

// Whatever was marked and measured on a photo comes back as it went in, the
// bytes of the mask too.
func TestMarksAndSizesRoundTrip(t *testing.T) {
	db := mustOpen(t, t.TempDir())
	_, err := db.AddPhoto(ctx, inspect.Photo{ID: "p", SHA256: "s", AddedAt: time.Unix(0, 0)})
	must(t, err)
	n := 0
	rapid.Check(t, func(t *rapid.T) {
		n++
		words, id := rapid.String(), inspect.ID(fmt.Sprint(n))
		at := moments().Filter(func(x time.Time) bool { return !x.IsZero() })
		m := inspect.Mark{ID: id, PhotoID: "p", Kind: inspect.MarkLine, Points: spots().Draw(t, "points"), Text: words.Draw(t, "text"),
			By: words.Draw(t, "by"), At: at.Draw(t, "at")}
		value := rapid.Float64Range(0, 1e300).Draw(t, "value")
		s := inspect.PhotoMeasure{ID: id, PhotoID: "p", Kind: "area", Outline: spots().Draw(t, "outline"), Line: spots().Draw(t, "line"),
			Mask: rapid.SliceOfN(rapid.Byte(), 1, 50).Draw(t, "mask"), Window: [4]float64{number().Draw(t, "x")},
			Value: value, Low: value / 2, High: value * 2, Unit: "mm2", Method: words.Draw(t, "method"),
			Remarks: rapid.SliceOf(words).Draw(t, "remarks"), By: words.Draw(t, "by"), At: at.Draw(t, "at")}
		if err := errors.Join(db.AddMark(ctx, m), db.AddPhotoMeasure(ctx, s)); err != nil {
			t.Fatal(err)
		}
		ms, errM := db.Marks(ctx, "p")
		ss, errS := db.PhotoMeasures(ctx, "p")
		if err := errors.Join(errM, errS); err != nil || len(ms) != n || len(ss) != n {
			t.Fatalf("%d marks and %d sizes of %d: %v", len(ms), len(ss), n, err)
		}
		ms = slices.DeleteFunc(ms, func(x inspect.Mark) bool { return x.ID != id })
		ss = slices.DeleteFunc(ss, func(x inspect.PhotoMeasure) bool { return x.ID != id })
		got, err := json.Marshal([]any{ms[0], ss[0]})
		want, errW := json.Marshal([]any{m, s})
		if err := errors.Join(err, errW); err != nil || string(got) != string(want) {
			t.Fatalf("got  %s\nwant %s\n%v", got, want, err)
		}
	})
}
