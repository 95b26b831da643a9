package proof

import (
	"strings"
	"testing"

	"tideover/internal/circuit"
	"tideover/internal/finding"
	"tideover/internal/quantity"
	"tideover/internal/words"
)

// TestPromisesHaveKinds: every promise can become a finding, and every safety promise one
// that must be fixed; all its sentences are there.
func TestPromisesHaveKinds(t *testing.T) {
	for _, p := range Promises() {
		about := p.About()
		kind := finding.KindOf("promise-" + about.ID)
		if kind.May(finding.MustFix) != about.Safety {
			t.Errorf("%s: safety %v, may be must fix: %v", about.ID, about.Safety, kind.May(finding.MustFix))
		}
		for _, part := range []string{"", ".title", ".broken", ".so"} {
			if id := "promise." + about.ID + part; !words.Has(id) {
				t.Errorf("no words for %s", id)
			}
		}
	}
}

// TestFindingVerdicts: what each verdict means for the people in the home.
func TestFindingVerdicts(t *testing.T) {
	one := &Counterexample{}
	tests := []struct {
		name string
		r    Result
		want finding.Verdict
	}{
		{"safety broken", Result{About: About{Safety: true}, Verdict: BrokenPromise}, finding.MustFix},
		{"comfort broken", Result{Verdict: BrokenPromise}, finding.LookAt},
		{"safety, one failure", Result{About: About{Safety: true}, Verdict: UnlessPartFails}, finding.LookAt},
		{"comfort, one failure", Result{Verdict: UnlessPartFails}, finding.Fine},
		{"safety, one wrong hand", Result{About: About{Safety: true}, Verdict: WhileHandsObey, OneMove: one}, finding.LookAt},
		{"safety, two wrong hands", Result{About: About{Safety: true}, Verdict: WhileHandsObey}, finding.Fine},
		{"kept", Result{About: About{Safety: true}, Verdict: KeptAlways}, finding.Fine},
		{"not judged", Result{About: About{Safety: true}}, finding.NotJudged},
	}
	for _, tt := range tests {
		if got := tt.r.Finding(); got != tt.want {
			t.Errorf("%s: %s, want %s", tt.name, got.ID(), tt.want.ID())
		}
	}
}

// TestKeptIsNotSaidOfWhatWasNotTried: without failures nothing is kept always; with them it is.
func TestKeptIsNotSaidOfWhatWasNotTried(t *testing.T) {
	sound, full := &Report{Space: &Space{}}, &Report{Space: &Space{Mishaps: make([]circuit.Mishap, 1)}}
	for _, v := range []Verdict{KeptAlways, WhileHandsObey} {
		if a, b := sound.TellVerdict(v), full.TellVerdict(v); a == b || !strings.Contains(a, "nothing failed") {
			t.Errorf("%s: %q with nothing failed and %q with failures", v.ID(), a, b)
		}
	}
}

// TestDrownedMouth: a gap below nothing is told in words, one that is left as a figure.
func TestDrownedMouth(t *testing.T) {
	in := laid(t, "kestrel-rise", "", nil)
	s, err := NewSpace(&in)
	if err != nil {
		t.Fatal(err)
	}
	r := &Report{Space: s}
	for gap, want := range map[float64]string{-0.3: "is under water", 0: "is under water", 0.01: "comes to 10 mm"} {
		c := &Counterexample{Case: s.Normal(), Judgement: least(quantity.LengthDim, gap, 0.052, "S1")}
		if got := r.Tell(About{ID: "overflow"}, c, quantity.Metric); !strings.Contains(got, want) || strings.Contains(got, "−") {
			t.Errorf("a gap of %g m: %s", gap, got)
		}
	}
}

func TestGrouped(t *testing.T) {
	for n, want := range map[uint64]string{0: "0", 999: "999", 1000: "1,000", 47185920: "47,185,920", 1002003: "1,002,003"} {
		if got := Grouped(n); got != want {
			t.Errorf("Grouped(%d) = %q, want %q", n, got, want)
		}
	}
}
