package procedure

import (
	"testing"

	"tideover/internal/assembly"
)

// TestAllOffShutsEverySource: the setting the card sends people to when water is where it
// should not be: a split pipe or pump behind the first valve of a store or of the house gets
// water neither from a store nor from the main, whichever way it stands.
func TestAllOffShutsEverySource(t *testing.T) {
	for name, a := range examples(t) {
		off := a.Setting("off")
		if off == nil {
			continue
		}
		p := stand(a, off.Positions)
		been := p.reach(append(p.ports(assembly.Store), p.ports(assembly.Main)...), way{wall: -1, leaks: -1, free: true})
		for i := range a.Parts {
			part := &a.Parts[i]
			before := part.Role == assembly.Service || part.Role == assembly.Storage || part.Kind == assembly.HandValve || part.Kind == assembly.Drain
			lets := part.Kind == assembly.Pump || part.Kind == assembly.Outlet || part.Kind == assembly.Run && part.Purpose != assembly.AsServiceRun && part.Purpose != assembly.AsLinkRun
			if lets && !before && touches(a, been, i) && !unvalved(a) {
				t.Errorf("%s: with all off %s still gets water", name, part.Tag)
			}
		}
	}
}

// unvalved reports whether a list has a store without an outlet valve: nothing shuts it.
func unvalved(a *assembly.Assembly) bool {
	for i := range a.Parts {
		if a.Parts[i].Purpose == assembly.AsStoreValve {
			return false
		}
	}
	return len(a.Of(assembly.Store)) > 0
}
