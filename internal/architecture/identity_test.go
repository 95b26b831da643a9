package architecture

import (
	"os"
	"path/filepath"
	"regexp"
	"testing"
)

// TestIdentitiesAreNames: what a part is for and what a control decides by are compared by
// their named constants. A text in quotes could be misspelt, or be a message's id, and
// nothing would say so.
func TestIdentitiesAreNames(t *testing.T) {
	quoted := regexp.MustCompile(`Purpose:? *(==|!=)? *"[a-z]|"part\.[a-z]|Kind (==|!=) "(lock-out|cut-out|dry-run|pressure-switch|flow-control|speed-control)"`)
	seen := 0
	for _, p := range packages(t) {
		for _, f := range p.GoFiles {
			if f == "purpose.go" {
				continue
			}
			b, err := os.ReadFile(filepath.Join(p.Dir, f))
			if err != nil {
				t.Fatal(err)
			}
			seen++
			if m := quoted.Find(b); m != nil {
				t.Errorf("%s/%s: %s; reason: an identity is a named constant of assembly (purpose.go, control.go)", p.ImportPath, f, m)
			}
		}
	}
	if seen < 400 {
		t.Errorf("only %d files seen: the walk is broken", seen)
	}
}
