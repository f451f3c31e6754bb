package tongue

import (
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"path/filepath"
	"sort"
	"strconv"
	"strings"
	"testing"
)

// saying are the calls whose first text argument a person reads.
var saying = map[string]int{"Say": 0, "Sayf": 0}

// textsIn collects the literal texts of saying calls in the Go files below
// dirs, with the place of one of them. A text that is put together at run time
// can't be found: its parts are then said one by one, or stand in spoken.
func textsIn(t *testing.T, dirs ...string) map[string]string {
	t.Helper()
	found := map[string]string{}
	set := token.NewFileSet()
	for _, dir := range dirs {
		err := filepath.WalkDir(dir, func(path string, d fs.DirEntry, err error) error {
			if err != nil || d.IsDir() || !strings.HasSuffix(path, ".go") || strings.HasSuffix(path, "_test.go") {
				return err
			}
			file, err := parser.ParseFile(set, path, nil, 0)
			if err != nil {
				return err
			}
			ast.Inspect(file, func(n ast.Node) bool {
				call, ok := n.(*ast.CallExpr)
				if !ok {
					return true
				}
				at, ok := saying[nameOf(call.Fun)]
				if !ok || len(call.Args) <= at {
					return true
				}
				if text, ok := literal(call.Args[at]); ok && text != "" {
					found[text] = set.Position(call.Pos()).String()
				}
				return true
			})
			return nil
		})
		if err != nil {
			t.Fatal(err)
		}
	}
	return found
}

func nameOf(e ast.Expr) string {
	switch f := e.(type) {
	case *ast.SelectorExpr:
		return f.Sel.Name
	case *ast.Ident:
		return f.Name
	}
	return ""
}

// literal is the text of a literal or of literals joined by +.
func literal(e ast.Expr) (string, bool) {
	switch x := e.(type) {
	case *ast.BasicLit:
		if x.Kind != token.STRING {
			return "", false
		}
		s, err := strconv.Unquote(x.Value)
		return s, err == nil
	case *ast.BinaryExpr:
		a, ok := literal(x.X)
		b, ok2 := literal(x.Y)
		return a + b, ok && ok2 && x.Op == token.ADD
	case *ast.ParenExpr:
		return literal(x.X)
	}
	return "", false
}

// Every text that the code says has a translation in every language.
func TestEveryTextIsTranslated(t *testing.T) {
	texts := textsIn(t, "../../inspect", "..")
	if len(texts) < 100 {
		t.Fatalf("only %d texts were found: the search is broken", len(texts))
	}
	for _, l := range Languages()[1:] {
		table, err := Table(l.Code)
		if err != nil {
			t.Fatal(err)
		}
		var missing []string
		for text, at := range texts {
			if strings.TrimSpace(table[text]) == "" {
				missing = append(missing, strconv.Quote(text)+" ("+at+")")
			}
		}
		sort.Strings(missing)
		for _, m := range missing {
			t.Errorf("%s: no text for %s", l.Code, m)
		}
	}
}
