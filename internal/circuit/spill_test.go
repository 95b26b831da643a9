package circuit

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"tideover/internal/assembly"
	"tideover/internal/catalogue"
	"tideover/internal/demo"
	"tideover/internal/hydraulics"
	"tideover/internal/quantity"
)

const lpm = 1. / 60000 // m³/s

// What is left of a gap of 80 mm over the dry lip, against sums done outside this code: chords
// of the bore summed in 20,000 strips for the critical depth, Torricelli's law summed over the
// wetted face in 4,000 strips for the screen.
func TestGapByHand(t *testing.T) {
	for _, x := range []struct {
		name       string
		bore, open float64
		q          float64
		left       float64 // mm
	}{
		{"Kestrel Rise, the usual pressure, no screen", 0.036, 0, 19.7 * lpm, 40.1},
		{"Kestrel Rise, clean mesh across the pipe", 0.036, 0.4, 19.7 * lpm, -32.4},
		{"Kestrel Rise, half of it blocked", 0.036, 0.2, 19.7 * lpm, -291.0},
		{"Kestrel Rise, mesh in a wide housing governs nothing", 0.036, 1.6, 19.7 * lpm, 40.1},
		{"Osprey House, no screen", 0.046, 0, 39 * lpm, 26.7},
		{"Osprey House, clean mesh", 0.046, 0.4, 39 * lpm, -81.8},
		{"Juniper Flat at night, no screen", 0.036, 0, 5.7 * 3.785411784 * lpm, 37.7},
		{"Juniper Flat at night, clean mesh", 0.036, 0.4, 5.7 * 3.785411784 * lpm, -51.2},
		{"a cottage, 32 mm, no screen", 0.032, 0, 28.2 * lpm, 22.1},
		{"a cottage, 32 mm, clean mesh", 0.032, 0.4, 28.2 * lpm, -245.3},
	} {
		w := Spill{By: "pipe", Bore: x.bore, Open: x.open, Inlet: 1.41, Lip: 1.33, Rim: 3}
		if got := 1000 * w.Left(x.q, nil); math.Abs(got-x.left) > 0.15 {
			t.Errorf("%s: %.2f mm left, want %.1f", x.name, got, x.left)
		}
	}
	// A slot 300 mm wide, no screen: (0.65e-3/(0.4·0.3·√19.6133))^(2/3).
	w := Spill{By: "slot", Slot: 0.3, Inlet: 1.41, Lip: 1.33, Rim: 1.53}
	if got, want := 1000*w.Left(39*lpm, nil), 80-11.437; math.Abs(got-want) > 0.01 {
		t.Errorf("slot: %.3f mm left, want %.3f", got, want)
	}
}

// The water stands no higher than the lid: what does not run off by the overflow leaves there.
func TestLidBoundsTheWater(t *testing.T) {
	for _, by := range []string{"pipe", "slot", "none"} {
		w := Spill{By: by, Bore: 0.019, Slot: 0.02, Open: 0.2, Inlet: 1.41, Lip: 1.33, Rim: 1.53}
		if got := w.Left(40*lpm, nil); math.Abs(got+0.12) > 1e-12 {
			t.Errorf("%s: mouth under water by %g m, want 0.12: water leaves by the lid", by, -got)
		}
		if got := w.Left(0, nil); math.Abs(got-0.08) > 1e-12 {
			t.Errorf("%s: nothing runs, and %g m is left", by, got)
		}
	}
}

// spillOf draws an overflow.
func spillOf(t *rapid.T) Spill {
	return Spill{By: rapid.SampledFrom([]string{"pipe", "slot"}).Draw(t, "by"), Bore: rapid.Float64Range(0.015, 0.15).Draw(t, "bore"),
		Slot: rapid.Float64Range(0.05, 1).Draw(t, "slot"), Open: rapid.SampledFrom([]float64{0, 0.2, 0.4, 0.8, 1.6}).Draw(t, "open"),
		Inlet: 1.41, Lip: rapid.Float64Range(1, 1.39).Draw(t, "lip"), Rim: 1.53, Needs: rapid.Float64Range(0.02, 0.1).Draw(t, "needs")}
}

// A wider overflow, or more of its screen free, or a lower lip never leaves less air; more
// water never leaves more.
func TestGapMonotone(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		w := spillOf(t)
		q := rapid.Float64Range(0, 3e-3).Draw(t, "q")
		more := rapid.Float64Range(1, 2).Draw(t, "more")
		left := w.Left(q, nil)
		wide, open, low := w, w, w
		wide.Bore *= more
		wide.Slot *= more
		open.Open *= more
		low.Lip -= 0.1 * (more - 1)
		const slack = 1e-9
		for name, got := range map[string]float64{"wider": wide.Left(q, nil), "freer": open.Left(q, nil), "lower": low.Left(q, nil)} {
			if got < left-slack {
				t.Fatalf("%s overflow: %g m left, before %g", name, got, left)
			}
		}
		if got := w.Left(q*more, nil); got > left+slack {
			t.Fatalf("more water: %g m left, before %g", got, left)
		}
		if got := w.HalfBlocked().Left(q, nil); got > left+slack {
			t.Fatalf("half blocked: %g m left, clean %g", got, left)
		}
	})
}

