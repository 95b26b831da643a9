package assembly

import (
	"testing"
	"tideover/internal/job"

	"pgregory.net/rapid"

	"tideover/internal/quantity"
)

// TestFrostInEveryLayout: where frost reaches the pipework there is a setting that drains
// it down; in it main and store serve nothing, nothing stands behind a valve or non-return
// valve with no way out, and what main or store stands on is outside their valves.
func TestFrostInEveryLayout(t *testing.T) {
	c, p := rows(t)
	rapid.Check(t, func(t *rapid.T) {
		j := randomJob(t, c)
		j.Place.Frost = rapid.SampledFrom([]job.Answer{"yes", "unknown"}).Draw(t, "frost")
		a, err := Build(j, c, p)
		if err != nil {
			t.Fatal(err)
		}
		e, ok := a.Emptied()
		if !ok || len(e.Drains) == 0 || len(e.Shut) == 0 {
			t.Fatalf("%s: no drain-down: %+v", a.Arrangement, e)
		}
		s := a.Setting(Drained)
		if !a.keeps(s) {
			t.Fatalf("%s: the drain-down does not do what it says", a.Arrangement)
		}
		pressed := a.pressed(s)
		for _, d := range e.Drains {
			if pressed[d] {
				t.Fatalf("%s: %s is opened with main or store on it", a.Arrangement, a.Parts[d].Tag)
			}
		}
		told := map[int]Why{}
		for _, h := range e.Held {
			told[h.Part] = h.Why
			if h.Why == Behind {
				t.Fatalf("%s: %s holds water and nothing lets it out", a.Arrangement, a.Parts[h.Part].Tag)
			}
		}
		for _, kind := range []Kind{Store, Pump, Heater} {
			for _, i := range a.Of(kind) {
				if told[i] == "" {
					t.Fatalf("%s: %s holds water of its own and is not named", a.Arrangement, a.Parts[i].Tag)
				}
			}
		}
	})
}

// TestNoFrostNoSetting: where no frost comes there is none.
func TestNoFrostNoSetting(t *testing.T) {
	c, p := rows(t)
	j := readJob(t, "kestrel-rise")
	a, err := Build(j, c, p)
	if err != nil {
		t.Fatal(err)
	}
	if _, ok := a.Emptied(); ok {
		t.Error("a drain-down where place.frost is no")
	}
}

// TestHolds: Kestrel Rise drained down, by hand on its plan. The service comes up from the
// meter, 8.5 m below the valve at the house, with the main on it. The feed rises from hand
// height to the stores and runs back to the flush tap; the pump's side to its drains. The
// suction run, joined at the stores' outlets, drains to the pump if that stands no higher.
func TestHolds(t *testing.T) {
	c, p := rows(t)
	for _, tt := range []struct {
		pump quantity.Length
		want string // R4, the suction run
	}{{0, ""}, {-1, "low"}} {
		j := readJob(t, "kestrel-rise")
		j.Place.Frost = "yes"
		j.Choices.PumpLevel.V = j.Choices.StoreLevel.V - tt.pump // below the stores' base, or a metre above it
		a, err := Build(j, c, p)
		if err != nil {
			t.Fatal(err)
		}
		e, _ := a.Emptied()
		got := map[string]string{}
		for _, h := range e.Held {
			got[a.Parts[h.Part].Tag] = string(h.Why)
		}
		for tag, want := range map[string]string{"M1": "pressed", "N1": "pressed", "R1": "pressed", "S1": "itself", "P1": "itself", "H1": "itself",
			"R2": "", "R5": "", "R6": "", "U1": "", "N2": "", "N3": "", "N4": "", "E1": "", "E2": "", "R4": tt.want} {
			if got[tag] != want {
				t.Errorf("pump %v below the stores: %s: %q, want %q", tt.pump, tag, got[tag], want)
			}
		}
		if shut := tags1(a, e.Shut); shut != "V2 V4 V5 " {
			t.Errorf("shut %s", shut)
		}
		if open := tags1(a, e.Drains); open != "D6 D7 D8 D4 D5 D9 " {
			t.Errorf("drains %s", open)
		}
	}
}

func tags1(a *Assembly, list []int) string {
	out := ""
	for _, i := range list {
		out += a.Parts[i].Tag + " "
	}
	return out
}

// TestCutoff: with the first valves shut neither main nor store gets past them, in any
// layout and in every setting; on Kestrel Rise they are V2, V4, V5, then V3, V6, V7.
func TestCutoff(t *testing.T) {
	c, p := rows(t)
	rapid.Check(t, func(t *rapid.T) {
		a, err := Build(randomJob(t, c), c, p)
		if err != nil {
			t.Fatal(err)
		}
		for i := range a.Settings {
			cut, all := a.Cutoff(&a.Settings[i]), a.everything()
			for _, v := range cut.First {
				all.Positions[a.Parts[v].Tag] = shut
			}
			for _, from := range []Kind{Main, Store} {
				for _, at := range a.Of(from) {
					for k, yes := range a.flood(at, all, false) {
						if kind := a.Parts[k].Kind; yes && (kind == Outlet || kind == FloatValve || kind == Pump || kind == Heater) {
							t.Fatalf("%s: with %v shut %s still reaches %s", a.Arrangement, tags1(a, cut.First), a.Parts[at].Tag, a.Parts[k].Tag)
						}
					}
				}
			}
		}
	})
	a, err := Build(readJob(t, "kestrel-rise"), c, p)
	if err != nil {
		t.Fatal(err)
	}
	if cut := a.Cutoff(&a.Settings[0]); tags1(a, cut.First) != "V2 V4 V5 " || tags1(a, cut.Then) != "V3 V6 V7 " {
		t.Errorf("Kestrel Rise: first %s then %s", tags1(a, cut.First), tags1(a, cut.Then))
	}
}
