package commission

import (
	"math"
	"math/rand/v2"
	"testing"

	"tideover/internal/quantity"
)

// TestWidenedStepByStep: the band that halving finds is the one that widening step by step comes to,
// bit for bit.
func TestWidenedStepByStep(t *testing.T) {
	rng := rand.New(rand.NewPCG(29, 1))
	widened := 0
	for range 3000 {
		e := Expected{ID: []string{"static", "charge", "outlet-flow", "refill", "current"}[rng.IntN(5)]}
		e.Figure.Dim, e.Figure.SI = quantity.PressureDim, math.Pow(10, 6*rng.Float64()-1)
		e.Figure.Half = e.Figure.SI * rng.Float64() * rng.Float64()
		e.Low, e.High = e.Figure.SI*(1-0.2*rng.Float64()), e.Figure.SI*(1+0.2*rng.Float64())
		switch rng.IntN(6) {
		case 0:
			e.Low = math.Inf(-1)
		case 1:
			e.High = math.Inf(1)
		}
		want := e
		step := want.Instrument() / 20
		for n := 0; n < mostSteps && want.Out(0) > falseAlarm; n++ {
			if !math.IsInf(want.Low, -1) && want.Low > 0 {
				want.Low = math.Max(0, want.Low-step)
			}
			if !math.IsInf(want.High, 1) {
				want.High += step
			}
			widened++
		}
		if e.honest(); e.Low != want.Low || e.High != want.High {
			t.Fatalf("%s %v ± %v: %v to %v, step by step %v to %v", e.ID, e.Figure.SI, e.Figure.Half, e.Low, e.High, want.Low, want.High)
		}
	}
	if widened < 3000 {
		t.Errorf("%d steps in all: the test says little", widened)
	}
}
