package hydraulics

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

// TestScreenHeadPasses: the head found passes the flow asked for to within the last digits,
// from a film to a drowned mouth.
func TestScreenHeadPasses(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		bore := rapid.Float64Range(5e-3, 0.3).Draw(t, "bore")
		open := rapid.Float64Range(0.02, 10).Draw(t, "open")
		q := math.Pow(10, rapid.Float64Range(-19, -1.5).Draw(t, "log q"))
		y, err := ScreenHead("S1", bore, open, q)
		if err != nil {
			t.Fatal(err)
		}
		if got := plainScreen(bore, open, y); math.Abs(got-q) > 1e-9*q {
			t.Fatalf("bore %g, open %g: %g m passes %g, want %g", bore, open, y, got, q)
		}
	})
}

// plainScreen sums w(z) √(2 g (y − z)) over the wetted face as it is written, with z = top sin².
func plainScreen(bore, open, y float64) float64 {
	top, sum := math.Min(y, bore), 0.0
	for k := range screenSlices {
		s, c := math.Sincos((float64(k) + 0.5) / screenSlices * math.Pi / 2)
		z := top * s * s
		sum += 2 * math.Sqrt(z*(bore-z)*2*Gravity*(y-z)) * 2 * top * s * c
	}
	return 0.62 * open * sum * math.Pi / 2 / screenSlices
}

// TestScreenRises: the slope that is summed with the flow is that of the flow.
func TestScreenRises(t *testing.T) {
	for _, y := range []float64{1e-4, 0.01, 0.039, 0.041, 0.3} {
		const by = 1e-6
		more, _ := throughScreen(0.04, 0.4, y*(1+by))
		less, _ := throughScreen(0.04, 0.4, y*(1-by))
		if _, rise := throughScreen(0.04, 0.4, y); math.Abs((more-less)/(2*by*y)/rise-1) > 1e-5 {
			t.Errorf("at %g m it rises by %g, want %g", y, rise, (more-less)/(2*by*y))
		}
	}
}
