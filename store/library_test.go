package store_test

import (
	"context"
	"testing"

	"forkwear/inspect"
	"forkwear/store"
	"forkwear/store/librarytest"
)

var ctx = context.Background()

// mustOpen opens the library in dir and closes it with the test.
func mustOpen(t testing.TB, dir string) *store.DB {
	t.Helper()
	db, err := store.Open(ctx, dir, store.Options{Machine: "bench"})
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { db.Close() })
	return db
}

func must(t testing.TB, err error) {
	t.Helper()
	if err != nil {
		t.Fatal(err)
	}
}

func TestLibrary(t *testing.T) {
	librarytest.Run(t, func(t *testing.T) inspect.Library { return mustOpen(t, t.TempDir()) })
}
