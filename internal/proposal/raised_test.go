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
		if level := float64(a.Doc.Job.Choices.StoreLevel.V); level <= high || level > float64(in.Job.Home.Level.V)+tall+atop {
			t.Errorf("%s: a base at %g m, the highest tap at %g m", a.Name, level, high)
		}
	}
	for _, a := range proposed(t, input(t, "kestrel-rise")) {
		if a.Appraisal.Assembly.Arrangement == assembly.Raised {
			t.Errorf("%s: a raised store is proposed for a place on the ground with a pump", a.Name)
		}
	}
}
