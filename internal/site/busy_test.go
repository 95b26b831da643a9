package site

import (
	"math"
	"testing"

	"tideover/internal/assume"
	"tideover/internal/demo"
	"tideover/internal/job"
	"tideover/internal/quantity"
)

const lpm = quantity.Flow(1. / 60000)

// quiet is Kestrel Rise by its flow test: 3.2 bar at rest, 2.9 at 9 L/min, 2.1 at 20. In bar and L/min
// b = 0.00196970 and a = 0.01560606.
func quiet(t *testing.T) *job.Job {
	t.Helper()
	j := demo.Job(t, "kestrel-rise")
	s := &j.Supply
	s.Static.V, s.LowFlow.V, s.LowRes.V, s.HighFlow.V, s.HighRes.V = 3.2e5, 9*lpm, 2.9e5, 20*lpm, 2.1e5
	s.PeakRes.V, s.PeakFlow.V = 0.8e5, 0
	return j
}

// TestBusyByHand: what 9 L/min cost while neighbours draw. With all of the sag in the street they draw
// Q where a Q + b Q² is what the rest has fallen by: 31.17 L/min at 0.8 bar, 21.04 at 2.0, and 9
// L/min cost 2 b Q·9 more than the 0.30 bar of a quiet hour: 1.105 and 0.746 bar. In one's own pipe
// they cost nothing more.
func TestBusyByHand(t *testing.T) {
	j := quiet(t)
	for _, x := range []struct{ shared, rest, want float64 }{
		{0, 3.2, 0.30}, {1, 3.2, 0.30}, {1, 4.1, 0.30},
		{0, 0.8, 0.30}, {0.5, 0.8, 0.30 + 1.1051/2}, {1, 0.8, 0.30 + 1.1051},
		{0, 2.0, 0.30}, {1, 2.0, 0.30 + 0.7460},
	} {
		j.Assumed = assume.Values{assume.StreetSag.Key: x.shared}
		got := SagOf(j).Drop(9*lpm, quantity.Pressure(x.rest*1e5))
		near(t, "9 L/min", float64(got)/1e5, x.want, 2e-4)
	}
}

// TestBusyRead: two readings in the worst hours tell what a litre costs then, whatever is taken
// where nobody read it: 0.8 bar with every tap shut and 0.1 with 6 L/min are 0.7 bar, and the law
// goes through them. At half the fall of the rest the growth is less by the root of a half.
func TestBusyRead(t *testing.T) {
	j := quiet(t)
	s := &j.Supply
	s.PeakRes.Basis = quantity.Stated
	s.PeakOpenFlow.V, s.PeakOpenRes.V = 6*lpm, 0.1e5
	quietly := 0.01560606*6 + 0.0019697*36
	for _, shared := range []float64{0, 1} {
		j.Assumed = assume.Values{assume.StreetSag.Key: shared}
		near(t, "as read", float64(SagOf(j).Drop(6*lpm, 0.8e5))/1e5, 0.7, 1e-4)
		near(t, "half way", float64(SagOf(j).Drop(6*lpm, 2e5))/1e5, quietly+(0.7-quietly)*math.Sqrt(0.5), 1e-4)
		near(t, "as in the test", float64(SagOf(j).Drop(6*lpm, 3.2e5))/1e5, quietly, 1e-4)
	}
	s.PeakOpenRes.V = 0.75e5 // less than in a quiet hour: no steeper, at the least
	near(t, "flatter", float64(SagOf(j).Drop(6*lpm, 0.8e5))/1e5, quietly, 1e-4)

	// Without a flow test the evening alone tells.
	s.LowFlow.V, s.HighFlow.V, s.PeakOpenRes.V = 0, 0, 0.1e5
	near(t, "no test", float64(SagOf(j).Drop(6*lpm, 0.8e5))/1e5, 0.7, 1e-3)
}

// TestBusyRest: a reading with water running is brought to rest by the law under that rest itself.
func TestBusyRest(t *testing.T) {
	j := quiet(t)
	for shared := 0.0; shared <= 1; shared += 0.25 {
		for read := -0.5; read < 3; read += 0.25 {
			for q := quantity.Flow(0); q < 20; q += 4 {
				j.Assumed = assume.Values{assume.StreetSag.Key: shared}
				sag, p := SagOf(j), quantity.Pressure(read*1e5)
				rest := sag.Rest(p, q*lpm)
				near(t, "read again", float64(rest-sag.Drop(q*lpm, rest)), float64(p), 0.01)
			}
		}
	}
}

// TestBusyGrows: the less the main presses and the more is shared, the more a flow costs; and the
// opening of the law says the same within 0 and 1.
func TestBusyGrows(t *testing.T) {
	j := quiet(t)
	for shared := 0.0; shared <= 1; shared += 0.25 {
		last := -1.0
		for rest := 4.0; rest > -1; rest -= 0.125 {
			j.Assumed = assume.Values{assume.StreetSag.Key: shared}
			w, err := SagOf(j).Steeper()
			if err != nil {
				t.Fatal(err)
			}
			p := quantity.Pressure(rest * 1e5)
			at, x := w.At(p), w.Opening(p)
			if at < last || !(x >= 0 && x <= 1) {
				t.Fatalf("shared %g, rest %g: %g after %g, opening %g", shared, rest, at, last, x)
			}
			near(t, "opening", (1-x)*w.Most(), at, 1e-6*w.Most()+1e-12)
			last = at
		}
	}
}
