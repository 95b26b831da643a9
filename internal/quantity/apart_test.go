package quantity

import (
	"testing"

	"pgregory.net/rapid"
)

func TestFormatApart(t *testing.T) {
	for _, test := range []struct {
		figure, limit Quantity
		a, b          string
	}{
		{Quantity{Dim: VelocityDim, SI: 2.04, Half: 0.1}, Quantity{Dim: VelocityDim, SI: 2}, "2.04 m/s", "2.00 m/s"},
		{Quantity{Dim: VelocityDim, SI: 2.0004}, Quantity{Dim: VelocityDim, SI: 2}, "2.0004 m/s", "2.0000 m/s"},
		{Quantity{Dim: VelocityDim, SI: 2.4, Half: 0.1}, Quantity{Dim: VelocityDim, SI: 2}, "2.4 m/s", "2 m/s"},
		{Quantity{Dim: PressureDim, SI: 3e5 * (1 - 1e-9)}, Quantity{Dim: PressureDim, SI: 3e5}, "3 bar", "3 bar"},
		{Quantity{Dim: VelocityDim, SI: 2}, Quantity{Dim: VelocityDim, SI: 2}, "2 m/s", "2 m/s"},
	} {
		if a, b := FormatApart(test.figure, test.limit, Metric); a != test.a || b != test.b {
			t.Errorf("%v against %v: %q, %q, want %q, %q", test.figure.SI, test.limit.SI, a, b, test.a, test.b)
		}
	}
}

// TestNeverAlike: what differs by more than a solver leaves over, and by more than the
// finest decimal printed, never prints alike.
func TestNeverAlike(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		limit := rapid.Float64Range(0.01, 90).Draw(t, "limit")
		by := rapid.Float64Range(1e-4, 0.3).Draw(t, "by")
		half := rapid.Float64Range(0, 1).Draw(t, "half")
		figure := Quantity{Dim: VelocityDim, SI: limit * (1 + by), Half: half}
		a, b := FormatApart(figure, Quantity{Dim: VelocityDim, SI: limit}, Metric)
		if trim(a[:len(a)-4]) == trim(b[:len(b)-4]) {
			t.Fatalf("%v against %v: %q and %q", figure.SI, limit, a, b)
		}
	})
}
