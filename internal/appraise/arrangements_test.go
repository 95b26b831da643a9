package appraise

import (
	"bytes"
	"testing"

	"tideover/internal/finding"
)

// laidOut is Kestrel Rise laid out another way, with other lines swapped.
func laidOut(t *testing.T, arrangement string, swap ...string) Input {
	t.Helper()
	return swapped(t, arrangement, input(t, "kestrel-rise"), append(swap, "  arrangement: main-first", "  arrangement: "+arrangement)...)
}

// swapped is a job with some of its lines swapped.
func swapped(t *testing.T, name string, in Input, swap ...string) Input {
	t.Helper()
	src := in.Doc.Bytes()
	for i := 0; i+1 < len(swap); i += 2 {
		if !bytes.Contains(src, []byte(swap[i])) {
			t.Fatalf("%s: the job has no %q", name, swap[i])
		}
		src = bytes.Replace(src, []byte(swap[i]), []byte(swap[i+1]), 1)
	}
	return inputOf(t, name, src)
}

// mustFix lists what a job has to mend, as check does.
func mustFix(t *testing.T, in Input) map[string]bool {
	t.Helper()
	in.Proof = NamedProof
	a := appraised(t, in)
	list := map[string]bool{}
	for _, f := range a.Findings {
		if f.Verdict == finding.MustFix {
			list[f.ID] = true
		}
	}
	return list
}

// TestSoundArrangements: a sound job shows nothing that must be fixed, however it is laid
// out; one that nobody allows, or that joins what must not meet, says so and nothing else.
func TestSoundArrangements(t *testing.T) {
	kitchen := "kind: kitchen\n    height: 1.1 m\n    distance: 5 m\n    pipe: multilayer 20\n    water: "
	raisedJob := inputFrom(t, "testdata/kestrel-raised.job.yaml")
	weekly := []string{"    category: 3\n", "    category: 3\n    exercise: 7 d\n"}
	for _, tt := range []struct {
		name string
		in   Input
		want []string
	}{
		{"spool", laidOut(t, "spool"), nil},
		{"hand-by-pass", laidOut(t, "hand-by-pass", weekly...), nil},
		{"kitchen's cold tap", laidOut(t, "kitchen-on-main", kitchen+"both", kitchen+"cold"), nil},
		{"a mixer on both waters", laidOut(t, "kitchen-on-main"), []string{"promise-mixer"}},
		{"raised", raisedJob, nil},
		{"raised, the kitchen's cold tap on the main", swapped(t, "raised-split", raisedJob, kitchen+"both", kitchen+"cold\n    from: main"), nil},
		{"raised, a mixer on both waters", swapped(t, "raised-mixer", raisedJob, kitchen+"both", kitchen+"both\n    from: main"), []string{"promise-mixer"}},
		{"raised no higher than the taps", swapped(t, "raised-low", raisedJob, "    level: 17 m", "    level: 12 m"), []string{"outlet-flow"}},
		{"header", inputFrom(t, "testdata/osprey-header.job.yaml"), nil},
		{"a header no higher than the taps", swapped(t, "header-low", inputFrom(t, "testdata/osprey-header.job.yaml"), "    level: 9.5 m", "    level: 4 m"), []string{"outlet-flow"}},
		{"a header the pump does not start for", swapped(t, "header-high", inputFrom(t, "testdata/osprey-header.job.yaml"), "    cut-in: 1.4 bar", "    cut-in: 0.9 bar"), []string{"lift-start"}},
		{"hot from a header, cold boosted", inputFrom(t, "testdata/osprey-hot-from-header.job.yaml"), []string{"promise-mixer", "promise-expansion"}},
		{"in-line, allowed", inputFrom(t, "testdata/kestrel-in-line.job.yaml"), nil},
	} {
		got := mustFix(t, tt.in)
		for _, id := range tt.want {
			if !got[id] {
				t.Errorf("%s: %s is not a must fix", tt.name, id)
			}
			delete(got, id)
		}
		if len(got) > 0 {
			t.Errorf("%s: must fix %v", tt.name, got)
		}
	}
}

// TestBoosterNeedsLeave: a booster in line is a fault until the rules or the supplier
// allow it, and then stands as long as its cut-out does.
func TestBoosterNeedsLeave(t *testing.T) {
	src := inputFrom(t, "testdata/kestrel-in-line.job.yaml").Doc.Bytes()
	const allowed = "booster: yes "
	if !bytes.Contains(src, []byte(allowed)) {
		t.Fatal("the job does not say that the booster is allowed")
	}
	for _, answer := range []string{"no", "asked", "unknown"} {
		in := inputOf(t, "in-line", bytes.Replace(src, []byte(allowed), []byte("booster: "+answer+" "), 1))
		got := mustFix(t, in)
		delete(got, "signatures") // the supplier's, which says the same
		if !got["booster-consent"] || !got["promise-no-draught"] || len(got) != 2 {
			t.Errorf("answer %s: must fix %v, want the consent and the promise", answer, got)
		}
	}
	rules := inputOf(t, "in-line", bytes.Replace(src, []byte(allowed), []byte("booster: asked "), 1))
	more, err := rules.Catalogue.Merge("mine.csv", []byte("table,profiles\nprofile,key,value,source,edition,certainty\ngeneric,booster-on-main,with-cut-out,own,1,checked\n"))
	if err != nil {
		t.Fatal(err)
	}
	rules.Catalogue = more
	if rules.Profile, err = more.Profile("generic"); err != nil {
		t.Fatal(err)
	}
	if got := mustFix(t, rules); len(got) > 0 {
		t.Errorf("rules that allow it: must fix %v", got)
	}
}

// TestHeaderWithoutLevel: a header tank nobody gave a height stands as low as the store and
// gives nothing; a place for it that is high enough is offered, tried.
func TestHeaderWithoutLevel(t *testing.T) {
	in := swapped(t, "no-level", inputFrom(t, "testdata/osprey-header.job.yaml"), "    level: 9.5 m\n", "")
	found, lifted, tower := false, 0, false
	for _, f := range appraised(t, in).Findings {
		tower = tower || f.ID == "tower" && f.Verdict == finding.LookAt
		if f.ID != "outlet-flow" || f.Verdict != finding.MustFix {
			continue
		}
		found = true
		for _, r := range f.Remedies {
			if r.Edits[0].Path == "choices.header.level" {
				lifted++
			}
		}
	}
	if lifted == 0 || !tower {
		t.Errorf("%d taps are cured by lifting the header tank; that the others ask for a tower is said: %v", lifted, tower)
	}
	if !found {
		t.Error("no tap runs dry: the test says nothing")
	}
}
