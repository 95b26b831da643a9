package architecture

import (
	"fmt"
	"go/ast"
	"go/token"
	"maps"
	"slices"
	"strconv"
	"testing"
)

const literalsFile = "../assume/testdata/literals.txt"

// plain are the figures that need no account wherever they stand: nothing, one, halves and doubles,
// quarters, and what converts units.
var plain = map[float64]bool{0: true, 1: true, 2: true, 0.5: true, 4: true, 0.25: true, 10: true, 100: true, 1000: true,
	60: true, 24: true, 7: true, 365.25: true, 3600: true, 86400: true, 1e-3: true, 1e5: true, 1440: true}

// TestLiteralsAreAccountedFor: a figure that is written as a decimal inside a function of an engine
// has no name to be found by: each is in the list, with how often it stands in that function and
// what it is. One that is added, or stands once more, fails here; so does one that is gone.
// Whole numbers are counts and indices and are left out; equations have registers of their own.
func TestLiteralsAreAccountedFor(t *testing.T) {
	account(t, literalsFile, literalsOf, "a figure inside a function (and how often), unaccounted for; name it, make it an assumption, or")
}

// literalsOf are the decimals inside the functions of a package, as "package.function figure times".
func literalsOf(t *testing.T, pkg string) (list []string) {
	t.Helper()
	counts := map[string]int{}
	for _, d := range declarations(t, pkg) {
		f, is := d.(*ast.FuncDecl)
		if !is || f.Body == nil {
			continue
		}
		name := pkg + "." + receiver(f) + f.Name.Name
		ast.Inspect(f.Body, func(n ast.Node) bool {
			b, is := n.(*ast.BasicLit)
			if !is || b.Kind != token.FLOAT {
				return true
			}
			if v, err := strconv.ParseFloat(b.Value, 64); err != nil || !plain[v] {
				counts[name+" "+b.Value]++
			}
			return true
		})
	}
	for _, key := range slices.Sorted(maps.Keys(counts)) {
		list = append(list, fmt.Sprintf("%s %d", key, counts[key]))
	}
	return list
}

// receiver is the type whose method a function is, with a dot, or "".
func receiver(f *ast.FuncDecl) string {
	if f.Recv == nil || len(f.Recv.List) == 0 {
		return ""
	}
	e := f.Recv.List[0].Type
	if p, is := e.(*ast.StarExpr); is {
		e = p.X
	}
	if id, is := e.(*ast.Ident); is {
		return id.Name + "."
	}
	return ""
}
