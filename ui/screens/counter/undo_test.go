package counter

import (
	"testing"

	"fyne.io/fyne/v2"

	"forkwear/ui/screens/screentest"
)

func TestAnswerIsTakenBackByUndoAndByItsKey(t *testing.T) {
	env, _, s := opened(t)
	told := screentest.Told(env)
	state := func() (yes, answered bool) { return s.data.cards[0].job.Answered() }
	for _, yes := range []bool{true, false} {
		s.Show(0)
		s.Answer(yes)
		env.Run.Wait()
	}
	told.TakeBack()
	env.Run.Wait()
	if yes, answered := state(); !yes || !answered || s.at != 0 {
		t.Fatalf("after the undo yes %v, answered %v, card %d: want the first answer, its card in sight", yes, answered, s.at)
	}
	s.TypedKey(&fyne.KeyEvent{Name: fyne.KeyBackspace})
	env.Run.Wait()
	if _, answered := state(); answered {
		t.Error("the key left the answer")
	}
	told.TakeBack() // its answer is gone already: told, nothing else
	env.Run.Wait()
	if len(told.Failures) != 1 || s.told == "" {
		t.Errorf("failures %v, told %q", told.Failures, s.told)
	}
	s.TypedKey(&fyne.KeyEvent{Name: fyne.KeyBackspace})
	env.Run.Wait()
	if _, answered := state(); answered || len(told.Failures) != 1 {
		t.Errorf("a card without an answer: %v", told.Failures)
	}
}
