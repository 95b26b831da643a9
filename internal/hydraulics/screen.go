package hydraulics

import "math"

// screenSlices is how finely the wetted face of a screen is summed.
const screenSlices = 200

// screenMiddles holds sin² and the weight sin² cos² of the middle of each slice.
var screenMiddles = func() (m [screenSlices]struct{ sin2, weight float64 }) {
	for k := range m {
		s, c := math.Sincos((float64(k) + 0.5) / screenSlices * math.Pi / 2)
		m[k].sin2, m[k].weight = s*s, s*s*c*c
	}
	return m
}()

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
	y := bore / 8
	for range 40 {
		got, rise := throughScreen(bore, open, y)
		by := math.Exp(math.Log(q/got) * got / (rise * y)) // as far as a power law would go
		if y *= by; math.Abs(by-1) <= 4e-15 {
			break
		}
	}
	return y, nil
}

// throughScreen sums the flow through the wetted face by the midpoint rule, z = top sin²,
// which takes the roots out of both ends, and how it rises with y. Over the logarithms of both
// it is nearly straight, from a film (q ~ y²) to a drowned mouth (q ~ √y), so that a Newton step
// taken there comes in a few to the last digits.
func throughScreen(bore, open, y float64) (q, rise float64) {
	top, wide := math.Min(y, bore), math.Max(y, bore)
	sum, slope := 0.0, 0.0
	for _, m := range screenMiddles {
		root := math.Sqrt(wide - top*m.sin2)
		sum += m.weight * root
		if y < bore {
			slope -= m.weight * m.sin2 / root
		} else {
			slope += m.weight / root
		}
	}
	scale := 0.62 * open * 4 * math.Sqrt(2*Gravity) * math.Pi / 2 / screenSlices * top * top
	if y < bore {
		return scale * sum, scale * (2*sum/y + slope/2)
	}
	return scale * sum, scale * slope / 2
}
