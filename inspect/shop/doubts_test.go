package shop

import (
	"strings"
	"testing"
	"time"

	"forkwear/inspect"
)

// nibbles is a stand-in for the distance of fingerprints: the number of places
// where two texts differ, below 0 where they are of different length.
func nibbles(a, b string) int {
	if len(a) != len(b) {
		return -1
	}
	n := 0
	for i := range a {
		if a[i] != b[i] {
			n++
		}
	}
	return n
}

func TestDoubts(t *testing.T) {
	b := newBench(t)
	b.desk.Zone, b.desk.Alike = zone(t, "Europe/Berlin"), nibbles
	at := func(text string) time.Time { return utc(t, text) }
	last := inspect.Photo{ID: "old", WallTime: "2025-05-12T10:00:00", DateSource: "exif", Fingerprint: "aaaaaaaaaaaaaaaa"}
	beside := shot("2026-05-12T11:00:00")
	beside.ID, beside.Fingerprint, beside.AddedAt = "beside", "bbbbbbbbbbbbbbbb", at("2026-05-12T09:00:01Z")
	c := &Case{Visit: inspect.Visit{DroppedOff: at("2026-05-12T08:00:00Z"), Collected: at("2026-05-14T15:00:00Z")}, Photos: []inspect.Photo{beside},
		Earlier: []Earlier{{Row: inspect.VisitRow{Visit: inspect.Visit{DroppedOff: at("2025-05-12T07:00:00Z")}}, Photos: []inspect.Photo{last}}}}
	with := func(wall string, change func(p *inspect.Photo)) inspect.Photo {
		p := shot(wall)
		p.ID, p.AddedAt = "p", at("2026-05-12T12:00:00Z")
		if change != nil {
			change(&p)
		}
		return p
	}
	same := func(p *inspect.Photo) { p.Fingerprint = "aaaaaaaaaaaaabbb" }
	for name, test := range map[string]struct {
		photo inspect.Photo
		c     *Case
		want  []string // kind: part of the sentence
	}{
		"nothing":                 {with("2026-05-12T14:02:11", nil), c, nil},
		"without a visit":         {with("2019-05-12T14:02:11", nil), nil, nil},
		"at the counter":          {with("2026-05-12T09:01:00", nil), c, nil},
		"four minutes from now":   {with("2026-05-14T20:04:00", nil), &Case{}, nil},
		"tomorrow":                {with("2026-05-15T10:00:00", nil), c, []string{"future: Dated 15 May 2026, 10:00, which has not come yet"}},
		"tomorrow, no visit":      {with("2026-05-15T10:00:00", nil), nil, []string{"future: ahead"}},
		"before it came":          {with("2026-05-12T08:59:00", nil), c, []string{"outside the visit: before the fork came in on 12 May 2026"}},
		"after it went":           {with("2026-05-14T18:01:00", nil), c, []string{"outside the visit: after the fork was collected on 14 May 2026"}},
		"at the last visit":       {with("2025-05-20T09:00:00", nil), c, []string{"outside the visit: "}},
		"before the last visit":   {with("2025-05-12T08:59:00", nil), c, []string{"before the last visit: before the fork's last visit on 12 May 2025"}},
		"no date":                 {with("", nil), c, []string{"no camera date: nobody can tell"}},
		"file time":               {with("2019-05-12T14:02:11", func(p *inspect.Photo) { p.DateSource = "file time" }), c, []string{"no camera date: time of the file"}},
		"satellites agree":        {with("2026-05-12T14:02:11", func(p *inspect.Photo) { p.GPSTime = "2026-05-12T12:07:11Z" }), c, nil},
		"satellites do not":       {with("2026-05-12T14:02:11", func(p *inspect.Photo) { p.GPSTime = "2026-05-12T11:45:11Z" }), c, []string{"satellite time: 11:45 UTC, 17 minutes off"}},
		"no satellites":           {with("2026-05-12T14:02:11", func(p *inspect.Photo) { p.GPSTime = "soon" }), c, nil},
		"blurred":                 {with("2026-05-12T14:02:11", func(p *inspect.Photo) { p.Usable, p.Remarks = false, []string{"Blurred."} }), c, []string{"not usable: take it again. Blurred."}},
		"last year's again":       {with("2026-05-12T14:02:11", same), c, []string{"looks like another: Looks like the photo of 12 May 2025"}},
		"last year's, both wrong": {with("2025-05-12T08:59:00", same), c, []string{"before the last visit: ", "looks like another: "}},
		"saved anew":              {with("", func(p *inspect.Photo) { p.Fingerprint = "bbbbbbbbbbbbbbba" }), c, []string{"no camera date: ", "looks like another: 12 May 2026"}},
		"a second shot":           {with("2026-05-12T11:00:01", func(p *inspect.Photo) { p.Fingerprint = "bbbbbbbbbbbbbbba" }), c, nil},
		"seven bits off":          {with("2026-05-12T14:02:11", func(p *inspect.Photo) { p.Fingerprint = "aaaaaaaaaccccccc" }), c, nil},
		"not to be compared":      {with("2026-05-12T14:02:11", func(p *inspect.Photo) { p.Fingerprint = "aa" }), c, nil},
	} {
		got := b.desk.Doubts(test.photo, test.c, nil, at("2026-05-14T18:00:00Z"))
		if len(got) != len(test.want) {
			t.Errorf("%s: %+v", name, got)
			continue
		}
		for i, w := range test.want {
			kind, words, _ := strings.Cut(w, ": ")
			if string(got[i].Kind) != kind || !strings.Contains(got[i].Words, words) {
				t.Errorf("%s: %s: %q, want %q", name, got[i].Kind, got[i].Words, w)
			}
		}
	}
	// a clock that was corrected takes the doubt away
	clock := []inspect.CameraClock{{Camera: "M C 9", Add: 365 * 24 * time.Hour, At: at("2026-05-12T00:00:00Z")}}
	if got := b.desk.Doubts(with("2025-05-12T14:02:11", nil), c, clock, at("2026-05-14T18:00:00Z")); got != nil {
		t.Errorf("corrected: %+v", got)
	}
	b.desk.Alike = nil
	if got := b.desk.Doubts(with("2026-05-12T14:02:11", same), c, nil, at("2026-05-14T18:00:00Z")); got != nil {
		t.Errorf("without fingerprints: %+v", got)
	}
}
