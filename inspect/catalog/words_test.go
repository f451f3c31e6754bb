package catalog

import (
	"testing"

	"forkwear/inspect"
)

func TestGradeWords(t *testing.T) {
	k := Check{Kind: Grade, Words: map[string]string{"0": "dry", "3": "ring again", "5": "runs"}}
	for grade, want := range map[float64]string{
		0: "dry", 3: "ring again", 5: "runs", 2: "between 'dry' and 'ring again'", 3.5: "between 'ring again' and 'runs'", -1: "", 6: "",
	} {
		if got := k.Word(grade); got != want {
			t.Errorf("grade %g is %q, want %q", grade, got, want)
		}
	}
	if got := k.GradeWords(); got[0] != "dry" || got[1] != "" || got[5] != "runs" {
		t.Errorf("words are %q", got)
	}
	fine := Check{Kind: Fine, Words: map[string]string{"not_fine": "hisses"}}
	if fine.Word(3) != "" || fine.AnswerWord(inspect.NotFine) != "hisses" || fine.AnswerWord(inspect.Fine) != "fine" {
		t.Error("a fine or not-fine check tells its words wrongly")
	}
	for _, a := range []inspect.Answer{inspect.NotLooked, inspect.CannotSee, inspect.CannotGauge, inspect.DoesNotApply, inspect.ZoneSeen} {
		if fine.AnswerWord(a) == "" {
			t.Errorf("no word for %s", a)
		}
	}
}
