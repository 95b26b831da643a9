package proof

import (
	"slices"
	"strings"
	"testing"

	"tideover/internal/assembly"
	"tideover/internal/quantity"
	"tideover/internal/words"
)

// replayed is a case of Kestrel Rise with all its figures.
func replayed(t *testing.T, text string) (*Space, *Replay) {
	t.Helper()
	in := laid(t, "kestrel-rise", assembly.MainFirst, nil)
	in.Promises = Promises()
	s, r, err := ReplayCase(in, text)
	if err != nil {
		t.Fatal(err)
	}
	return s, r
}

func (p *Replay) of(id string) Judgement {
	for _, a := range p.Answers {
		if a.About.ID == id {
			return a.Judgement
		}
	}
	return Judgement{}
}

// Water below its vapour pressure is named where it would have to be, and nowhere on an
// ordinary day.
func TestReplayNamesWhereWaterBoils(t *testing.T) {
	s, r := replayed(t, "pump-out main=sucking draw=one pump=running failed=valve-leaks@V6")
	if !slices.Contains(r.Boils, "R3") || slices.Contains(r.Boils, assembly.MainTag) {
		t.Errorf("water boils at %v; want R3 among them and not the main", r.Boils)
	}
	if told := strings.Join(r.Told(s, quantity.Metric), "\n"); !strings.Contains(told, words.Say("proof.replay.boils", words.Args{"where": and(r.Boils)})) {
		t.Errorf("it is not told:\n%s", told)
	}
	if _, r := replayed(t, "normal draw=many"); len(r.Boils) > 0 {
		t.Errorf("on an ordinary day water boils at %v", r.Boils)
	}
}

// A tap upstairs that lets air in while the street sucks lets the home's own water back to
// it at Lantern Row, where nothing holds it: the litres are those that stand in the home's
// pipes above the head in the street, and an empty street takes no more.
func TestDrainBackIsStatedInLitres(t *testing.T) {
	in := laid(t, "lantern-row", "", nil)
	in.Promises = Promises()
	litres := map[string]float64{}
	for _, main := range []string{"sucking", "dry"} {
		_, r, err := ReplayCase(in, "normal V1=shut main="+main+" draw=one power=off")
		if err != nil {
			t.Fatal(err)
		}
		j := r.of("main-clean")
		if j.Outcome != Broken || j.Figure.Dim != quantity.VolumeDim {
			t.Fatalf("main %s: %+v; want broken, in litres", main, j)
		}
		litres[main] = 1000 * j.Figure.SI
	}
	all := 0.0
	for _, i := range in.Assembly.Of(assembly.Run) {
		if in.Assembly.Parts[i].Role == assembly.HomeRole {
			all += 1000 * in.pipeVolume(i)
		}
	}
	if l := litres["sucking"]; !(l > 1 && l <= all*(1+1e-9)) || litres["dry"] > l*(1+1e-9) {
		t.Errorf("%.2f L fall back to a street that sucks, %.2f to one that is dry; the home's pipes hold %.2f", l, litres["dry"], all)
	}
}
