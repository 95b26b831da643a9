package commission

import (
	"math"
	"testing"

	"tideover/internal/assembly"
	"tideover/internal/assume"
	"tideover/internal/catalogue"
)

// TestFirstWater: by hand, 30 m of 26 mm bore hold π/4 × 0.026² × 30 = 15.93 L, three times that is
// 47.8 L; the feed behind it does not count, and a home without such a pipe has none.
func TestFirstWater(t *testing.T) {
	a := &assembly.Assembly{Parts: []assembly.Part{
		{Kind: assembly.Run, Purpose: assembly.AsServiceRun, Row: catalogue.Pipe{Bore: 0.026}, Length: 20},
		{Kind: assembly.Run, Purpose: assembly.AsServiceRun, Row: catalogue.Pipe{Bore: 0.026}, Length: 10},
		{Kind: assembly.Run, Purpose: assembly.AsFeedRun, Row: catalogue.Pipe{Bore: 0.026}, Length: 50},
	}}
	if got := 1000 * float64(FirstWater(a, nil)); math.Abs(got-47.784) > 0.001 {
		t.Errorf("%g L, want 47.784", got)
	}
	if got := 1000 * float64(FirstWater(a, assume.Values{"first-water": 1})); math.Abs(got-15.928) > 0.001 {
		t.Errorf("once what it holds: %g L, want 15.928", got)
	}
	if got := FirstWater(&assembly.Assembly{}, nil); got != 0 {
		t.Errorf("no pipe: %g m³", got)
	}
}
