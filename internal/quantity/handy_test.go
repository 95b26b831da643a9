package quantity

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

// What is written is read back, within half a step, in the reader's own units. The steps are
// worked out by hand: 1 psi = 6894.757 Pa, 1 ft = 0.3048 m.
func TestHandy(t *testing.T) {
	for _, x := range []struct {
		dim  Dim
		si   float64
		sys  System
		want string
	}{
		{PressureDim, 1.2e5, Metric, "1.2 bar"}, {PressureDim, 1.2e5, US, "17 psi"},
		{LengthDim, 0.068, Metric, "68 mm"}, {LengthDim, 0.068, US, "2.75 in"},
		{LengthDim, 9.46, Metric, "9.5 m"}, {LengthDim, 9.46, US, "31 ft"},
	} {
		if got := Handy(x.dim, x.si, x.sys); got != x.want {
			t.Errorf("%g: %q, want %q", x.si, got, x.want)
		}
	}
	rapid.Check(t, func(t *rapid.T) {
		sys := rapid.SampledFrom([]System{Metric, US}).Draw(t, "system")
		dim, step := PressureDim, 6894.76
		si := rapid.Float64Range(1e4, 2e6).Draw(t, "pressure")
		if rapid.Bool().Draw(t, "length") {
			dim, step, si = LengthDim, 0.1524, rapid.Float64Range(0.02, 60).Draw(t, "length in m")
		}
		text := Handy(dim, si, sys)
		back, err := Parse(text, dim, sys)
		if err != nil || math.Abs(back.SI-si) > 0.51*step || back.Basis != Stated {
			t.Fatalf("%g is written %q and read as %v (%v)", si, text, back, err)
		}
	})
}
