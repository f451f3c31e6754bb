package media

import (
	"go/parser"
	"go/token"
	"io/fs"
	"path/filepath"
	"strings"
	"testing"
)

// TestOnlyExifKnowsGoexif: goexif on a raw file can loop for ever or take all
// memory, so nothing but the package exif may import it, in tests neither.
func TestOnlyExifKnowsGoexif(t *testing.T) {
	found := map[string]bool{}
	err := filepath.WalkDir("..", func(path string, d fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		if d.IsDir() && strings.HasPrefix(d.Name(), ".") && d.Name() != ".." {
			return fs.SkipDir
		}
		if !strings.HasSuffix(path, ".go") {
			return nil
		}
		f, err := parser.ParseFile(token.NewFileSet(), path, nil, parser.ImportsOnly)
		if err != nil {
			return nil // another test's business
		}
		for _, im := range f.Imports {
			if strings.Contains(im.Path.Value, "rwcarlsen/goexif") {
				found[filepath.ToSlash(path)] = true
			}
			if strings.Contains(im.Path.Value, "goexif/mknote") {
				t.Errorf("%s imports goexif's maker notes, which are known to panic", path)
			}
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	for path := range found {
		if path != "../media/exif/tags.go" {
			t.Errorf("%s imports goexif: use media/exif", path)
		}
	}
	if !found["../media/exif/tags.go"] {
		t.Error("the search did not even find media/exif/tags.go")
	}
}
