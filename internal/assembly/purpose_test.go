package assembly

import (
	"go/ast"
	"go/parser"
	"go/token"
	"strings"
	"testing"

	"tideover/internal/words"
)

// TestPurposesHaveWords: every purpose has its words, but the one no paper shows, and every
// "part." message is the words of a purpose, or of the tee a drain hangs on.
func TestPurposesHaveWords(t *testing.T) {
	file, err := parser.ParseFile(token.NewFileSet(), "purpose.go", nil, 0)
	if err != nil {
		t.Fatal(err)
	}
	known := map[string]bool{}
	ast.Inspect(file, func(n ast.Node) bool {
		if v, is := n.(*ast.ValueSpec); is {
			for _, x := range v.Values {
				id := strings.Trim(x.(*ast.BasicLit).Value, `"`)
				known[id] = true
				if purpose := Purpose(id); !words.Has(purpose.Message()) && purpose != AsServiceTee {
					t.Errorf("%s has no words %s", v.Names[0].Name, purpose.Message())
				}
			}
		}
		return true
	})
	for _, id := range words.IDs() {
		if p, is := strings.CutPrefix(id, "part."); is && !known[p] {
			t.Errorf("%s is the words of no purpose", id)
		}
	}
	if len(known) < 80 {
		t.Errorf("only %d purposes seen: the walk is broken", len(known))
	}
}
