package tongue

import (
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"path/filepath"
	"regexp"
	"sort"
	"strconv"
	"strings"
	"testing"
	"unicode"
)

// showing are the calls that put a text before a person's eyes, with the places
// of their text arguments.
var showing = map[string][]int{
	"NewLabel": {0}, "NewLabelWithStyle": {0}, "NewRichTextWithText": {0}, "NewButton": {0}, "NewCheck": {0}, "NewText": {0},
	"NewTextButton": {0}, "NewChip": {0}, "NewRailButton": {1}, "NewEmptyState": {0, 1, 2}, "NewVerdictMark": {1},
	"SetText": {0}, "SetPlaceHolder": {0}, "SetWord": {0}, "SetHint": {0}, "SetQuiet": {1},
	"Title": {0}, "Quiet": {0}, "Heading": {0}, "Text": {0}, "Bold": {0}, "quiet": {0}, "plain": {0}, "bold": {0},
	"heading": {0}, "section": {0}, "field": {0}, "tell": {0}, "Saved": {0}, "Hint": {0}, "Working": {0}, "NewField": {1},
	"Empty": {1, 2, 3}, "AddRow": {0}, "NewTabItem": {0}, "flow": {0}, "table": {0}, "rows": {0},
}

// noWord are literals that are shown as they are in every language: signs, names
// of units and keys, and examples of what can be typed.
var noWord = map[string]bool{"EUR": true, "2026-11-30": true, "OK": true, "Forkwear": true, "English": true, "Deutsch": true}

var shownVerb = regexp.MustCompile(`%(\[\d+\])?[-+#0]*(\d+)?(\.\d+)?[a-zA-Z%]`)

// isWord tells whether a text has a word of two letters or more once its values
// are taken out.
func isWord(s string) bool {
	if noWord[s] {
		return false
	}
	letters := 0
	for _, r := range shownVerb.ReplaceAllString(s, " ") {
		if !unicode.IsLetter(r) {
			letters = 0
			continue
		}
		if letters++; letters == 2 {
			return true
		}
	}
	return false
}

// bare collects the literals in an expression that are shown as they stand: not
// inside a call that says them, but in sums of texts and in formats.
func bare(e ast.Expr) []string {
	switch x := e.(type) {
	case *ast.BasicLit:
		if s, err := strconv.Unquote(x.Value); x.Kind == token.STRING && err == nil && isWord(s) {
			return []string{s}
		}
	case *ast.BinaryExpr:
		if x.Op == token.ADD {
			return append(bare(x.X), bare(x.Y)...)
		}
	case *ast.ParenExpr:
		return bare(x.X)
	case *ast.CallExpr:
		if n := nameOf(x.Fun); n == "Sprintf" || n == "Sprint" || n == "TrimSpace" {
			var out []string
			for _, a := range x.Args {
				out = append(out, bare(a)...)
			}
			return out
		}
	}
	return nil
}

// bareIn finds the literals below dir that are shown without being said.
func bareIn(t *testing.T, dir string) []string {
	t.Helper()
	var out []string
	set := token.NewFileSet()
	err := filepath.WalkDir(dir, func(path string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() || !strings.HasSuffix(path, ".go") || strings.HasSuffix(path, "_test.go") || strings.HasSuffix(d.Name(), "test.go") {
			return err
		}
		file, err := parser.ParseFile(set, path, nil, 0)
		if err != nil {
			return err
		}
		at := func(n ast.Node, texts []string) {
			for _, s := range texts {
				out = append(out, set.Position(n.Pos()).String()+": "+strconv.Quote(s))
			}
		}
		ast.Inspect(file, func(n ast.Node) bool {
			switch x := n.(type) {
			case *ast.CallExpr:
				for _, i := range showing[nameOf(x.Fun)] {
					if i < len(x.Args) {
						at(x, bare(x.Args[i]))
					}
				}
			case *ast.AssignStmt: // e.PlaceHolder = "..."
				for i, l := range x.Lhs {
					if s, ok := l.(*ast.SelectorExpr); ok && i < len(x.Rhs) && (s.Sel.Name == "Text" || s.Sel.Name == "PlaceHolder") {
						at(x, bare(x.Rhs[i]))
					}
				}
			}
			return true
		})
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	sort.Strings(out)
	return out
}

// No English text is put before a person without being said in the language in
// force.
func TestNoTextIsLeftInEnglish(t *testing.T) {
	for _, s := range bareIn(t, "..") {
		t.Error(s)
	}
}

func TestIsWord(t *testing.T) {
	for s, want := range map[string]bool{"": false, "–": false, "%d / %d": false, "h": false, "Undo": true, "%d of %d": true, "±": false, "%s": false, "#%d · %s": false} {
		if isWord(s) != want {
			t.Errorf("%q: %v", s, isWord(s))
		}
	}
}
