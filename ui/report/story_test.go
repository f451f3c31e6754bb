package report

import (
	"bytes"
	"context"
	"crypto/sha256"
	"errors"
	"fmt"
	"image"
	"image/color"
	"image/jpeg"
	"sync"
	"testing"
	"time"

	"forkwear/inspect"
	"forkwear/inspect/catalog"
	"forkwear/inspect/shop"
	"forkwear/inspect/wear"
)

// The story of these tests is invented: a fork at its second visit, 318 h old,
// 212 h old at the first. Its figures are inputs, so no test takes them for
// true; expected texts follow from them by the rules of the package.

var shipped = sync.OnceValues(catalog.Embedded)

func day(y int, m time.Month, d int) time.Time { return time.Date(y, m, d, 10, 14, 0, 0, time.UTC) }

func sha(name string) string { return fmt.Sprintf("%x", sha256.Sum256([]byte(name))) }

// photo draws a JPEG that differs by its name.
func photo(_ context.Context, sha string, px int) ([]byte, error) {
	if sha == gone {
		return nil, errors.New("the file is not in the photo folder")
	}
	img := image.NewRGBA(image.Rect(0, 0, min(px, 400), min(px, 400)*3/4))
	for y := range img.Bounds().Dy() {
		for x := range img.Bounds().Dx() {
			img.Set(x, y, color.RGBA{uint8(90 + x/4), uint8(100 + y/4), sha[0], 255})
		}
	}
	var b bytes.Buffer
	err := jpeg.Encode(&b, img, nil)
	return b.Bytes(), err
}

var gone = sha("gone")

func shot(name, check string, leg inspect.Leg, wall string) *inspect.Photo {
	return &inspect.Photo{ID: inspect.ID(name), SHA256: sha(name), WallTime: wall, DateSource: "exif", Check: check, Leg: leg}
}

func used(x float64) *float64 { return &x }

// twoVisits is the second visit of a fork.
func twoVisits(t testing.TB) Source {
	t.Helper()
	cat, err := shipped()
	if err != nil {
		t.Fatal(err)
	}
	now, before := day(2026, 5, 12), day(2025, 6, 3)
	first := inspect.VisitRow{Visit: inspect.Visit{ID: "v1", Ticket: 88, DroppedOff: before}, Hours: 212, HoursU: 10}
	level, _ := cat.Level("lowers")
	c := &shop.Case{
		Visit:    inspect.Visit{ID: "v2", Ticket: 143, DroppedOff: now, Ready: now.AddDate(0, 0, 2), Package: inspect.Money{Minor: 9000, Currency: "EUR"}},
		Fork:     inspect.Fork{Maker: "Invented", Model: "Ridge 150", Year: 2021, Serial: "X-1207", Tag: "B 14"},
		Customer: inspect.Customer{Name: "Zoë Müller-Łąska"}, Claim: inspect.Claim{Hours: 318, U: 12.5},
		Sheet: cat.Sheets[0], Level: level, Earlier: []shop.Earlier{{Row: first}},
		Complaints: []inspect.Complaint{{Symptom: "weeping", Leg: inspect.Left, Since: "two weeks"}},
		Settings: []inspect.Setting{{Key: "air_pressure", Moment: "found", Value: 5.1, Unit: "bar"}, {Key: "air_pressure", Moment: "left", Value: 5, Unit: "bar"},
			{Key: "rebound_clicks", Moment: "found", Text: "7 of 18"}},
		Fittings: []inspect.Fitting{
			{ID: "w1", Part: "wiper", Leg: inspect.Left, FittedVisit: "v1", EndVisit: "v2", End: inspect.EndWorn},
			{ID: "w2", Part: "wiper", Leg: inspect.Left, FittedVisit: "v2", Batch: "26-081"},
		},
		Photos: []inspect.Photo{{SHA256: sha("side"), Role: "side"}},
	}
	st := &shop.Story{Case: c, NextHours: 368, NextDate: day(2027, 5, 12)}
	st.Lines = []shop.Line{seal(cat, &first, now), bushing(cat, &first), tube(cat)}
	steerer, _ := cat.Part("crown_steerer")
	st.Lines = append(st.Lines, shop.Line{Part: steerer, Sentence: "Nothing was found.", Assessment: inspect.Assessment{Part: "crown_steerer", Verdict: inspect.Reuse}})
	damper, _ := cat.Part("damper_unit")
	st.Unopened = []shop.Line{{Part: damper, Assessment: inspect.Assessment{Part: damper.ID, Leg: inspect.Right, NotOpened: true}}}
	st.Causes = []catalog.FoundCause{{Cause: cat.Causes[0], Leg: inspect.Left, Evidence: []string{"weeping, left: ring again the second time"}}}
	return Source{Story: st, Catalog: cat, Photo: photo, Made: now.AddDate(0, 0, 2),
		Shop: ShopInfo{"The Bench on the Canal", "Towpath 9, Lower Town", "0100 555 020"}}
}

