package architecture

import (
	"go/ast"
	"go/parser"
	"go/token"
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"testing"

	"tideover/internal/words"
)

// TestMessagesExist: every message id written out in a call of words.Say or words.Has is
// in the message file, so that no user reads an id.
func TestMessagesExist(t *testing.T) {
	seen := 0
	for _, p := range packages(t) {
		fset := token.NewFileSet()
		for _, f := range p.GoFiles {
			file, err := parser.ParseFile(fset, filepath.Join(p.Dir, f), nil, 0)
			if err != nil {
				t.Fatal(err)
			}
			ast.Inspect(file, func(n ast.Node) bool {
				call, ok := n.(*ast.CallExpr)
				if !ok || len(call.Args) == 0 || !isSay(call.Fun) {
					return true
				}
				lit, ok := call.Args[0].(*ast.BasicLit)
				if !ok {
					return true
				}
				id, err := strconv.Unquote(lit.Value)
				seen++
				if err != nil || !words.Has(id) {
					t.Errorf("%s: message %q is not in internal/words/en", fset.Position(lit.Pos()), id)
				}
				return true
			})
		}
	}
	for _, p := range packages(t) {
		files, _ := filepath.Glob(filepath.Join(p.Dir, "pages", "*.html"))
		for _, f := range files {
			b, err := os.ReadFile(f)
			if err != nil {
				t.Fatal(err)
			}
			for _, m := range saidInPage.FindAllStringSubmatch(string(b), -1) {
				if seen++; !words.Has(m[1]) {
					t.Errorf("%s: message %q is not in internal/words/en", f, m[1])
				}
			}
		}
	}
	if seen < 80 {
		t.Errorf("only %d calls found: the walk is broken", seen)
	}
}

var saidInPage = regexp.MustCompile(`say "([^"]+)"`)

func isSay(fun ast.Expr) bool {
	s, ok := fun.(*ast.SelectorExpr)
	if !ok || s.Sel.Name != "Say" {
		return false
	}
	pkg, ok := s.X.(*ast.Ident)
	return ok && pkg.Name == "words"
}
