package architecture

import (
	"fmt"
	"go/ast"
	"go/parser"
	"go/token"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// engines are the packages whose figures move verdicts.
var engines = []string{"appraise", "assembly", "base", "circuit", "commission", "day", "demand", "diagnose", "disinfect", "freshness", "hydraulics",
	"outage", "power", "procedure", "proof", "seasons", "service", "site", "sitework", "store", "years"}

// constantKinds are what a figure of an engine may be that is not an assumption of its own: one of
// physics (units among them), of arithmetic (steps, tolerances, counts, tries), of a rule or guide
// that is cited beside it, or of judgement that is told at its place and not moved (yet).
var constantKinds = map[string]bool{"physics": true, "arithmetic": true, "rule": true, "judgement": true}

const constantsFile = "../assume/testdata/constants.txt"

// TestFiguresAreAccountedFor: every figure that a name of a package gives a value to, in the
// packages whose figures move verdicts, is an assumption (package assume) or said what else it is
// in the list. A figure that enters an engine unaccounted for fails here; so does a name that is gone.
func TestFiguresAreAccountedFor(t *testing.T) {
	account(t, constantsFile, figuresOf, "a figure and neither an assumption (package assume) nor accounted for")
}

// account holds what the engines have against a list of it, a line and its kind each: none is
// missing, none is there twice, none is gone.
func account(t *testing.T, file string, of func(t *testing.T, pkg string) []string, fault string) {
	t.Helper()
	src, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	said := map[string]bool{}
	for n, line := range strings.Split(strings.TrimSpace(string(src)), "\n") {
		at := max(strings.LastIndexByte(line, ' '), 0)
		if kind := strings.TrimSpace(line[at:]); said[line[:at]] || !constantKinds[kind] {
			t.Errorf("%s:%d: %q is there twice, or no kind", filepath.Base(file), n+1, line)
		}
		said[line[:at]] = true
	}
	there := map[string]bool{}
	for _, pkg := range engines {
		for _, name := range of(t, pkg) {
			there[name] = true
			if !said[name] {
				t.Errorf("%s is %s; add \"%s physics|arithmetic|rule|judgement\" to %s", name, fault, name, file)
			}
		}
	}
	for name := range said {
		if !there[name] {
			t.Errorf("%s is accounted for and gone", name)
		}
	}
}

// declarations are those of a package's files but its tests'.
func declarations(t *testing.T, pkg string) (list []ast.Decl) {
	t.Helper()
	files, err := filepath.Glob("../" + pkg + "/*.go")
	if err != nil || len(files) == 0 {
		t.Fatalf("%s: %v", pkg, err)
	}
	for _, file := range files {
		if strings.HasSuffix(file, "_test.go") {
			continue
		}
		tree, err := parser.ParseFile(token.NewFileSet(), file, nil, 0)
		if err != nil {
			t.Fatal(err)
		}
		list = append(list, tree.Decls...)
	}
	return list
}

// figuresOf are the names of a package that are given a number, alone or within a value; equations
// have registers of their own.
func figuresOf(t *testing.T, pkg string) (names []string) {
	t.Helper()
	for _, d := range declarations(t, pkg) {
		g, is := d.(*ast.GenDecl)
		if !is || g.Tok != token.CONST && g.Tok != token.VAR {
			continue
		}
		for _, spec := range g.Specs {
			v := spec.(*ast.ValueSpec)
			for i, name := range v.Names {
				if i < len(v.Values) && hasNumber(v.Values[i]) {
					names = append(names, fmt.Sprintf("%s.%s", pkg, name.Name))
				}
			}
		}
	}
	return names
}

func hasNumber(value ast.Expr) (found bool) {
	if call, is := value.(*ast.CallExpr); is {
		if f, is := call.Fun.(*ast.SelectorExpr); is && f.Sel.Name == "Register" {
			return false
		}
	}
	ast.Inspect(value, func(n ast.Node) bool {
		if _, is := n.(*ast.FuncLit); is {
			return false
		}
		if b, is := n.(*ast.BasicLit); is && (b.Kind == token.FLOAT || b.Kind == token.INT) {
			found = true
		}
		return true
	})
	return found
}
