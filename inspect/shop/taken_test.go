package shop

import (
	"testing"
	"time"

	"forkwear/inspect"
)

// A case tells when its photos were taken by the corrected clock: the camera of
// the record is an hour and seven minutes behind, and the photo itself keeps
// what the camera wrote.
func TestCaseTellsTheCorrectedTime(t *testing.T) {
	b := newBench(t)
	b.desk.Zone = time.UTC
	v := b.visit("look_over", 10).Visit
	p := inspect.Photo{ID: "p1", SHA256: "s1", VisitID: v.ID, Make: "M", Model: "C", BodySerial: "9", WallTime: "2024-03-01T09:00:00", DateSource: "exif", AddedAt: b.now}
	if _, err := b.lib.AddPhoto(t.Context(), p); err != nil {
		t.Fatal(err)
	}
	if err := b.desk.SetClock(t.Context(), p.Camera(), 67*time.Minute); err != nil {
		t.Fatal(err)
	}
	c, err := b.desk.Open(t.Context(), v.ID)
	if err != nil {
		t.Fatal(err)
	}
	at, ok := c.TakenAt(c.Photos[0])
	if want := time.Date(2024, 3, 1, 10, 7, 0, 0, time.UTC); !ok || !at.Equal(want) {
		t.Errorf("taken at %v, %v; want %v", at, ok, want)
	}
	if c.Photos[0].WallTime != p.WallTime {
		t.Error("the correction was written into the record")
	}
	if _, ok := (&Case{}).TakenAt(p); ok {
		t.Error("a case that was not opened knows a time")
	}
}
