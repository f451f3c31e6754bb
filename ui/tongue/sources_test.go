package tongue

import (
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"sort"
	"strconv"
	"strings"
	"testing"

	"forkwear/inspect/shop"
)

// saying are the calls of which a text argument is read by a person, with the
// place of that argument: texts, and the refusals that are told in a sentence.
var saying = map[string]int{"Say": 0, "Sayf": 0, "L": 0, "X": 0, "Refuse": 1}

// textsOf gives the texts that a call says.
func textsOf(call *ast.CallExpr) []string {
	name := nameOf(call.Fun)
	at, ok := saying[name]
	switch {
	case name == "SayAs" && len(call.Args) == 2: // a word in one of its senses
		sense, ok := literal(call.Args[0])
		word, ok2 := literal(call.Args[1])
		if ok && ok2 {
			return []string{sense + "|" + word}
		}
		return nil
	case name == "Count" && len(call.Args) == 2 && !of(call.Fun, "strings"): // one thing, or several
		if thing, ok := literal(call.Args[1]); ok {
			return []string{thing, thing + "s"}
		}
		return nil
	case name == "said": // values of the record that are shown in the language in force
		var out []string
		for _, a := range call.Args {
			if text, ok := literal(a); ok {
				out = append(out, text)
			}
		}
		return out
	case !ok || len(call.Args) <= at:
		return nil
	}
	if text, ok := literal(call.Args[at]); ok && isWord(text) {
		return []string{text}
	}
	return nil
}

// of tells whether a function is one of the package pkg.
func of(e ast.Expr, pkg string) bool {
	s, ok := e.(*ast.SelectorExpr)
	if !ok {
		return false
	}
	x, ok := s.X.(*ast.Ident)
	return ok && x.Name == pkg
}

// textsIn collects the literal texts of saying calls in the Go files below
// dirs, with the place of one of them. A text that is put together at run time
// can't be found: its parts are then said one by one, or stand in recorded.
func textsIn(t *testing.T, dirs ...string) map[string]string {
	t.Helper()
	found := map[string]string{}
	set := token.NewFileSet()
	for _, dir := range dirs {
		err := filepath.WalkDir(dir, func(path string, d fs.DirEntry, err error) error {
			if err == nil && strings.HasSuffix(path, ".tmpl") {
				return textsOfTemplate(path, found)
			}
			if err != nil || d.IsDir() || !strings.HasSuffix(path, ".go") || strings.HasSuffix(path, "_test.go") || strings.HasSuffix(filepath.Dir(path), "test") {
				return err
			}
			file, err := parser.ParseFile(set, path, nil, 0)
			if err != nil {
				return err
			}
			ast.Inspect(file, func(n ast.Node) bool {
				if call, ok := n.(*ast.CallExpr); ok {
					for _, text := range textsOf(call) {
						found[text] = set.Position(call.Pos()).String()
					}
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

var inTemplate = regexp.MustCompile(`{{sayf? ("(?:[^"\\\\]|\\\\.)*")`)

// textsOfTemplate adds the texts that a template says.
func textsOfTemplate(path string, found map[string]string) error {
	data, err := os.ReadFile(path)
	for _, m := range inTemplate.FindAllSubmatch(data, -1) {
		if text, err := strconv.Unquote(string(m[1])); err == nil && isWord(text) {
			found[text] = path
		}
	}
	return err
}

// recorded are the values of the record that are said when they are shown, but
// never as literals: how a customer answered, what a photo shows.
var recorded = []string{"here", "signed here", "signed on paper", "phone", "message", "email",
	"air", "coil", "bladder", "floating piston", "open bath", "closed unit", "single", "dual"} // words of a data sheet

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
	texts := textsIn(t, "../../inspect", "../../store", "../../media", "..")
	if len(texts) < 500 || texts["What needs a decision"] == "" {
		t.Fatalf("only %d texts were found: the search is broken", len(texts))
	}
	for _, k := range shop.RuleKeys() {
		texts[k.Name] = "rule"
	}
	for _, s := range recorded {
		texts[s] = "of the record"
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
		if len(missing) > 0 {
			t.Errorf("%s: %d texts are missing:\n%s", l.Code, len(missing), strings.Join(missing, "\n"))
		}
	}
}
