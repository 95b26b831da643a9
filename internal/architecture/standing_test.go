package architecture

import (
	"os"
	"path/filepath"
	"regexp"
	"testing"
)

// TestStandingHasOneTable: no package has a flow of its own below which water stands.
func TestStandingHasOneTable(t *testing.T) {
	own := regexp.MustCompile(`(?m)^\s*(?:const\s+)?(\w*(?:trickle|still|stand|floor|moves|Flow)\w*)\s*(?:[\w.]+\s*)?=\s*(?:[\w.]+\()?\d*\.?\d*e-\d+`)
	for _, p := range packages(t) {
		for _, f := range p.GoFiles {
			if f == "standing.go" {
				continue
			}
			b, err := os.ReadFile(filepath.Join(p.Dir, f))
			if err != nil {
				t.Fatal(err)
			}
			for _, m := range own.FindAllSubmatch(b, -1) {
				if name := string(m[1]); name != "floorFlow" && name != "leastFlow" { // the solver's own arithmetic
					t.Errorf("%s/%s: %s; reason: the flows below which water stands are one table (quantity/standing.go)", p.ImportPath, f, name)
				}
			}
		}
	}
}
