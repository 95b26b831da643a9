package hydraulics

import "math"

// screenSlices is how finely the wetted face of a screen is summed.
const screenSlices = 200

// screenMiddles holds sin² and sin · cos at the middle of each slice.
var screenMiddles = func() (m [screenSlices]struct{ sin2, sinCos float64 }) {
	for k := range m {
		s, c := math.Sincos((float64(k) + 0.5) / screenSlices * math.Pi / 2)
		m[k].sin2, m[k].sinCos = s*s, s*c
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
	hi := bore
	for throughScreen(bore, open, hi) < q {
		hi *= 2
	}
	return between(0, hi, func(y float64) float64 { return throughScreen(bore, open, y) - q }), nil
}

// between returns where a function that rises strictly from below nought at lo to nought or
// above at hi crosses it, to 1e-14 of it: false position, with the end that stays halved in
// its pull (the Illinois form; Dowell & Jarratt 1971, "A modified regula falsi method", BIT 11),
// and a halving wherever that left more than half of the interval.
func between(lo, hi float64, f func(float64) float64) float64 {
	below, above := f(lo), f(hi)
	stayed := 0 // −1 the lower end did, 1 the upper
	step := func(at float64) {
		if v := f(at); v < 0 {
			if lo, below = at, v; stayed == 1 {
				above /= 2
			}
			stayed = 1
		} else {
			if hi, above = at, v; stayed == -1 {
				below /= 2
			}
			stayed = -1
		}
	}
	for range 100 {
		width := hi - lo
		if width <= 1e-14*hi || above == 0 {
			break
		}
		if at := hi - above*width/(above-below); at > lo && at < hi {
			step(at)
		}
		if middle := (lo + hi) / 2; hi-lo > width/2 && middle > lo && middle < hi {
			step(middle)
		}
	}
	return hi
}

// throughScreen sums the flow through the wetted face by the midpoint rule, z = top sin²,
// which takes the roots out of both ends.
func throughScreen(bore, open, y float64) float64 {
	top := math.Min(y, bore)
	sum := 0.0
	for _, m := range screenMiddles {
		z := top * m.sin2
		sum += 2 * math.Sqrt(z*math.Max(bore-z, 0)*2*Gravity*math.Max(y-z, 0)) * 2 * top * m.sinCos
	}
	return 0.62 * open * sum * math.Pi / 2 / screenSlices
}
