package proof

import (
	"context"
	"fmt"
	"strings"
	"testing"

	"tideover/internal/assembly"
	"tideover/internal/catalogue"
	"tideover/internal/demo"
	"tideover/internal/job"
)

// besideV2 is Lantern Row with hand valves side by side with V2 in its by-pass, so that it
// has so many in all.
func besideV2(t *testing.T, valves int) Input {
	t.Helper()
	src := string(demo.Source(t, "lantern-row"))
	var parts, joins strings.Builder
	from, to := "t1", "t3"
	for n := 3; n <= valves-1; n++ { // v0, v1, v2 are there
		a, b := fmt.Sprintf("ta%d", n), fmt.Sprintf("tb%d", n)
		fmt.Fprintf(&parts, "  v%d:\n    kind: hand-valve\n    stands: shut\n  %s:\n    kind: tee\n  %s:\n    kind: tee\n", n, a, b)
		fmt.Fprintf(&joins, "  beside-%d:\n    role: by-pass\n    line: %s.branch, v%d, %s.branch\n", n, a, n, b)
		from, to = from+", "+a, b+", "+to
	}
	src = strings.Replace(src, "\njoins:\n", parts.String()+"\njoins:\n", 1)
	src = strings.Replace(src, "line: t1, v2, t3\n", "line: "+from+", v2, "+to+"\n"+joins.String(), 1)
	src = strings.Replace(src, "\n\njoins:", "\njoins:", 1)
	doc, faults := job.Read("beside", []byte(src))
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	rows, err := catalogue.Load()
	if err != nil {
		t.Fatal(err)
	}
	p, err := rows.Profile("generic")
	if err != nil {
		t.Fatal(err)
	}
	a, err := assembly.Build(doc.Job, rows, p)
	if err != nil {
		t.Fatal(err)
	}
	return inputOf(t, doc.Job, a, p)
}

// TestCostOfValvesSideBySide holds what a proof of hand valves side by side costs, in boxes
// and solves, to a fifth more than it cost when this was written: it may fall, and not grow unseen.
func TestCostOfValvesSideBySide(t *testing.T) {
	for _, c := range []struct{ valves, boxes, solves int }{{7, 12000, 41000}, {10, 93000, 334000}} {
		in := only(besideV2(t, c.valves)) // nothing failed: each failure multiplies
		r, err := Prove(context.Background(), in, nil)
		if err != nil {
			t.Fatal(err)
		}
		t.Logf("%d valves: %d boxes, %d solves, %d circuits", c.valves, r.Boxes, r.Solves, r.Distinct)
		if r.Boxes > c.boxes || r.Solves > c.solves {
			t.Errorf("%d valves take %d boxes and %d solves, more than %d and %d", c.valves, r.Boxes, r.Solves, c.boxes, c.solves)
		}
	}
}
