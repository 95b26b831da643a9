package proposal

import (
	"testing"

	"tideover/internal/assembly"
)

// TestWithoutAPump: where no pump is wanted every alternative is a raised store, lifted as
// high as its taps ask, with no pump to buy; where one is, none of a store on the ground.
func TestWithoutAPump(t *testing.T) {
	in := input(t, "kestrel-rise", set("access.pump", "no"), set("access.place", "roof"), set("choices.store.level", "14.2 m"))
	high := 0.0
	for _, o := range in.Job.Outlets {
		high = max(high, float64(in.Job.Home.Level.V+o.Height.V))
	}
	for _, a := range proposed(t, in) {
		asm := a.Appraisal.Assembly
		if asm.Arrangement != assembly.Raised || len(asm.Of(assembly.Pump)) > 0 || len(a.Must) > 0 {
			t.Errorf("%s: %s with %d pumps, %d to fix", a.Name, asm.Arrangement, len(asm.Of(assembly.Pump)), len(a.Must))
		}
		if level := float64(a.Doc.Job.Choices.StoreLevel.V); level <= high || level > float64(in.Job.Home.Level.V)+assembly.GroundStand+assembly.RoofStand {
			t.Errorf("%s: a base at %g m, the highest tap at %g m", a.Name, level, high)
		}
	}
	for _, a := range proposed(t, input(t, "kestrel-rise")) {
		if a.Appraisal.Assembly.Arrangement == assembly.Raised {
			t.Errorf("%s: a raised store is proposed for a place on the ground with a pump", a.Name)
		}
	}
}

// TestSwapTheHeader: what the header tank is made of has fields of its own.
func TestSwapTheHeader(t *testing.T) {
	in := input(t, "osprey-house", set("choices.arrangement", "header"), set("choices.header.level", "9.5 m"))
	for tag, want := range map[string][2]string{
		"S2": {"choices.header.row", "tank-1000"}, "F2": {"choices.header.float", "float-25-full-way"}, "S1": {"choices.store.row", "tank-2500"},
	} {
		s, err := Swap(in, tag, want[1])
		if err != nil || s.Path != want[0] {
			t.Errorf("%s: %v, %v, want %s", tag, s, err, want[0])
		}
	}
}
