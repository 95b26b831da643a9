package assembly

import (
	"strings"
	"testing"

	"pgregory.net/rapid"

	"tideover/internal/demo"
	"tideover/internal/job"
)

// TestBackTests: in every layout each non-return valve can be tried: its inlet side shuts
// off, has a drain that is no other valve's, and its outlet side has a mouth to press it by.
// And the drain finds what it claims: with what is to be shut shut, water that gets to it
// from the outlet side came through the valve.
func TestBackTests(t *testing.T) {
	c, p := rows(t)
	rapid.Check(t, func(t *rapid.T) {
		a, err := Build(randomJob(t, c), c, p)
		if err != nil {
			t.Fatal(err)
		}
		tests := a.BackTests()
		if len(tests) != len(a.Of(NonReturn)) {
			t.Fatalf("%d non-return valves, %d tests", len(a.Of(NonReturn)), len(tests))
		}
		drains := map[int]string{}
		for _, x := range tests {
			tag := a.Parts[x.Check].Tag
			if !x.Can() || len(x.Far) == 0 || len(x.Sharing) > 0 {
				t.Fatalf("%s: %s cannot be tried: %+v", a.Arrangement, tag, x)
			}
			if by := drains[x.Drain]; by != "" {
				t.Fatalf("%s: %s and %s have one drain, %s", a.Arrangement, by, tag, a.Parts[x.Drain].Tag)
			}
			drains[x.Drain] = tag
			finds(t, a, &x)
		}
	})
}

// finds: with a part of the pipework shut off for the test, nothing comes to the drain but
// through the valve.
func finds(t *rapid.T, a *Assembly, x *BackTest) {
	s := a.everything()
	for _, i := range x.Shut {
		s.Positions[a.Parts[i].Tag] = shut
		if a.Parts[i].Kind == ThreeWay {
			t.Fatalf("%s: a three-way valve cannot be shut", a.Parts[x.Check].Tag)
		}
		if a.Parts[i].Kind == Spool {
			s.Positions[a.Parts[i].Tag] = out
		}
	}
	sound := a.flood(x.Drain, s, false)
	inlet, _ := a.Meets(End{x.Check, 0})
	outlet, _ := a.Meets(End{x.Check, 1})
	if !sound[inlet.Part] || !sound[outlet.Part] {
		t.Fatalf("%s: %s is not on its inlet", a.Parts[x.Check].Tag, a.Parts[x.Drain].Tag)
	}
	kind := a.Parts[x.Check].Kind
	a.Parts[x.Check].Kind = Store // as if it let nothing past
	held := a.flood(x.Drain, s, false)
	a.Parts[x.Check].Kind = kind
	for i := range a.Parts {
		if k := a.Parts[i].Kind; held[i] && (k == Main || k == Store && i != x.Check || k == Outlet) {
			t.Fatalf("%s: with %v shut %s still comes to %s", a.Parts[x.Check].Tag, x.Shut, a.Parts[i].Tag, a.Parts[x.Drain].Tag)
		}
	}
}

// TestBackTestsOfAList: a list of parts is told what is missing: no drain, no valve.
func TestBackTestsOfAList(t *testing.T) {
	c, p := rows(t)
	text := string(demo.Source(t, "lantern-row"))
	list := func(swap ...string) *Assembly {
		t.Helper()
		doc, faults := job.Read("lantern", []byte(strings.NewReplacer(swap...).Replace(text)))
		if len(faults) > 0 {
			t.Fatal(faults)
		}
		a, err := Build(doc.Job, c, p)
		if err != nil {
			t.Fatal(err)
		}
		return a
	}
	bare := list("  v2:  ", "  n1:\n    kind: non-return\n  v2:  ", "line: t1, v2, t3", "line: t1, v2, n1, t3").BackTests()
	if len(bare) != 1 || bare[0].Can() || bare[0].Drain >= 0 || len(bare[0].Shut) != 1 {
		t.Errorf("without a drain: %+v", bare)
	}
	loose := list("  v2:  ", "  n1:\n    kind: non-return\n  d9:\n    kind: drain\n  t9:\n    kind: tee\n  v2:  ",
		"line: t1, v2, t3", "line: t1, t9, n1, v2, t3\n  nine:\n    role: by-pass\n    line: t9.branch, d9")
	with := loose.BackTests()
	if len(with) != 1 || with[0].Drain < 0 || len(with[0].Shut) == 0 || !with[0].Can() {
		t.Errorf("with a drain and no valve of its own: %+v", with)
	}
}
