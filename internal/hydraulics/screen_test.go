package hydraulics

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

// Deeply drowned, a screen is an orifice under the head over its middle; brimful, the sum
// over a circle under its own top is (16/15)·… of no closed form, so a fine plain sum
// worked apart serves: 2√(z(D−z))·√(2g(D−z)) dz = 2√(2g)√z (D−z) dz, which has one:
// 2√(2g) (2/3 − 2/5) D^(5/2).
func TestScreenHead(t *testing.T) {
	const bore, open = 0.05, 0.3
	deep := 0.62 * open * math.Pi / 4 * bore * bore * math.Sqrt(2*Gravity*(1-bore/2))
	if y, err := ScreenHead("S1", bore, open, deep); err != nil || math.Abs(y-1) > 2e-4 {
		t.Errorf("drowned: stands at %g m, %v; want 1 m", y, err)
	}
	brim := 0.62 * open * 2 * math.Sqrt(2*Gravity) * (2./3 - 2./5) * math.Pow(bore, 2.5)
	if y, err := ScreenHead("S1", bore, open, brim); err != nil || math.Abs(y-bore) > 2e-6 {
		t.Errorf("brimful: stands at %g m, %v; want %g m", y, err, bore)
	}
	if y, err := ScreenHead("S1", bore, open, 0); y != 0 || err != nil {
		t.Errorf("nothing runs: %g, %v", y, err)
	}
	for _, bad := range [][3]float64{{0, 0.3, 1e-4}, {0.05, 0, 1e-4}, {0.05, 0.3, -1}, {0.05, 0.3, math.NaN()}} {
		if _, err := ScreenHead("S1", bad[0], bad[1], bad[2]); err == nil {
			t.Errorf("%v is taken", bad)
		}
	}
}

// More water, or less screen, stands higher.
func TestScreenHeadRises(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		bore := rapid.Float64Range(0.01, 0.2).Draw(r, "bore")
		open := rapid.Float64Range(0.05, 0.9).Draw(r, "open")
		q := rapid.Float64Range(1e-6, 5e-3).Draw(r, "q")
		y, _ := ScreenHead("S1", bore, open, q)
		more, _ := ScreenHead("S1", bore, open, q*1.01)
		less, _ := ScreenHead("S1", bore, open*0.99, q)
		if !(more > y && less > y) {
			r.Fatalf("bore %g, open %g, %g m³/s: %g, with more water %g, with less screen %g", bore, open, q, y, more, less)
		}
	})
}
