package service

import (
	"math"
	"testing"

	"tideover/internal/assembly"
)

// TestDrawnWater: in every named setting the water drawn has the origin the setting
// promises, and what comes out of the taps is what leaves its source.
func TestDrawnWater(t *testing.T) {
	for _, name := range []string{"kestrel-rise", "juniper-flat"} {
		s := readSite(t, name, nil)
		r := s.analyse(t, true)
		if len(r.Drawn) != len(s.plan.Settings) {
			t.Fatalf("%s: %d settings drawn of %d", name, len(r.Drawn), len(s.plan.Settings))
		}
		for _, d := range r.Drawn {
			want := map[string]Origin{"on-main": TheMain, "on-store": TheStore}[d.Mode]
			out, moving := 0.0, 0
			for i, w := range d.Parts {
				part := &s.plan.Parts[i]
				if part.Kind == assembly.Outlet && w.Origin != Standstill {
					out += float64(w.Flow)
					moving++
					if w.Origin != want {
						t.Errorf("%s, %s: %s gets water of origin %d, want %d", name, d.Setting, part.Tag, w.Origin, want)
					}
				}
				if part.Kind == assembly.NonReturn && w.Origin != Standstill && w.Flow <= 0 {
					t.Errorf("%s, %s: water passes %s backwards", name, d.Setting, part.Tag)
				}
			}
			if d.Mode == "" {
				if moving > 0 {
					t.Errorf("%s, %s: nothing serves, and %d outlets run", name, d.Setting, moving)
				}
				continue
			}
			source := 0.0
			for i, w := range d.Parts {
				switch part := &s.plan.Parts[i]; {
				case d.Mode == "on-main" && part.Kind == assembly.Meter, d.Mode == "on-store" && part.Kind == assembly.Pump:
					source += float64(w.Flow)
				}
			}
			if moving < 2 || math.Abs(out-source) > 1e-8*out {
				t.Errorf("%s, %s: %d outlets give %g m³/s, the source gives %g", name, d.Setting, moving, out, source)
			}
		}
		if r := s.analyse(t, false); r.Drawn != nil {
			t.Errorf("%s: a rerun works out drawings nobody looks at", name)
		}
	}
}
