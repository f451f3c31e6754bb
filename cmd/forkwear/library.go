package main

import (
	"context"
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"time"

	"github.com/google/uuid"

	"forkwear/inspect"
	"forkwear/inspect/catalog"
	"forkwear/inspect/shop"
	"forkwear/media/alike"
	"forkwear/media/benchcard"
	"forkwear/media/vault"
	"forkwear/store"
)

// library is an open history with its photos and the shop's own catalog.
type library struct {
	dir    string
	db     *store.DB
	vault  *vault.Vault
	desk   *shop.Desk
	photos photoDesk
}

// defaultLibrary is the user's data folder: XDG_DATA_HOME, AppData or
// Application Support.
func defaultLibrary() string {
	base := os.Getenv("XDG_DATA_HOME")
	home, _ := os.UserHomeDir()
	switch {
	case base != "":
	case runtime.GOOS == "windows":
		base = os.Getenv("AppData")
	case runtime.GOOS == "darwin":
		base = filepath.Join(home, "Library", "Application Support")
	default:
		base = filepath.Join(home, ".local", "share")
	}
	return filepath.Join(base, "forkwear")
}

func newID() inspect.ID {
	id, err := uuid.NewV7()
	if err != nil { // the random source failed; a name of the other kind is still unique
		id = uuid.New()
	}
	return inspect.ID(id.String())
}

func openLibrary(ctx context.Context, dir string) (*library, error) {
	cat, err := shopCatalog(dir)
	if err != nil {
		return nil, err
	}
	db, err := store.Open(ctx, dir, store.Options{Clock: time.Now, NewID: newID})
	if err != nil {
		return nil, err
	}
	v, err := vault.Open(filepath.Join(dir, "photos"))
	if err != nil {
		return nil, errors.Join(err, db.Close())
	}
	l := &library{dir: dir, db: db, vault: v}
	l.desk = &shop.Desk{Lib: db, Catalog: cat, Clock: time.Now, NewID: newID, By: userName()}
	zone, err := l.zone(ctx)
	if err != nil {
		return nil, errors.Join(err, db.Close())
	}
	l.desk.Zone, l.desk.Alike, l.desk.CardVisit = zone, bitsApart, benchcard.Decode
	l.photos = photoDesk{vault: v, zone: zone}
	return l, nil
}

// bitsApart is the distance of two fingerprints, below 0 where there is none.
func bitsApart(a, b string) int {
	n, err := alike.Distance(a, b)
	if err != nil {
		return -1
	}
	return n
}

// zone is the shop's time zone: a setting, or the computer's own.
func (l *library) zone(ctx context.Context) (*time.Location, error) {
	name, err := l.db.Preference(ctx, "shop.zone")
	if err != nil || name == "" {
		return time.Local, err
	}
	z, err := time.LoadLocation(name)
	if err != nil {
		return time.Local, nil
	}
	return z, nil
}

func (l *library) Close() error { return l.db.Close() }

// shopCatalog reads the shop's own TOML files, if any, over the shipped ones.
func shopCatalog(dir string) (*catalog.Catalog, error) {
	own := map[string][]byte{}
	folder := filepath.Join(dir, "catalog")
	err := filepath.WalkDir(folder, func(path string, e fs.DirEntry, err error) error {
		if err != nil || e.IsDir() || !strings.HasSuffix(path, ".toml") {
			return err
		}
		own[filepath.Base(path)], err = os.ReadFile(path)
		return err
	})
	if err != nil && !errors.Is(err, fs.ErrNotExist) {
		return nil, err
	}
	return catalog.Load(own)
}

func userName() string {
	for _, k := range []string{"USER", "USERNAME"} {
		if u := os.Getenv(k); u != "" {
			return u
		}
	}
	return "workshop"
}
