package architecture

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"tideover/internal/catalogue"
)

// TestEveryRuleIsRead: every rule a profile can hold is named by code outside the table of rules
// itself: a figure in a profile that decides nothing looks like one that does.
func TestEveryRuleIsRead(t *testing.T) {
	var source strings.Builder
	for _, p := range packages(t) {
		for _, f := range p.GoFiles {
			if filepath.Base(p.ImportPath) == "homes" || filepath.Base(p.ImportPath) == "catalogue" && (f == "profile.go" || f == "retired.go") {
				continue // random jobs, and the table
			}
			b, err := os.ReadFile(filepath.Join(p.Dir, f))
			if err != nil {
				t.Fatal(err)
			}
			source.Write(b)
		}
	}
	c, err := catalogue.Load()
	if err != nil {
		t.Fatal(err)
	}
	read := 0
	for key := range c.Profiles["generic"].Rules {
		stem := key[:strings.LastIndexByte(key, '-')+1] // "device-category-" + category
		if strings.Contains(source.String(), `"`+key+`"`) || strings.HasPrefix(key, "device-category-") && strings.Contains(source.String(), `"`+stem+`"`) {
			read++
			continue
		}
		t.Errorf("the rule %s of a profile is read by nothing", key)
	}
	if read < 30 {
		t.Errorf("only %d rules are read: the search is broken", read)
	}
}
