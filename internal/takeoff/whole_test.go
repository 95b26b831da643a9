package takeoff

import (
	"strings"
	"testing"

	"tideover/internal/assembly"
	"tideover/internal/job"
)

// TestNothingToGoBackFor: what must be on the list of every arrangement, where frost comes
// too, so that nobody goes back to the merchant's for a forgotten piece.
func TestNothingToGoBackFor(t *testing.T) {
	for _, name := range []string{"kestrel-rise", "juniper-flat"} {
		for _, arrangement := range assembly.Arrangements() {
			a, c := built(t, name, func(j *job.Job) {
				j.Choices.Arrangement, j.Place.Frost = arrangement, "yes"
			})
			count := map[string]int{}
			for _, x := range Make(a, c, nil, "").Lines {
				if !x.Kept {
					kind, _, _ := strings.Cut(x.Row, "-")
					count[x.Row] += x.Count
					count["kind "+kind] += x.Count
				}
			}
			stores, pumps := len(a.Of(assembly.Store)), len(a.Of(assembly.Pump))
			tanks := 0
			for _, i := range a.Of(assembly.Store) {
				tanks += max(1, a.Parts[i].Count)
			}
			for what, n := range map[string]int{"gauge": 1, "drain-hose": 1, "thread-seal": 1, "bleach": 1, "chlorine-strips": 1, "neutraliser": 1,
				"tie-in-coupling": 3, "lagging": 1, "kind pipe": 1, "tags": len(a.Of(assembly.HandValve)) + len(a.Of(assembly.Drain)),
				"kind union": pumps, "vent-screen": tanks, "tank-link": tanks - stores,
				"kind isolator": len(a.Of(assembly.Isolator))} {
				if count[what] < n {
					t.Errorf("%s, %s: %d of %s, want %d", name, arrangement, count[what], what, n)
				}
			}
			guards := min(1, pumps*stores) // every other store has an alarm, so that none overflows unheard
			if count["level-switch"] != guards || count["level-alarm"] != stores-guards || count["level-gland"] != stores {
				t.Errorf("%s, %s: of %d stores %d level switches, %d alarms, %d glands", name, arrangement, stores, count["level-switch"], count["level-alarm"], count["level-gland"])
			}
		}
	}
}

// TestUnions: in every arrangement a pump is loose at both ends, a strainer, a new non-return
// valve, a float valve and a vessel at one, and no screwed joints close a ring or a row between fixed things
// without a union.
func TestUnions(t *testing.T) {
	for _, name := range []string{"kestrel-rise", "juniper-flat", "osprey-house"} {
		for _, arrangement := range assembly.Arrangements() {
			a, _ := built(t, name, func(j *job.Job) { j.Choices.Arrangement = arrangement })
			set := unions(a)
			loose := func(i, port int) bool {
				e := assembly.End{Part: i, Port: port}
				for n, j := range a.Joins {
					if (j.A == e || j.B == e) && set[n] {
						return true
					}
				}
				o, ok := a.Meets(e)
				return ok && a.Parts[o.Part].Kind == assembly.Run && a.Parts[o.Part].Ports[o.Port].End == "compression"
			}
			for i := range a.Parts {
				p := &a.Parts[i]
				switch p.Kind {
				case assembly.Pump:
					if !loose(i, 0) || !loose(i, 1) {
						t.Errorf("%s, %s: %s does not come out", name, arrangement, p.Tag)
					}
				case assembly.FloatValve, assembly.Vessel:
					if !p.Kept && !loose(i, 0) {
						t.Errorf("%s, %s: %s does not come out", name, arrangement, p.Tag)
					}
				case assembly.NonReturn, assembly.Strainer, assembly.Regulator:
					if !p.Kept && !loose(i, 0) && !loose(i, 1) {
						t.Errorf("%s, %s: %s does not come out", name, arrangement, p.Tag)
					}
				}
			}
			if ring := screwedRing(a, set); ring != "" {
				t.Errorf("%s, %s: %s closes a ring of screwed joints", name, arrangement, ring)
			}
		}
	}
}

// screwedRing looks for a ring of screwed joints by taking leaves off until none is left.
func screwedRing(a *assembly.Assembly, set map[int]bool) string {
	gone := map[int]bool{}
	for n := range set {
		gone[n] = true
	}
	for again := true; again; {
		again = false
		degree := map[int]int{}
		for n, j := range a.Joins {
			if !gone[n] && screwed(a, j.A, j.B) {
				degree[j.A.Part]++
				degree[j.B.Part]++
			}
		}
		for n, j := range a.Joins {
			if !gone[n] && screwed(a, j.A, j.B) && (degree[j.A.Part] == 1 || degree[j.B.Part] == 1) {
				gone[n], again = true, true
			}
		}
		if again {
			continue
		}
		for n, j := range a.Joins {
			if !gone[n] && screwed(a, j.A, j.B) {
				return a.Parts[j.A.Part].Tag + "–" + a.Parts[j.B.Part].Tag
			}
		}
	}
	return ""
}
