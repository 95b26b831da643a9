package quantity

import (
	"math"
	"testing"
)

// TestStanding: either way alike, the bound itself stands, what is no number does not move;
// and the table rises, each for its own question.
func TestStanding(t *testing.T) {
	for q, want := range map[Flow]bool{0: false, 1e-9: false, -1e-9: false, 1.1e-9: true, -1.1e-9: true, 1: true, Flow(math.NaN()): false} {
		if q.Moves() != want {
			t.Errorf("%g m³/s moves: %v", float64(q), q.Moves())
		}
	}
	if !(Standing < VesselAgain && VesselAgain < Unfelt) {
		t.Error("the table does not rise")
	}
}
