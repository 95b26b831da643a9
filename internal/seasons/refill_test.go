package seasons

import (
	"math"
	"testing"
)

// inflow solves 20 m − 1.5 m = (q/(c₀ x))² + (λ L/d + K) v²/2g for the flow at an opening x, with
// Colebrook & White's λ (1937) by plain fixed-point and bisection: nothing of the solver's.
func inflow(x, rough float64) float64 {
	const head, c0, length, bore, k, g, nu = 18.5, 1e-4, 18.0, 0.0161, 6.0, 9.80665, 1.0e-6
	low, high := 0.0, 1e-3
	for range 200 {
		q := (low + high) / 2
		v := 4 * q / (math.Pi * bore * bore)
		re, inv := v*bore/nu, 8.0
		for range 60 {
			inv = -2 * math.Log10(rough/(3.7*bore)+2.51*inv/re)
		}
		lost := q*q/(c0*c0*x*x) + (length/bore/(inv*inv)+k)*v*v/(2*g)
		if re < 2300 {
			lost = q*q/(c0*c0*x*x) + (64/re*length/bore+k)*v*v/(2*g)
		}
		if lost < head {
			low = q
		} else {
			high = q
		}
	}
	return (low + high) / 2
}

// TestRefillThroughTheTable fills the float-valve case of 0.9 m² from 0.20 m to 1.40 m, closing
// over the last 0.15 m: through the bands of a refill table it comes by the openings 1, 0.5,
// 0.2 and 0.05 at 2603.13, 2844.06, 3139.49 and 3576.30 s, worked out beforehand by integrating
// the law itself. The roughness is the one that gives the case's full flow, 0.36302 L/s.
func TestRefillThroughTheTable(t *testing.T) {
	low, high := 0.0, 1e-4
	for range 60 {
		if mid := (low + high) / 2; inflow(1, mid) > 0.36302e-3 {
			low = mid
		} else {
			high = mid
		}
	}
	for _, c := range []struct{ opening, at float64 }{{1, 2603.13}, {0.5, 2844.06}, {0.2, 3139.49}, {0.05, 3576.30}} {
		usable := 0.9 * (1.40 - 0.15*c.opening - 0.20) // up to where the valve is so far open
		levels, flows := []float64{0}, []float64{inflow(1, low)}
		for k := range 101 {
			x := 1 - (1-c.opening)*float64(k)/100
			levels, flows = append(levels, 0.9*(1.40-0.15*x-0.20)/usable), append(flows, inflow(x, low))
			if c.opening == 1 {
				break
			}
		}
		levels[len(levels)-1] = 1
		edges, row, err := Bands(levels, flows)
		if err != nil {
			t.Fatal(err)
		}
		in := &Input{Stores: []Store{{Usable: usable, Edges: edges, Fill: [][]float64{make([]float64, len(row)), row}}}}
		for h := range in.Week {
			in.Week[h] = 1
		}
		near(t, "time to the opening", in.Refill(0, 0), c.at, 0.2)
	}
}

// TestRefillByTheHour: with nothing coming for three hours of the day the time to fill is
// longer by just that; with nothing ever it never ends.
func TestRefillByTheHour(t *testing.T) {
	in := input(steady(t, 1e-6, 2), renewal{up: 1e9, down: 1, fixed: true}, tanks(100, 1000))
	in.Mains = append(in.Mains, Main{})
	in.Stores[0].Fill = append(in.Stores[0].Fill, []float64{0})
	for h := range in.Week {
		if h%24 >= 17 && h%24 < 20 {
			in.Week[h] = 2
		}
	}
	near(t, "from midnight", in.Refill(0, 0)/Hour, 10, 1e-9)
	near(t, "from noon", in.Refill(0, 12)/Hour, 13, 1e-9)
	near(t, "in the middle of it", in.Refill(0, 18)/Hour, 12, 1e-9)
	in.Week = [168]uint8{}
	if got := in.Refill(0, 5); !math.IsInf(got, 1) {
		t.Errorf("refill from a main that never comes: %g s", got)
	}
}

func TestBands(t *testing.T) {
	edges, row, err := Bands([]float64{0, 0.5, 1}, []float64{2e-4, 2e-4, 0})
	if err != nil || len(edges) != 2 || row[0] != 2e-4 {
		t.Fatalf("bands %v %v, %v", edges, row, err)
	}
	near(t, "last band", row[1], (2e-4-1e-5)/math.Log(20), 1e-12)
	for name, c := range map[string][2][]float64{
		"rises": {{0, 1}, {1e-4, 2e-4}}, "not from 0": {{0.1, 1}, {2e-4, 1e-4}}, "level falls": {{0, 0.5, 0.4, 1}, {4, 3, 2, 1}},
		"NaN": {{0, 1}, {math.NaN(), 0}}, "short": {{0}, {1}}, "minus": {{0, 1}, {1e-4, -1e-4}},
	} {
		if _, _, err := Bands(c[0], c[1]); err == nil {
			t.Errorf("%s: accepted", name)
		}
	}
}
