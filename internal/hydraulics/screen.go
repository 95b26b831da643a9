package hydraulics

import "math"

// screenSlices is how finely the wetted face of a screen is summed.
const screenSlices = 200

// ScreenHead is how high over the bottom of a round bore the water must stand behind a
// flat screen at its open end to push q [m³/s] through it [m].
//
//	q = C f ∫ w(z) √(2 g (y − z)) dz,  z from 0 to min(y, D),  w(z) = 2 √(z (D − z))
//
// bore D [m], open f the screen's free area as a share of the bore's (over 1 for a screen in a
// housing wider than the pipe), C = 0.62. Every opening
// passes what the water over it drives (Torricelli), so a film needs hardly any head and a
// drowned mouth tends to C f A √(2 g (y − D/2)). Rises strictly with q; 0 at none.
// Source: Torricelli's law over the wetted face; C of sharp holes (Weisbach 1855).
func ScreenHead(part string, bore, open, q float64) (float64, error) {
	g := guard{part: part}
	g.want("bore", bore, bore >= 5e-3 && bore <= 1, "0.005 to 1 m")
	g.want("free share of the screen", open, open > 0.01 && open <= 10, "above 0.01 and to 10")
	g.want("flow", q, q >= 0 && q <= 1, "0 to 1 m³/s")
	if err := g.fail(); err != nil || q == 0 {
		return 0, err
	}
	lo, hi := 0.0, bore
	for throughScreen(bore, open, hi) < q {
		hi *= 2
	}
	for range 100 {
		mid := (lo + hi) / 2
		if throughScreen(bore, open, mid) < q {
			lo = mid
		} else {
			hi = mid
		}
	}
	return hi, nil
}

// throughScreen sums the flow through the wetted face by the midpoint rule, z = top sin²,
// which takes the roots out of both ends.
func throughScreen(bore, open, y float64) float64 {
	top := math.Min(y, bore)
	sum := 0.0
	for k := range screenSlices {
		a := (float64(k) + 0.5) / screenSlices * math.Pi / 2
		s, c := math.Sincos(a)
		z := top * s * s
		sum += 2 * math.Sqrt(z*math.Max(bore-z, 0)) * math.Sqrt(2*Gravity*math.Max(y-z, 0)) * 2 * top * s * c
	}
	return 0.62 * open * sum * math.Pi / 2 / screenSlices
}
