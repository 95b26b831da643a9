package hydraulics

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

// TestScreenHeadPasses: the head found passes the flow asked for to within the last digits,
// from a film to a drowned mouth, in few sums of the face.
func TestScreenHeadPasses(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		bore := rapid.Float64Range(5e-3, 0.3).Draw(t, "bore")
		open := rapid.Float64Range(0.02, 10).Draw(t, "open")
		q := math.Pow(10, rapid.Float64Range(-19, -1.5).Draw(t, "log q"))
		y, err := ScreenHead("S1", bore, open, q)
		if err != nil {
			t.Fatal(err)
		}
		if got := throughScreen(bore, open, y); math.Abs(got-q) > 1e-9*q {
			t.Fatalf("bore %g, open %g: %g m passes %g, want %g", bore, open, y, got, q)
		}
	})
	sums := 0
	between(0, 0.04, func(y float64) float64 { sums++; return throughScreen(0.04, 0.4, y) - 2e-4 })
	if sums > 60 {
		t.Errorf("%d sums of the face for one head", sums)
	}
}
