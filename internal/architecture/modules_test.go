package architecture

import (
	"os"
	"regexp"
	"slices"
	"strings"
	"testing"
)

// TestModulesAreTold: docs/dependencies.md names every module that our code or tests
// import, in the version of go.mod, and no other.
func TestModulesAreTold(t *testing.T) {
	mod, err := os.ReadFile("../../go.mod")
	if err != nil {
		t.Fatal(err)
	}
	page, err := os.ReadFile("../../docs/dependencies.md")
	if err != nil {
		t.Fatal(err)
	}
	var imports []string
	for _, p := range packages(t) {
		imports = slices.Concat(imports, p.Imports, p.TestImports, p.XTestImports)
	}
	seen := 0
	for _, m := range regexp.MustCompile(`(?m)^\t(\S+) (v\S+)`).FindAllStringSubmatch(string(mod), -1) {
		uses := slices.ContainsFunc(imports, func(i string) bool { return i == m[1] || strings.HasPrefix(i, m[1]+"/") })
		row := regexp.MustCompile(`(?m)^\| ` + regexp.QuoteMeta(m[1]) + `(/\S+)? \| (\S+) \|`).FindStringSubmatch(string(page))
		switch {
		case uses && row == nil:
			t.Errorf("docs/dependencies.md does not name %s %s", m[1], m[2])
		case uses && row[2] != m[2]:
			t.Errorf("docs/dependencies.md has %s %s; go.mod has %s", m[1], row[2], m[2])
		case !uses && row != nil:
			t.Errorf("docs/dependencies.md names %s, which nothing of ours imports", m[1])
		}
		if uses {
			seen++
		}
	}
	if seen < 10 {
		t.Errorf("only %d modules seen: the walk is broken", seen)
	}
}
