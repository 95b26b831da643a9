package finding

import (
	"strings"
	"testing"

	"tideover/internal/quantity"
)

// TestAlike: what is not judged of one kind for one cause is one line in the place of the first,
// which names every place; another cause, another kind and what is judged keep their own.
func TestAlike(t *testing.T) {
	unjudged := func(where, field string) Finding {
		f := New("velocity", where, "on-store")
		f.Blank(field)
		return f
	}
	judged := New("velocity", "R9", "on-store")
	judged.Verdict = LookAt
	list := []Finding{unjudged("R1", "max-velocity-header"), judged, unjudged("R2", "max-velocity-header"), unjudged("R3", "@rule.crowd"), unjudged("R2", "max-velocity-header"), unjudged("R1", "max-velocity-header")}
	groups := Alike(Each(list))
	if len(groups) != 3 || groups[0].Where != "R1" || groups[1].Where != "R9" || groups[2].Where != "R3" {
		t.Fatalf("%d groups: %+v", len(groups), groups)
	}
	kept := 0
	for _, g := range groups {
		kept += 1 + len(g.Others)
	}
	if kept != len(list) {
		t.Errorf("%d of %d findings are in a group", kept, len(list))
	}
	title, _ := groups[0].Text(quantity.Metric)
	if strings.Count(title, "R2") != 1 || strings.Count(title, "R1") != 1 || strings.Contains(title, "R3") {
		t.Errorf("the line names its places so: %q", title)
	}
}
