package store_test

import (
	"bufio"
	"fmt"
	"os"
	"os/exec"
	"testing"
	"time"

	"forkwear/inspect"
	"forkwear/store"
	"forkwear/store/librarytest"
)

// childDir names the variable that makes this test binary the writing child.
const childDir = "FORKWEAR_TEST_WRITE_INTO"

func TestMain(m *testing.M) {
	if dir := os.Getenv(childDir); dir != "" {
		writeForEver(dir)
	}
	os.Exit(m.Run())
}

// writeForEver writes readings, two in each transaction, and prints the ids of
// those that were acknowledged, until it is killed.
func writeForEver(dir string) {
	db, err := store.Open(ctx, dir, store.Options{})
	for i := 0; err == nil; i++ {
		a := inspect.ID(fmt.Sprintf("%d-%d", os.Getpid(), i))
		if err = db.AddReadings(ctx, librarytest.Reading(1, a+"a"), librarytest.Reading(1, a+"b")); err == nil {
			fmt.Println(a)
		}
	}
	fmt.Fprintln(os.Stderr, err)
	os.Exit(1)
}

// Killed five times in the middle of writing, nothing acknowledged is lost and
// no half of a transaction is kept.
func TestKilled(t *testing.T) {
	dir := t.TempDir()
	db := mustOpen(t, dir)
	_, err := db.StartVisit(ctx, librarytest.DropOff(1))
	must(t, err)
	must(t, db.Close())
	var acknowledged []inspect.ID
	for range 5 {
		acknowledged = append(acknowledged, killedChild(t, dir)...)
	}
	db = mustOpen(t, dir)
	rs, err := db.Readings(ctx, inspect.ReadingFilter{})
	must(t, err)
	kept := map[inspect.ID]bool{}
	for _, r := range rs {
		kept[r.ID] = true
	}
	for _, id := range acknowledged {
		if !kept[id+"a"] || !kept[id+"b"] {
			t.Errorf("%s was acknowledged and is lost", id)
		}
	}
	for id := range kept {
		if whole := id[:len(id)-1]; !kept[whole+"a"] || !kept[whole+"b"] {
			t.Errorf("of %s only one half is kept", whole)
		}
	}
	for _, err := range db.Verify(ctx) {
		if inspect.CodeOf(err) != inspect.Conflict { // all of them answer one slot
			t.Error(err)
		}
	}
	t.Logf("%d acknowledged, %d kept", 2*len(acknowledged), len(rs))
}

func killedChild(t *testing.T, dir string) (acknowledged []inspect.ID) {
	t.Helper()
	child := exec.Command(os.Args[0])
	child.Env = append(os.Environ(), childDir+"="+dir)
	child.Stderr = os.Stderr
	out, err := child.StdoutPipe()
	must(t, err)
	must(t, child.Start())
	lines := bufio.NewScanner(out)
	for lines.Scan() {
		if len(acknowledged) == 0 {
			time.AfterFunc(60*time.Millisecond, func() { _ = child.Process.Kill() })
		}
		acknowledged = append(acknowledged, inspect.ID(lines.Text()))
	}
	_ = child.Wait() // it was killed
	if len(acknowledged) == 0 {
		t.Fatal("the child wrote nothing")
	}
	return acknowledged
}
