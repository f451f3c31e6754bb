package sample

import (
	"os"
	"path/filepath"
	"testing"
	"time"
)

// TestShotsToLookAt writes one photo of each subject into the folder that
// FORKWEAR_SHEET names.
func TestShotsToLookAt(t *testing.T) {
	dir := os.Getenv("FORKWEAR_SHEET")
	if dir == "" {
		t.Skip("set FORKWEAR_SHEET to a folder for pictures to look at")
	}
	at := time.Date(2026, 11, 19, 10, 8, 0, 0, time.UTC)
	for _, x := range []struct {
		name string
		s    shot
	}{
		{"tube1", shot{of: ofTube, wear: wear{grade: 1, place: 4}, diameter: 36}},
		{"tube4", shot{of: ofTube, wear: wear{grade: 4, place: 5}, diameter: 34}},
		{"card", shot{of: ofTubeCard, wear: wear{grade: 1.5, scratch: 18, place: 6}, diameter: 36, card: "x"}},
		{"bare", shot{of: ofTubeCard, wear: wear{grade: 3, bare: 22, place: 7}, diameter: 36, card: "x"}},
		{"seal1", shot{of: ofSeal, wear: wear{grade: 1}, place: 2, diameter: 36}},
		{"seal4", shot{of: ofSeal, wear: wear{grade: 4}, place: 5, diameter: 36}},
		{"bushing3", shot{of: ofBushing, wear: wear{grade: 3}}}, {"boot3", shot{of: ofBoot, wear: wear{grade: 3}}},
		{"left", shot{of: ofLeft}}, {"right", shot{of: ofRight, place: 6}}, {"serial", shot{of: ofSerial, words: "S204713"}}, {"clock", shot{of: ofClock}},
	} {
		s := x.s
		s.at, s.visit = at, 40
		if s.card != "" {
			s.card, s.words, s.fork = "0192f0c4-1234-7abc-8def-0123456789ab", "No. 40", "Tarn 36"
		}
		if s.place == 0 {
			s.place = s.wear.place
		}
		began := time.Now()
		got, err := s.draw()
		if err != nil {
			t.Fatal(err)
		}
		t.Log(x.name, time.Since(began), len(got.jpeg))
		if err := os.WriteFile(filepath.Join(dir, x.name+".jpg"), got.jpeg, 0o600); err != nil {
			t.Fatal(err)
		}
	}
}