// What is offered to be drilled keeps the gap with half of the screen blocked, and its edits
// say the very figures.
func TestDrillsKeepTheGap(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		w := spillOf(t)
		w.Open = rapid.SampledFrom([]float64{0, 0.4, 1.6}).Draw(t, "screen")
		q := rapid.Float64Range(1e-5, 2e-3).Draw(t, "q")
		sys := rapid.SampledFrom([]quantity.System{quantity.Metric, quantity.US}).Draw(t, "units")
		for _, d := range w.Drills(q, 0.06, "choices.store", sys) {
			next := w
			next.By, next.Bore, next.Slot, next.Lip = d.By, float64(d.Width), float64(d.Width), float64(d.Lip)
			if d.Housed {
				next.Open = WideMesh
			}
			if left := next.HalfBlocked().Left(q, nil); left < w.Needs-1e-9 {
				t.Fatalf("%s %s at %s: %g m left with half of the screen blocked, %g needed", d.By, d.Wide, d.High, left, w.Needs)
			}
			if d.Lower < -1e-12 || float64(d.Lip) > w.Lip+1e-12 {
				t.Fatalf("%+v: higher than the overflow there is", d)
			}
		}
	})
}

// What an overflow carries and what is left at that flow belong together.
func TestCarriesToTheGap(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		w := spillOf(t)
		w.Lip = w.Inlet - w.Needs - rapid.Float64Range(0.01, 0.05).Draw(t, "room")
		q := w.Carries()
		if left := w.Left(q, nil); left < w.Needs-1e-6 {
			t.Fatalf("carries %g m³/s, and then %g m is left, %g needed", q, left, w.Needs)
		}
		if q < spillMost/2 && w.Left(q*1.01+1e-8, nil) > w.Needs+1e-9 {
			t.Fatalf("carries more than %g m³/s", q)
		}
	})
}

// The overflow behind no screen is the bare pipe.
func TestBareIsThePipe(t *testing.T) {
	o, err := hydraulics.NewOverflow("S1", 0.046, flushCut, 1)
	if err != nil {
		t.Fatal(err)
	}
	w := Spill{By: "pipe", Bore: 0.046}
	for _, q := range []float64{1e-5, 3e-4, 1e-3} {
		if got, want := w.Head(q, nil), o.Head(q); math.Abs(got-want) > 1e-12 {
			t.Errorf("at %g m³/s %g m, the pipe alone %g", q, got, want)
		}
	}
}

// TestSpillOfAHome: fine mesh across the pipe leaves 0.4 of the bore free and is what is taken
// where nobody has looked; in a housing twice as wide it leaves 1.6; half choked is half of it.
func TestSpillOfAHome(t *testing.T) {
	a, _ := example(t, "kestrel-rise", "")
	_, p := demo.Rows(t, "generic")
	at := a.Of(assembly.Store)[0]
	for screen, want := range map[string]struct {
		open  float64
		taken bool
	}{"": {0.4, true}, "across": {0.4, false}, "wide": {1.6, false}, "none": {0, false}} {
		a.Parts[at].Spill.Screen = screen
		w, ok := SpillOf(a, p, at)
		if !ok || w.Open != want.open || w.Taken != want.taken {
			t.Errorf("screen %q: %g free, taken %v; want %g, %v", screen, w.Open, w.Taken, want.open, want.taken)
		}
		if half := w.HalfBlocked(); half.Open != want.open/2 {
			t.Errorf("screen %q, half blocked: %g free, want %g", screen, half.Open, want.open/2)
		}
	}
}

// TestFeedBoreIsTheWidest: the gap is reckoned with the widest pipe that leads to the float
// valve, whichever comes last.
func TestFeedBoreIsTheWidest(t *testing.T) {
	for _, last := range []float64{0.010, 0.050} {
		a, _ := example(t, "kestrel-rise", "")
		store := a.Of(assembly.Store)[0]
		was := float64(FeedBore(a, store))
		a.Parts = append(a.Parts, assembly.Part{Kind: assembly.Run, Role: assembly.Feed, Row: catalogue.Pipe{Bore: quantity.Length(last)}})
		if got := float64(FeedBore(a, store)); got != math.Max(was, last) {
			t.Errorf("a run of %g m behind one of %g m: %g m", last, was, got)
		}
	}
}

// TestRoutineDraws: twelve hours at 10 mL/s draw 0.432 m³, but never more than the store gives.
func TestRoutineDraws(t *testing.T) {
	r := Routine{Every: 4 * 86400, Lasts: 12 * 3600}
	for usable, want := range map[float64]float64{1: 0.432, 0.1: 0.1} {
		if got := r.Draws(1e-5, usable); math.Abs(got-want) > 1e-12 {
			t.Errorf("a store that gives %g m³: %g m³ drawn, want %g", usable, got, want)
		}
	}
}