func seal(cat *catalog.Catalog, first *inspect.VisitRow, now time.Time) shop.Line {
	part, _ := cat.Part("wiper")
	lead, _ := cat.Check("seals.weep")
	kit, _ := cat.Kit(part.SoldAs)
	kit.Price = 4250
	tr := &shop.Trend{Check: lead, Now: 106, Horizon: 50, Points: []shop.TrendPoint{{Hours: 40, Used: 0.38, U: 0.06}, {Hours: 106, Used: 0.86, U: 0.08, On: now}}}
	for i := range 41 {
		x := 156 * float64(i) / 40
		tr.Band = append(tr.Band, wear.BandPoint{T: x, Mean: 0.0081 * x, Low: 0.0081*x - 0.05 - x/900, High: 0.0081*x + 0.05 + x/900})
	}
	return shop.Line{Part: part, Lead: lead, Kit: kit, Trend: tr, Renewed: false,
		Sentence: "It lets oil past at every stroke and will not last until the next service.",
		Then:     shot("seal then", lead.ID, inspect.Left, "2025-06-03T09:58:00"), ThenVisit: first,
		Now:     shot("seal now", lead.ID, inspect.Left, "2026-05-12T10:21:00"),
		Consent: &inspect.Consent{Accepted: true, By: "Z. Müller", How: "phone", At: now},
		Assessment: inspect.Assessment{Part: "wiper", Leg: inspect.Left, Verdict: inspect.Replace, WearUsed: used(0.86),
			PThen: 0.74, S: [3]float64{1e-3, 0, 1e-6}, LeadCheck: lead.ID}}
}

func bushing(cat *catalog.Catalog, first *inspect.VisitRow) shop.Line {
	part, _ := cat.Part("bushings")
	p := shot("bushing now", "bushings.feel", inspect.Right, "")
	return shop.Line{Part: part, Now: p, Then: &inspect.Photo{SHA256: sha("bushing then"), Drawn: true}, ThenVisit: first,
		Sentence: "The play lies too close to the limit to tell. Measure it once more with the dial gauge.",
		Trend: &shop.Trend{Check: cat.Checks[0], Now: 318, Horizon: 50, PriorOnly: true, Points: []shop.TrendPoint{{Hours: 318, Used: 0.93, U: 0.1}},
			Band: []wear.BandPoint{{T: 0, Mean: 0}, {T: 368, Mean: 1, High: 1.2, Low: 0.8}}},
		Assessment: inspect.Assessment{Part: "bushings", Leg: inspect.Right, Verdict: inspect.Measure}}
}

func tube(cat *catalog.Catalog) shop.Line {
	part, _ := cat.Part("stanchion")
	return shop.Line{Part: part, Sentence: "It is good for the next service and more.",
		Now: shot("tube now", "stanchions.coating", inspect.Right, "2026-05-12T10:40:00"),
		Assessment: inspect.Assessment{Part: "stanchion", Leg: inspect.Right, Verdict: inspect.Reuse, WearUsed: used(0.31),
			HoursLeft: &inspect.HoursLeft{P05: 240.4, P50: 410, P95: 905.2}}}
}

// firstVisit is the same fork as if it had never been here.
func firstVisit(t testing.TB) Source {
	s := twoVisits(t)
	s.Story.Case.Earlier = nil
	for i := range s.Story.Lines {
		l := &s.Story.Lines[i]
		l.Then, l.ThenVisit = nil, nil
		if l.Trend != nil {
			l.Trend.Points = l.Trend.Points[:1]
		}
	}
	return s
}
