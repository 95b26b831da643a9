package assembly

import (
	"testing"

	"tideover/internal/demo"
	"tideover/internal/job"
)

// TestReversed: in no arrangement of any example stands a non-return valve the wrong way round,
// and each, turned round, is found, and it alone.
func TestReversed(t *testing.T) {
	tried := 0
	for _, name := range []string{"kestrel-rise", "juniper-flat", "osprey-house", "lantern-row"} {
		for _, arrangement := range append(Arrangements(), "") {
			j := demo.Job(t, name)
			if arrangement != "" {
				j.Parts, j.Joins, j.Choices.Arrangement = nil, nil, arrangement
			}
			rows, profile := demo.Rows(t, j.Profile)
			a, err := Build(j, rows, profile)
			if err != nil {
				continue // this home has not what the arrangement needs
			}
			for _, i := range a.Reversed() {
				t.Errorf("%s, %s: %s stands as it should and is called reversed", name, arrangement, a.Parts[i].Tag)
			}
			for _, i := range a.Of(NonReturn) {
				turned := *a
				turned.Joins = append([]Join(nil), a.Joins...)
				for n := range turned.Joins {
					for _, e := range []*End{&turned.Joins[n].A, &turned.Joins[n].B} {
						if e.Part == i {
							e.Port = 1 - e.Port
						}
					}
				}
				tried++
				if list := turned.Reversed(); len(list) != 1 || list[0] != i {
					t.Errorf("%s, %s: %s turned round: %v are called reversed", name, arrangement, a.Parts[i].Tag, list)
				}
			}
		}
	}
	if tried < 50 {
		t.Errorf("only %d non-return valves were turned round", tried)
	}
}

// TestTurnRound: a non-return valve listed the wrong way round is turned by the edits of its
// lines, whichever way the line names its ends, also where it ends one line and begins another;
// turned twice it is as it was.
func TestTurnRound(t *testing.T) {
	doc := demo.Doc(t, "lantern-row")
	rows, profile := demo.Rows(t, doc.Job.Profile)
	for _, lines := range [][]string{{"t1, v2, n1, t3"}, {"t1, v2, n1.in, t3"}, {"t1, v2, n1", "n1, t3"}, {"t1, v2, n1", "n1.out, t3"}} {
		edits := []job.Edit{{Op: job.Insert, Path: "parts.n1", Text: "kind: non-return"}, {Op: job.Set, Path: "joins.by-pass.line", Text: lines[0]}}
		if len(lines) > 1 {
			edits = append(edits, job.Edit{Op: job.Insert, Path: "joins.by-pass-2", Text: "role: main-leg, line: " + lines[1]})
		}
		right, _, err := doc.Apply(edits...)
		if err != nil {
			t.Fatal(err)
		}
		reversed := func(d *job.Doc) int {
			a, err := Build(d.Job, rows, profile)
			if err != nil {
				t.Fatalf("%v: %v", lines, err)
			}
			return len(a.Reversed())
		}
		wrong, _, err := right.Apply(TurnRound(right.Job, "N1")...)
		if err != nil {
			t.Fatal(err)
		}
		back, _, err := wrong.Apply(TurnRound(wrong.Job, "N1")...)
		if err != nil {
			t.Fatal(err)
		}
		if reversed(right) != 0 || reversed(wrong) != 1 || reversed(back) != 0 {
			t.Errorf("%v: %d, %d, %d reversed", lines, reversed(right), reversed(wrong), reversed(back))
		}
	}
}
